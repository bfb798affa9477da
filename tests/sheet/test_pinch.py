"""Gaps between leaves: the rule of toy standards at its edges, and the gaps on real solids."""

from __future__ import annotations

import math

import pytest

from scadgen.handover.pinch import RULES, Opening, openings
from scadgen.hinge.family import Hinge
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.meshing import mesh
from scadgen.motion.axis import Axis
from scadgen.motion.openings import edge_gap
from tests.support import each_family

TOYS, F963 = RULES


# Sources: EN 71-1 and ISO 8124-1, a test-rod maker's procedure: 5 and 12 mm; ASTM F963 4.18.1
# (looked up): rods of 3/16 in and 1/2 in.
@pytest.mark.parametrize(
    ("gap", "caught"), [(4.9, False), (5.0, True), (11.9, True), (12.0, False), (0.0, False)]
)
def test_a_gap_that_stays_as_it_is(gap: float, caught: bool) -> None:
    assert Opening(gap, gap).catches(TOYS) is caught


def test_a_gap_that_passes_between_the_rods_catches() -> None:
    assert Opening(3, 14).catches(TOYS)
    assert not Opening(0, 4.9).catches(TOYS)
    assert not Opening(12, 40).catches(TOYS)


def test_the_other_standard_is_a_little_stricter_at_both_ends() -> None:
    assert F963.thin == pytest.approx(25.4 * 3 / 16, abs=0.01)
    assert F963.thick == 12.7
    assert Opening(4.8, 4.8).caught
    assert Opening(12.5, 12.5).caught
    assert not Opening(4.7, 4.7).caught
    assert not Opening(12.7, 13).caught


# Derived, then confirmed by a second method: two leaves turned by 90 degrees about their common
# front edge open sqrt(2) times their thickness behind.
@pytest.mark.parametrize(("thickness", "gap"), [(3, 4.243), (3.536, 5.0)])
def test_leaves_that_turn_about_their_common_edge(thickness: float, gap: float) -> None:
    assert edge_gap(0, -thickness, 90) == pytest.approx(gap, abs=1e-3)


@each_family
def test_gaps_are_those_of_the_leaves_themselves(cls: type[Hinge]) -> None:
    """The solids of a pivot's leaves, cut off at their near edges and turned."""
    hinge = cls()
    if not isinstance(hinge, Pivot):
        assert len(openings(hinge.mechanism())) == 1
        return
    axis = Axis(*hinge.axis())
    across = (1, 0, 0) if hinge.axis()[1][2] else (0, 1, 0)
    fixed = mesh(hinge, "fixed", 0).trim_by_plane([-c for c in across], hinge.reach)
    moving = mesh(hinge, "moving", 0).trim_by_plane(across, hinge.reach)
    faces = (hinge.face, hinge.face - hinge.leaf_thickness)
    for angle in (0, hinge.swing / 2, hinge.swing):
        measured = fixed.min_gap(axis.turn(moving, angle), 60)
        told = min(float(edge_gap(hinge.reach, face, angle)) for face in faces)
        assert told == pytest.approx(measured, abs=1e-3)


@each_family
def test_an_opening_covers_the_gap_as_it_prints(cls: type[Hinge]) -> None:
    hinge = cls()
    for opening in openings(hinge.mechanism()):
        assert 0 <= opening.low <= opening.high
        assert math.isfinite(opening.high)
    if isinstance(hinge, Pivot):
        assert all(
            gap.low <= 2 * hinge.reach <= gap.high + 1e-9 for gap in openings(hinge.mechanism())
        )
