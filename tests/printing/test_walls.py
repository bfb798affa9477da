"""Walls thinner than the lines they would be printed in."""

from __future__ import annotations

import math

import pytest
from manifold3d import CrossSection, Manifold

from scadgen.printing.walls import thin_walls
from tests.shapes import UP, box, rod, turned

LINE = 0.45


def with_web(thick: float, length: float = 4) -> Manifold:
    """Two blocks joined by an upright web."""
    blocks = box((-6, -3, 0), (0, 3, 8)) + box((length, -3, 0), (length + 6, 3, 8))
    return blocks + box((-1, -thick / 2, 0), (length + 1, thick / 2, 8))


@pytest.mark.parametrize("degrees", [0, 31])
@pytest.mark.parametrize("thick", [0.3, 0.6, 0.85])
def test_a_thin_web_is_named(thick: float, degrees: float) -> None:
    """A disc of two lines sinks into either mouth of the web by a segment with the web as chord."""
    (wall,) = thin_walls([UP.turn(with_web(thick), degrees)], 0.2, LINE)
    assert wall.width == pytest.approx(thick, abs=0.01)
    half, disc = thick / 2, LINE
    mouth = disc**2 * math.asin(half / disc) - half * math.sqrt(disc**2 - half**2)
    assert wall.area == pytest.approx(4 * thick - 2 * mouth, rel=0.02)
    assert math.hypot(wall.x, wall.y) == pytest.approx(2, abs=0.1)
    assert wall.low == 0
    assert wall.high == pytest.approx(8, abs=0.3)


@pytest.mark.parametrize("thick", [0.3, 0.7])
def test_a_thin_fin_and_a_thin_post_are_named(thick: float) -> None:
    fin = box((0, 0, 0), (6, 6, 8)) + box((5, 2, 0), (11, 2 + thick, 8))
    (wall,) = thin_walls([fin, rod(thick / 2, 0, 8).translate((20, 0, 0))], 0.2, LINE)[:1]
    assert wall.body == 0
    assert wall.width == pytest.approx(thick, abs=0.01)
    if thick > LINE * 0.7:  # an area of half a line squared
        _, post = thin_walls([fin, rod(thick / 2, 0, 8).translate((20, 0, 0))], 0.2, LINE)
        assert post.body == 1
        assert post.width == pytest.approx(thick, abs=0.01)


def test_a_fin_leads_nowhere_beside_another_part() -> None:
    """A fin that ends beside a post of its own body is as thick as it is, not as their gap."""
    fin = box((0, 0, 0), (6, 6, 8)) + box((5, 2, 0), (11, 2.6, 8))
    beside = fin + box((9, 2.7, 0), (11, 5, 8))
    (wall,) = thin_walls([beside], 0.2, LINE)
    assert wall.width == pytest.approx(0.6, abs=0.01)


@pytest.mark.parametrize("length", [4.7, 5, 8])
def test_a_fin_is_as_thick_however_short_it_is(length: float) -> None:
    fin = box((0, 0, 0), (6, 6, 8)) + box((5, 2, 0), (6 + length, 2.8, 8))
    (wall,) = thin_walls([fin], 0.2, 0.6)
    assert wall.width == pytest.approx(0.8, abs=0.01)


def test_a_neck_is_measured_at_its_waist() -> None:
    """Two round cuts leave 0.5 mm between them."""
    cuts = rod(4, -1, 9).translate((0, 4.25, 0)) + rod(4, -1, 9).translate((0, -4.25, 0))
    (wall,) = thin_walls([box((-6, -6, 0), (6, 6, 8)) - cuts], 0.2, LINE)
    assert wall.width == pytest.approx(0.5, abs=0.02)
    assert (wall.x, wall.y) == pytest.approx((0, 0), abs=0.05)


def test_two_lines_are_enough() -> None:
    assert thin_walls([with_web(0.9)], 0.2, LINE) == ()
    assert len(thin_walls([with_web(0.9)], 0.2, 0.5)) == 1


@pytest.mark.parametrize("facets", [3, 4, 5, 64])
@pytest.mark.parametrize("slope", [0.5, 1, 1.5])
def test_corners_and_tips_are_no_walls(facets: int, slope: float) -> None:
    """Prisms and cones up to their very tip, of 34 to 63 degrees from the axis or flatter."""
    cone = turned([(0, 0), (6, 0), (0, 6 * slope)], facets)
    assert thin_walls([cone], 0.2, LINE) == ()
    assert thin_walls([rod(4, 0, 5, facets)], 0.2, LINE) == ()


@pytest.mark.parametrize("angle", [30, 45, 90, 120])
def test_a_sharp_edge_is_no_wall(angle: float) -> None:
    half = math.radians(angle / 2)
    wedge = CrossSection([[(0, 0), (9, -9 * math.tan(half)), (9, 9 * math.tan(half))]])
    assert thin_walls([wedge.extrude(6)], 0.2, LINE) == ()


def test_a_ridge_on_top_does_not_make_a_wall_thinner() -> None:
    roof = CrossSection([[(0, 0), (0.8, 0), (0.8, 5), (0.4, 6), (0, 5)]])
    upright = roof.extrude(8).rotate((90, 0, 0))
    (wall,) = thin_walls([upright], 0.1, LINE)
    assert wall.width == pytest.approx(0.8, abs=0.01)
