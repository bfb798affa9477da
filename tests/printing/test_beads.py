"""Tips that are narrower than a line come out as wide as one."""

from __future__ import annotations

import math

import pytest
from manifold3d import CrossSection, Manifold

from scadgen import NestedCones, RodLoops, SideCones
from scadgen.hinge.family import Hinge
from scadgen.printing.beads import beads, strips, tips
from scadgen.printing.cuts import Cuts
from scadgen.printing.layers import layers
from tests.shapes import box, ridges, turned

LINE, HEIGHT = 0.65, 0.3


def cone_in_socket(tip: float, gap: float, drop: float = 0.0) -> list[Manifold]:
    """A 45-degree cone that ends at a radius, and a block with a pointed socket over it (mm).

    drop: by how much all of it is lower, so that layers fall elsewhere.
    """
    foot, high = 4.0, 3.0 - drop
    cone = turned(
        [(0, 0), (foot, 0), (foot, high), (tip, high + foot - tip), (0, high + foot - tip)], 48
    )
    apart = gap * math.sqrt(2)
    bore = turned([(0, -1), (foot, -1), (foot, high), (0, high + foot)], 48).translate(
        (0, 0, apart)
    )
    wide = turned([(0, -1), (foot + gap, -1), (foot + gap, high + apart), (0, high + apart)], 48)
    return [cone, box((-8, -8, 0), (8, 8, 12)) - bore - wide]


def test_a_point_prints_as_a_bead_that_meets_the_socket() -> None:
    """Somewhere in the layers a point's last piece is small, and its bead reaches the socket."""
    drops = [0.05 * k for k in range(6)]
    pointed = [layers(cone_in_socket(0.0, 0.3, drop), HEIGHT, line=LINE).fused for drop in drops]
    blunt = [layers(cone_in_socket(LINE / 2, 0.3, drop), HEIGHT, line=LINE).fused for drop in drops]
    assert max(pointed) > 0
    assert max(blunt) == 0
    assert all(layers(cone_in_socket(0.0, 0.3, d), HEIGHT).fused == 0 for d in drops)


def test_a_bead_is_as_wide_as_the_line() -> None:
    small = CrossSection.square((0.3, 0.3), center=True)
    (bead,) = beads(small, LINE)
    low_x, low_y, high_x, high_y = bead.bounds()
    assert (high_x - low_x, high_y - low_y) == pytest.approx((LINE, LINE))
    assert list(beads(CrossSection.square((LINE, LINE)), LINE)) == []
    assert list(beads(CrossSection.square((0.3, 3 * LINE)), LINE)) == []  # a wall


@pytest.mark.parametrize("line", [0.45, 0.65])
def test_cones_in_cones_end_in_a_tip_that_a_line_fits(line: float) -> None:
    hinge = NestedCones(line_width=line)
    assert hinge.tip == pytest.approx(line / 2)
    solids = [piece.solid for piece in hinge.mechanism().pieces]
    made = Cuts(tuple(solids))
    for height in (0.1, 0.2, 0.3):
        assert layers(made, height, line=line).fused == 0


@pytest.mark.parametrize(
    ("gap", "width", "joined"),
    [
        (0.5, 0.5, True),
        (0.8, 0.5, False),  # the ends of both lines reach half a line
        (0.5, 0.55, True),
    ],
)
def test_a_line_along_a_ridge_ends_beyond_it(gap: float, width: float, joined: bool) -> None:
    found = layers(ridges(gap, width, HEIGHT), HEIGHT, line=LINE)
    assert (found.tipped > 0) == joined
    assert found.fused == found.tipped


def test_a_strip_is_a_line_with_round_ends() -> None:
    wide = strips(CrossSection.square((5, 0.9)), LINE)  # one line still, as wide as the strip
    assert wide.bounds() == pytest.approx((-0.45, 0, 5.45, 0.9))
    strip = CrossSection.square((5, 0.3))
    found = strips(strip, LINE)
    assert found.bounds() == pytest.approx(
        (-LINE / 2, 0.15 - LINE / 2, 5 + LINE / 2, 0.15 + LINE / 2)
    )
    assert strips(CrossSection.square((5, 2 * LINE)), LINE).is_empty()
    assert strips(CrossSection.square((LINE, LINE)), LINE).is_empty()  # a bead


@pytest.mark.parametrize("cls", [RodLoops, SideCones])
def test_knuckles_end_in_a_top_that_two_lines_fit(cls: type[Hinge]) -> None:
    hinge = cls(facets=16, line_width=LINE)
    made = Cuts(tuple(piece.solid for piece in hinge.mechanism().pieces))
    high = made.bodies[0].bounding_box()[5]
    for part in (0.02, 0.3, 0.49):  # of a layer, from the middle of the last up to the top
        height = high / (40 + part + 0.5)
        assert list(tips(made, height, LINE, 0.1)) == []
