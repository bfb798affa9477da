"""A detent: free up to it, past its bumps by what is reckoned, and no part of the hold."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, cast

import pytest

from scadgen import HingeError, RodLoops, SideCones, check, emit
from scadgen.hinge.kinds.detent import Clicking
from scadgen.hinge.meshing import mesh
from scadgen.mechanism.detent import Detent, Spring, gives_way
from scadgen.mechanism.turn import Turn
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material

LYING: tuple[type[Clicking], ...] = (RodLoops, SideCones)
lying = pytest.mark.parametrize("cls", LYING, ids=lambda cls: cls.family)
GIVEN: dict[str, Any] = {"leaf_length": 25, "facets": 32, "swing": 120}
CLICK = 85.0
#: Facets, and how closely ways are found, mm.
NEAR = 0.01


def clicking(cls: type[Clicking], **more: float) -> Clicking:
    return cls(**(GIVEN | {"detent_at": CLICK} | more))


def detent(hinge: Clicking) -> Detent:
    (turn,) = hinge.mechanism().joints
    found = cast(Turn, turn).detent
    assert found is not None
    return found


@lying
def test_a_lid_that_clicks_is_proven_and_says_how(cls: type[Clicking]) -> None:
    proof = check(clicking(cls))
    assert proof.proven
    told = [found.name for found in proof.findings if found.name.startswith("detent")]
    assert told == [
        f"detent {end} {what}"
        for end in (1, 2)
        for what in ("clear", "free", "at 85 deg", "passes")
    ] + ["detent on the rough fleet"]


@lying
def test_without_one_nothing_of_the_solids_changes(cls: type[Clicking]) -> None:
    plain = cls(facets=32)
    for part in ("both", "fixed_relief", "moving_relief"):
        other = cls(facets=32, detent_height=3, detent_arm=40, detent_thickness=2)
        assert mesh(plain, part).volume() == mesh(other, part).volume()
    assert cast(Turn, plain.mechanism().joints[0]).detent is None


@lying
def test_noses_are_bent_at_the_bumps_and_straight_elsewhere(cls: type[Clicking]) -> None:
    hinge = clicking(cls)
    found, axis = detent(hinge), cast(Turn, hinge.mechanism().joints[0]).about
    for spring in found.springs:
        bumps, nose = spring.bumps(), spring.nose()

        def way(angle: float) -> float:
            there = axis.turn(nose, angle)  # noqa: B023 - called at once
            return gives_way(bumps, there, spring.way, 5)  # noqa: B023

        for side in (-1, 1):
            assert way(CLICK + side * found.step) == pytest.approx(found.way, abs=NEAR)
        for angle in (0, CLICK - 2 * found.step - 1, CLICK + 2 * found.step + 1):
            assert way(angle) < NEAR
        assert way(CLICK) < NEAR
    fixed, moving = (mesh(hinge, side, 0.0) for side in ("fixed", "moving"))
    assert (fixed ^ axis.turn(moving, CLICK + found.step)).volume() > 1
    assert (found.without_bumps(fixed) ^ axis.turn(moving, CLICK + found.step)).volume() < 1e-3


def test_a_way_that_is_not_the_reckoned_one_fails() -> None:
    hinge = clicking(SideCones)
    whole = hinge.mechanism()
    turn = cast(Turn, whole.joints[0])
    found, moving = detent(hinge), whole.body("moving").solid

    def failed(other: Detent) -> set[str]:
        findings = other.found(moving, turn.about, turn.asked, 0.299)
        return {each.name.split(maxsplit=2)[2] for each in findings if not each.passed}

    assert not failed(found)
    assert failed(replace(found, way=found.way + 0.2)) == {"passes"}
    assert "at 80 deg" in failed(replace(found, at=(80,)))
    far = (30.0, 0.0, 0.0)
    gone = tuple(
        Spring(lambda one=one: one.bumps().translate(far), one.nose, one.way, one.room)  # type: ignore[misc]
        for one in found.springs
    )
    assert {"free", "at 85 deg", "passes"} <= failed(replace(found, springs=gone))


def test_a_lid_may_click_open_and_shut() -> None:
    hinge = clicking(SideCones, detent_also=180, swing=180)
    proof = check(hinge)
    assert proof.proven
    names = {found.name for found in proof.findings}
    assert {"detent 1 at 85 deg", "detent 1 at 180 deg"} <= names
    assert hinge.stop_words().endswith("a detent clicks at 85 and 180 deg")


def test_bumps_hold_nothing_together() -> None:
    hinge = clicking(SideCones)
    whole = hinge.mechanism()
    turn = cast(Turn, whole.joints[0])
    fixed = mesh(hinge, "fixed", 0.0)
    bare = mesh(SideCones(**GIVEN), "fixed", 0.0)
    assert turn.stiff(fixed, whole).volume() == pytest.approx(bare.volume(), rel=1e-4)
    assert turn.stiff(fixed, whole).volume() < fixed.volume() - 1


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"detent_at": 20}, "its noses print too near a bump"),
        ({"detent_at": 150}, "it clicks beyond its swing"),
        ({"detent_also": 100}, "its two clicks are too near each other"),
        ({"detent_also": 150}, "it clicks beyond its swing, or a second time and no first"),
        ({"detent_also": 100, "detent_at": 0}, "or a second time and no first"),
        ({"detent_height": 0.9}, "a nose passes its bumps when a link lies at one end of its play"),
        ({"detent_height": 2.3, "detent_at": 120}, "two bumps have no room on the end of"),
        ({"detent_thickness": 0.9}, "an arm is too thin to print solid"),
        ({"leaf_length": 12}, "the arms of its detent have no leaf to stand on"),
        ({"detent_arm": 6.5, "detent_thickness": 1.4}, "an arm ends before its leaf begins"),
    ],
)
def test_what_cannot_click_is_refused(values: dict[str, float], words: str) -> None:
    with pytest.raises(HingeError, match=words):
        clicking(SideCones, **values)
    assert words in emit(SideCones())


def test_a_longer_arm_is_strained_less_and_asks_less_of_the_hand() -> None:
    petg, duty, moment = material("petg"), Duty(), "moment that a detent asks to pass (N mm)"
    short, long = clicking(SideCones), clicking(SideCones, detent_arm=36, leaf_length=40)
    name = "arm of the detent as it clicks"
    strains = [
        next(float(s.actual) for s in hinge.strengths(duty, petg) if s.name == name)
        for hinge in (short, long)
    ]
    assert strains[1] == pytest.approx(strains[0] * (24 / 36) ** 2)
    assert long.efforts(petg)[moment] < short.efforts(petg)[moment]
    for hinge in (short, long):
        held, asked = hinge.moments(petg)
        assert 0 < held < asked == hinge.efforts(petg)[moment]
        (told,) = detent(hinge).felt(petg)
        assert f"{held:.3g} to {asked:.3g} N mm" in told.words
    assert not list(detent(short).felt(None))
    assert moment not in SideCones().efforts(petg)
    assert name not in {s.name for s in SideCones().strengths(duty, petg)}


def test_what_sizing_leaves_alone_is_not_said_to_be_sized() -> None:
    hinge = SideCones(swing=180, detent_at=85, detent_also=180, leaf_length=26, facets=16)
    found = check(hinge, population=None, duty=Duty(1, 20, 1), plastic=material("petg"))
    (bent,) = (one for one in found.findings if one.name == "arm of the detent as it clicks")
    assert not bent.passed
    assert bent.change == "a longer arm of the detent."
