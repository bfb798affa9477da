"""Standing hinges print at any turn of their swing, and what is told of them stays as it was."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
import pytest

from scadgen import CaptiveCone, FacingCones, HingeError, NestedCones, WaistedSpindle, check
from scadgen.findings.finding import Finding
from scadgen.hinge.kinds.upright import UprightPivot
from scadgen.hinge.meshing import mesh
from scadgen.motion.axis import Axis
from scadgen.motion.swing import swing
from scadgen.product.building import mechanism
from scadgen.product.proving import check_product
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material
from scadgen.tables.documents import JobError
from tests.product.support import wallet

STANDING: tuple[type[UprightPivot], ...] = (CaptiveCone, FacingCones, NestedCones, WaistedSpindle)
standing = pytest.mark.parametrize("cls", STANDING, ids=lambda cls: cls.family)
THIN: dict[str, Any] = {"leaf_thickness": 2.4, "facets": 16}
Z = Axis((0, 0, 0), (0, 0, 1))
#: Rounding of meshes, mm and mm3; of a stop, degrees.
NEAR, NOTHING, CLOSELY = 1e-4, 1e-6, 0.03


@cache
def findings(printed_at: float) -> dict[str, Finding]:
    sides = {"leaf_thickness": 2.8, "leaf_length": 16, "facets": 16}
    hinge = CaptiveCone(setback=2, swing=160, stop_at=180, screw=1, printed_at=printed_at, **sides)
    verdict = check(hinge)
    assert verdict.proven
    return {found.name: found for found in verdict.findings}


def test_swing_and_stop_are_told_from_flat_however_it_prints() -> None:
    flat, half = findings(0), findings(150)
    assert flat.keys() == half.keys()
    for name in ("swing", "stop", "gap on the way"):
        assert half[name].words == flat[name].words
    assert half["screw holes"].passed
    assert half["fixed relief"].passed
    assert half["moving relief"].passed


@standing
def test_the_solids_are_those_that_print_flat_turned(
    cls: type[UprightPivot],
) -> None:
    flat, half = (cls(setback=2, swing=180, printed_at=at, **THIN) for at in (0, 140))
    turned = Z.turn(mesh(flat, "moving", 0), 140)
    there = mesh(half, "moving", 0)
    assert ((turned - there) + (there - turned)).volume() < NOTHING
    same = mesh(half, "fixed", 0) ^ mesh(flat, "fixed", 0)
    assert same.volume() == pytest.approx(mesh(flat, "fixed", 0).volume())
    (joint,) = half.mechanism().joints
    assert (joint.asked, joint.asked_told) == ((-140, 40), (0, 180))
    found = swing(mesh(half, "fixed", 0), there, Z)
    whole = swing(mesh(flat, "fixed", 0), mesh(flat, "moving", 0), Z)
    assert found.high + 140 == pytest.approx(whole.high, abs=CLOSELY)
    (drawn,) = half.drawn_flat().joints
    assert (drawn.asked, drawn.printed_at) == ((0, 180), 0)


@standing
@pytest.mark.parametrize(
    ("setback", "at"), [(0, 30), (0, 100), (0.8, 140), (2, 170), (9, 120), (9, 175), (40, 175)]
)
def test_room_and_gap_as_it_prints_are_those_of_its_solids(
    cls: type[UprightPivot], setback: float, at: float
) -> None:
    made = cls(setback=setback, swing=at, printed_at=at, **THIN)
    low, high = np.array(mesh(made, angle=0).bounding_box()).reshape(2, 3)
    assert made.extents() == pytest.approx(tuple(high - low), abs=0.05)
    bearing = Z.cylinder(made.reach - NEAR, -1, made.leaf_width + 1, 64)
    fixed, moving = (mesh(made, side, 0) - bearing for side in ("fixed", "moving"))
    assert made.leaf_way <= fixed.min_gap(moving, 2 * made.leaf_end) + NEAR
    assert made.leaf_way >= made.clearance


def test_the_way_to_the_stop_is_that_of_its_solids() -> None:
    for stop, at in ((180, 170), (120, 90), (95, 0)):
        made = CaptiveCone(setback=9, swing=stop, stop_at=stop, printed_at=at, **THIN)
        bearing = Z.cylinder(made.reach - NEAR, -1, made.leaf_width + 1, 64)
        fixed, moving = (mesh(made, side, 0) - bearing for side in ("both", "moving"))
        assert made.stop_way <= (fixed - moving).min_gap(moving, 50) + NEAR


@pytest.mark.parametrize(
    ("values", "why"),
    [
        ({"swing": 90, "printed_at": 95}, "prints further than it turns"),
        (
            {"swing": 156, "printed_at": 156, "clearance": 0.2, "layer": 0.2},
            "leaves join where a first layer spreads",
        ),
        ({"setback": 2, "swing": 180, "stop_at": 180, "printed_at": 178}, "its stop joined"),
        ({"swing": 90, "printed_at": 60, "angle": 40}, "drawn further than it turns"),
    ],
)
def test_what_joins_or_is_no_turn_of_it_is_refused(values: dict[str, Any], why: str) -> None:
    with pytest.raises(HingeError, match=why):
        CaptiveCone(**values, **THIN)


def test_strength_is_that_of_the_hinge_that_prints_flat() -> None:
    plastic, duty = material("petg"), Duty(pull_lever=20)
    one, other = (
        [(each.name, float(each.actual)) for each in made.strengths(duty, plastic)]
        for made in (WaistedSpindle(**THIN), WaistedSpindle(printed_at=60, **THIN))
    )
    assert one == other


def test_a_product_prints_half_shut_stays_open_at_its_heel_and_closes() -> None:
    proven = check_product(wallet(printed_at=170, opens_to=95))
    told = {found.name: found for found in proven.verdict.findings}
    assert proven.verdict.proven
    assert "85 to 180 deg are asked" in told["swing"].words
    for name in ("shut at 180 deg", "stop of its opening"):
        assert told[name].passed
    assert told["rough fleet, between the bodies, as they print"].passed
    low, high = np.array(proven.whole.pieces[1].solid.bounding_box()).reshape(2, 3)
    assert (high - low)[1] < 40 < (high - low)[0]


@pytest.mark.parametrize(
    ("told", "works"), [((0, 180), True), ((0, 90), False), ((-5, 180), False)]
)
def test_what_turns_with_others_counts_from_flat_too(
    told: tuple[float, float], works: bool
) -> None:
    made = wallet(printed_at=170, with_others=told)
    if works:
        (joint,) = mechanism(made).joints
        assert joint.with_others == (-170, 10)
    else:
        with pytest.raises(JobError, match="with 170 in it, where it prints"):
            mechanism(made)


def test_bodies_that_come_too_near_as_they_print_fail() -> None:
    proven = check_product(wallet(printed_at=178))
    failed = {found.name for found in proven.verdict.findings if not found.passed}
    assert failed == {
        "gap at rest",
        "first layer",
        "rough fleet, between the bodies, as they print",
        "rough fleet, all together",
    }
