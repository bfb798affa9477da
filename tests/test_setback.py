"""Leaves set back from the axis: they fold face to face, as far apart as they are told to be."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from scadgen import CaptiveCone, FacingCones, HingeError, NestedCones, WaistedSpindle, check
from scadgen.hinge.kinds.setback import SetBack
from scadgen.hinge.meshing import mesh
from scadgen.motion.axis import Axis

STANDING: tuple[type[SetBack], ...] = (CaptiveCone, FacingCones, NestedCones, WaistedSpindle)
standing = pytest.mark.parametrize("cls", STANDING, ids=lambda cls: cls.family)
THIN: dict[str, Any] = {"leaf_thickness": 2.4, "facets": 32}
#: Rounding of the solids, mm and mm3.
NEAR, NOTHING = 1e-4, 1e-6
Z = Axis((0, 0, 0), (0, 0, 1))


@standing
@pytest.mark.parametrize("setback", [1.5, 2, 9])
def test_shut_leaves_lie_as_far_apart_as_is_told(cls: type[SetBack], setback: float) -> None:
    hinge = cls(setback=setback, swing=180, **THIN)
    fixed, moving = (mesh(hinge, side, 0.0) for side in ("fixed", "moving"))
    shut = Z.turn(moving, 180)
    assert (fixed ^ shut).volume() < NOTHING
    ends = (solid.trim_by_plane((-1, 0, 0), hinge.leaf_end - 1) for solid in (fixed, shut))
    one, other = ends
    told = hinge.figures()["between the leaves, folded shut (mm)"]
    assert one.min_gap(other, told + 1) == pytest.approx(told, abs=NEAR)
    assert told >= 2 * hinge.clearance - NEAR


@standing
def test_nothing_meets_up_to_the_turn_that_is_told(cls: type[SetBack]) -> None:
    for setback in (0.7, 1.6, 2, 30):
        hinge = cls(setback=setback, swing=90, **THIN)
        fixed, moving = (mesh(hinge, side, 0.0) for side in ("fixed", "moving"))
        for angle in np.linspace(0, hinge.stop, 9):
            gap = fixed.min_gap(Z.turn(moving, float(angle)), 1)
            assert gap >= min(hinge.clearance * np.cos(np.pi / 32), 1) - 2e-3
        beyond = Z.turn(moving, hinge.stop + 6)
        assert fixed.min_gap(beyond, 1) < hinge.clearance


@pytest.mark.parametrize("setback", [2, 12])
def test_a_case_that_folds_shut_is_proven(setback: float) -> None:
    hinge = CaptiveCone(setback=setback, swing=180, **THIN)
    assert hinge.lowest() == 0
    assert check(hinge).proven


@pytest.mark.parametrize(("setback", "stop"), [(2, 180), (12, 180), (1, 120), (12, 95)])
def test_flat_faces_stop_it_where_they_are_told_to(setback: float, stop: float) -> None:
    hinge = CaptiveCone(setback=setback, swing=90, stop_at=stop, **THIN)
    proof = check(hinge)
    assert proof.proven
    assert any(found.name == "stop" and found.passed for found in proof.findings)


def test_in_its_plane_it_turns_both_ways_and_is_told_how_to_fold_further() -> None:
    assert CaptiveCone().lowest() == -CaptiveCone().swing
    with pytest.raises(HingeError, match="a setback lets them fold further"):
        CaptiveCone(swing=180)


def test_a_web_carries_more_the_further_back_its_leaf_is() -> None:
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import material

    def stress(setback: float) -> dict[str, float]:
        hinge = WaistedSpindle(setback=setback, **THIN)
        told = hinge.strengths(Duty(lever=60, offset=5), material("petg"))
        return {each.name: float(each.actual) for each in told}

    web, near, far = "web of a leaf set back", stress(4), stress(20)
    assert web not in stress(0)
    assert near[web] < far[web]
    del near[web], far[web]
    assert near == far
    assert all(near[name] >= plain for name, plain in stress(0).items())
