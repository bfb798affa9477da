"""The body of revolution inside a solid, against closed forms and against the solid itself."""

from __future__ import annotations

import math

import numpy as np
import pytest
from manifold3d import CrossSection, Manifold

from scadgen.caging.core import core
from scadgen.motion.axis import Axis

from .held import PIVOTS, bodies

UP = Axis((0, 0, 0), (0, 0, 1))
#: What the traces of faces are drawn out by, and some more, mm.
CLOSE = 1e-4


def extents(solid: Manifold, axis: Axis = UP) -> tuple[list[float], list[float]]:
    corners = np.concatenate(core(solid, axis))
    return corners.min(0).tolist(), corners.max(0).tolist()


@pytest.mark.parametrize("sides", [3, 8, 64])
def test_the_core_of_a_prism_is_its_inscribed_cylinder(sides: int) -> None:
    """The inradius of a regular polygon is R cos(pi/n): elementary geometry."""
    low, high = extents(Manifold.cylinder(7, 5, 5, sides))
    assert low == pytest.approx([0, 0], abs=CLOSE)
    assert high == pytest.approx([5 * math.cos(math.pi / sides), 7], abs=CLOSE)


def test_a_hole_takes_its_circumscribed_cylinder() -> None:
    ring = Manifold.cylinder(4, 6, 6, 128) - Manifold.cylinder(6, 3, 3, 6).translate((0, 0, -1))
    low, high = extents(ring)
    assert low == pytest.approx([3, 0], abs=CLOSE)
    assert high == pytest.approx([6 * math.cos(math.pi / 128), 4], abs=CLOSE)


def test_a_block_beside_the_axis_has_no_core() -> None:
    assert core(Manifold.cube((4, 4, 4)).translate((1, -2, 0)), UP) == []


def test_a_gap_in_a_ring_leaves_no_core() -> None:
    ring = Manifold.cylinder(4, 6, 6, 64) - Manifold.cylinder(6, 3, 3, 64).translate((0, 0, -1))
    assert core(ring - Manifold.cube((9, 0.2, 9)).translate((0, 0, -1)), UP) == []


def test_a_hollow_is_no_part_of_the_core() -> None:
    ball = Manifold.cylinder(8, 6, 6, 64) - Manifold.cylinder(2, 3, 3, 64).translate((0, 0, 3))
    outlines = core(ball, UP)
    area = CrossSection(outlines).area()
    outer = 6 * math.cos(math.pi / 64)
    assert area == pytest.approx(8 * outer - 2 * 3, abs=0.01)


def test_the_core_stands_where_its_axis_stands() -> None:
    askew = Axis((3, -2, 5), (1, 2, -1))
    post = askew.cylinder(2, -1, 6, 64)
    low, high = extents(post, askew)
    assert (*low, *high) == pytest.approx((0, -1, 2 * math.cos(math.pi / 64), 6), abs=CLOSE)


@pytest.mark.parametrize("family", PIVOTS)
def test_the_core_of_a_body_lies_within_it(family: str) -> None:
    """Drawn again as a solid, its corners on its circles, none of it is outside of the body."""
    fixed, moving, joint = bodies(family)
    place = np.column_stack([*joint.about.frame, joint.about.origin])
    for solid in (fixed, moving):
        drawn = Manifold.revolve(CrossSection(core(solid, joint.about)), 256).transform(place)
        assert drawn.volume() > 1
        assert (drawn - solid).volume() < 1e-4 * drawn.volume()
