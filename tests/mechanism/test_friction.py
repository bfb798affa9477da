"""Friction by arms that are held bent: a lid that stays at any angle of a ridge."""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import replace
from typing import Any, cast

import pytest
from manifold3d import Manifold

from scadgen import HingeError, RodLoops, SideCones
from scadgen.findings import on_detent
from scadgen.findings.on_detent import RELAXES
from scadgen.hinge.family import definition, numbers
from scadgen.mechanism.detent import Detent, Spring, gives_way, ridden
from scadgen.mechanism.turn import Turn
from scadgen.proof.fleet.printer import Printer
from scadgen.proof.fleet.room_left import GRIPPED, margins
from scadgen.strength import catch
from scadgen.strength.duty import Duty
from scadgen.strength.lasting import modulus_left
from scadgen.strength.life import one_bend
from scadgen.strength.materials import material

GIVEN: dict[str, Any] = {"leaf_length": 34, "facets": 32, "swing": 150, "detent_arm": 32}
FROM, TO = 60.0, 130.0
PETG = material("petg")


def rubbing(cls: type[SideCones] | type[RodLoops] = SideCones, **more: Any) -> Any:
    return cls(**(GIVEN | {"detent_at": FROM, "detent_to": TO} | more))


@functools.cache
def found() -> tuple[Turn, Detent]:
    (turn,) = rubbing().mechanism().joints
    detent = cast(Turn, turn).detent
    assert detent is not None
    return cast(Turn, turn), detent


def rides(change: Callable[[Manifold], Manifold], **other: Any) -> bool:
    """Whether it is found to ride a ridge that was changed."""
    turn, detent = found()
    one, detent = detent.springs[0], replace(detent, **other)
    spring = Spring(lambda: change(one.bumps()), one.nose, one.way, one.room)
    return on_detent.rides(1, *ridden(spring, turn.about, detent), detent).passed


def test_it_says_what_is_left_after_so_long() -> None:
    """That such a lid is proven whole, and says so, the guide to closing shows."""
    _, detent = found()
    (told,) = detent.felt(PETG, Duty(hours=100))
    assert "held bent for 100 h at 23 deg C" in told.words
    assert "wear is not reckoned" in told.words
    assert rubbing().stop_words().endswith("; friction holds it from 60 to 130 deg")


def test_without_a_time_its_staying_power_is_left_open() -> None:
    _, detent = found()
    for plastic, duty in ((None, None), (PETG, None), (PETG, Duty()), (None, Duty(hours=10))):
        (told,) = detent.felt(plastic, duty)
        assert told.passed
        assert told.leaves_open == RELAXES
    (told,) = detent.felt(PETG, Duty(hours=1))
    assert not told.leaves_open
    unknown = Duty(hours=90_000, celsius=60)
    assert modulus_left(PETG, unknown) == 0
    (told,) = detent.felt(PETG, unknown)
    assert told.leaves_open == RELAXES


def test_its_arms_are_straight_as_it_prints_and_bent_alike_all_along_the_ridge() -> None:
    turn, detent = found()
    for spring in detent.springs:
        nose, bumps = spring.nose(), spring.bumps()
        assert bumps.min_gap(nose, 2) > 0.3
        least, most = ridden(spring, turn.about, detent)
        assert least == pytest.approx(detent.way, abs=0.01)
        assert most == pytest.approx(detent.way, abs=0.01)
        for angle, way in ((FROM - detent.step - 1, 0), (83.3, most), (TO + detent.step + 1, 0)):
            there = turn.about.turn(nose, angle)
            assert gives_way(bumps, there, spring.way, 3) == pytest.approx(way, abs=0.01)


def test_a_notch_that_is_narrower_than_a_look_and_a_ridge_that_is_too_high_fail() -> None:
    assert rides(lambda bumps: bumps)

    def notched(bumps: Manifold) -> Manifold:
        # A saw cut across the ridge, hardly wider than a blunt end.
        low, high = bumps.bounding_box()[:3], bumps.bounding_box()[3:]
        middle = [(a + b) / 2 for a, b in zip(low, high, strict=True)]
        return bumps - Manifold.cube((9, 1.2, 9), True).translate(middle)

    def higher(bumps: Manifold) -> Manifold:
        return bumps + bumps.translate((0.1, 0, 0))

    assert not rides(notched)
    assert not rides(higher)
    assert not rides(lambda bumps: bumps, to=TO + 25)


def test_moments_are_those_of_sliding_on_a_flat_and_fall_as_the_modulus_does() -> None:
    hinge, clicks = rubbing(), rubbing(detent_at=70, detent_to=0)
    held, asked = hinge.moments(PETG)
    click_held, click_asked = clicks.moments(PETG)
    # On a flat the force aside counts mu times; on 45 degrees (mu + 1)/(1 - mu) times.
    low, high = catch.LEAST_FRICTION, catch.MOST_FRICTION
    assert (low, high) == (0.2, 0.6)
    assert held / click_held == pytest.approx(low * (1 - low) / (1 + low))
    assert asked / click_asked == pytest.approx(high * (1 - high) / (1 + high))
    duty = Duty(hours=100)
    (told,) = found()[1].felt(PETG, duty)
    assert f"{held * modulus_left(PETG, duty):.3g} N mm or more are left" in told.words


def test_what_is_held_bent_bears_a_fifth_of_yield_however_seldom_it_moves() -> None:
    def arm(hinge: Any, cycles: float) -> Any:
        told = hinge.strengths(Duty(cycles=cycles), PETG)
        return next(one for one in told if one.name.startswith("arm of the detent"))

    held, clicks = arm(rubbing(), 1), arm(rubbing(detent_at=70, detent_to=0), 1)
    assert held.name == "arm of the detent held bent"
    assert held.actual == pytest.approx(clicks.actual)
    assert PETG.yield_strain is not None
    assert held.permissible == pytest.approx(0.2 * PETG.yield_strain.low)
    assert clicks.permissible == pytest.approx(one_bend(PETG))


def test_a_printer_must_leave_half_of_what_presses() -> None:
    hinge = rubbing()
    lift = float(hinge.detent_way)
    for growth in (-0.3, 0.0, 0.1):
        printer = Printer(growth=growth, layer=0.2)
        told = {m.cause: m for m in margins(definition(SideCones), numbers(hinge), printer)}
        left = float(told["the detent: a nose passes unfelt"].values)
        assert left == pytest.approx(lift + 2 * growth - GRIPPED * lift)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"detent_to": 70}, "friction holds it on no way"),
        ({"detent_to": 160}, "friction holds it beyond its swing"),
        ({"detent_at": 0}, "friction holds it beyond its swing, or from no turn on"),
        (
            {"detent_also": 140},
            "it clicks beyond its swing, or a second time and no first, or",
        ),
        ({"detent_at": 20}, "its noses print too near a bump"),
    ],
)
def test_what_cannot_rub_is_refused(values: dict[str, Any], words: str) -> None:
    with pytest.raises(HingeError, match=words):
        rubbing(**values)


def test_loops_rub_too() -> None:
    (turn,) = rubbing(RodLoops).mechanism().joints
    detent = cast(Turn, turn).detent
    assert detent is not None
    ways = ridden(detent.springs[0], cast(Turn, turn).about, detent)
    assert ways == pytest.approx((detent.way, detent.way), abs=0.01)
