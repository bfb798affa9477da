"""A heel stops the opening of standing hinges that print half shut, where it is told to."""

from __future__ import annotations

from typing import Any

import pytest

from scadgen import CaptiveCone, FacingCones, HingeError, NestedCones, WaistedSpindle, check
from scadgen.findings.on_motion import opened
from scadgen.hinge.kinds.heeled import BENT
from scadgen.hinge.kinds.upright import UprightPivot
from scadgen.hinge.meshing import mesh
from scadgen.motion.axis import Axis
from scadgen.motion.rest import body
from scadgen.motion.swing import swing
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material
from tests.strength.carried import nominal

STANDING: tuple[type[UprightPivot], ...] = (CaptiveCone, FacingCones, NestedCones, WaistedSpindle)
THIN: dict[str, Any] = {"leaf_thickness": 2.4, "facets": 16}
Z = Axis((0, 0, 0), (0, 0, 1))
#: How closely the stop must be where it is told, degrees.
CLOSELY = 0.05


@pytest.mark.parametrize("cls", STANDING, ids=lambda cls: cls.family)
@pytest.mark.parametrize(("setback", "opens_to", "at"), [(0, 95, 120), (2, 30, 170), (5, 175, 90)])
def test_its_solids_stop_where_they_are_told_to(
    cls: type[UprightPivot], setback: float, opens_to: float, at: float
) -> None:
    made = cls(setback=setback, opens_to=opens_to, printed_at=at, swing=at, **THIN)
    fixed, moving = (mesh(made, side, 0) for side in ("fixed", "moving"))
    assert body(fixed).pieces == 1
    assert fixed.min_gap(moving, 1) >= made.clearance - 1e-3
    found = swing(fixed, moving, Z)
    assert found.stopped_low
    assert found.low + at == pytest.approx(180 - opens_to, abs=CLOSELY)
    assert made.lowest() == 180 - opens_to
    assert made.heel_way <= 2 or fixed.min_gap(moving, 2) > 0


def test_stops_at_both_ends_are_proven_and_told_from_shut() -> None:
    made = CaptiveCone(setback=2, opens_to=95, stop_at=180, printed_at=150, swing=170, **THIN)
    verdict = check(made)
    told = {found.name: found.words for found in verdict.findings}
    assert verdict.proven
    assert "95.00 deg from shut" in told["stop of its opening"]
    assert "printers make the heel end the turn" in told["heel on the rough fleet"]
    assert "printers make the stop end the turn" in told["stop on the rough fleet"]
    assert "85 to 170 deg are asked" in told["swing"]
    (joint,) = made.mechanism().joints
    assert joint.stop_words.endswith("a heel meets the leaf 95 deg from shut")


def test_a_heel_elsewhere_than_told_fails() -> None:
    made = CaptiveCone(setback=2, opens_to=95, printed_at=150, swing=170, **THIN)
    turn = swing(mesh(made, "fixed", 0), mesh(made, "moving", 0), Z).counted(150)
    assert opened(turn, 85).passed
    assert not opened(turn, 84.5).passed


@pytest.mark.parametrize(
    ("values", "why"),
    [
        ({"opens_to": 95}, "it prints past its heel"),
        ({"opens_to": 95, "printed_at": 150, "setback": 9}, "thicker than the knuckles"),
        ({"opens_to": 95, "printed_at": 150, "leaf_length": 2}, "the heel has no leaf to meet"),
        ({"opens_to": 95, "printed_at": 150, "angle": -65}, "drawn further than it turns"),
    ],
)
def test_a_heel_that_cannot_be_is_refused(values: dict[str, Any], why: str) -> None:
    with pytest.raises(HingeError, match=why):
        CaptiveCone(**{"setback": 2, "swing": 180, **values}, **THIN)


def test_the_heel_bears_what_its_solid_does() -> None:
    plastic, duty = material("petg"), Duty(load=5, lever=40)
    for thick in (1.6, 3):
        made = CaptiveCone(
            setback=4, opens_to=90, printed_at=150, swing=170, leaf_thickness=thick, facets=64
        )
        (heel,) = (each for each in made.strengths(duty, plastic) if each.name == BENT)
        (carrier,) = (each for each in made.carriers() if each.place == BENT)
        measured = nominal(made, carrier, duty, plastic)
        assert measured <= float(heel.actual) <= 1.6 * measured
