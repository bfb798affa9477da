"""Layers over air, and bodies that fuse."""

from __future__ import annotations

import json
import math
from dataclasses import asdict

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import CrossSection, Manifold

from scadgen.printing.cuts import TOLERANCE, Cuts
from scadgen.printing.layers import layers
from tests.shapes import UP, box, turned

HEIGHTS = (0.1, 0.2, 0.3)


def flare(from_vertical: float, facets: int, inward: bool = False) -> Manifold:
    """A foot that widens upward, or a cup whose wall thickens inward, at an angle."""
    lean = math.tan(math.radians(from_vertical))
    if inward:
        return turned([(9, 0), (12, 0), (12, 4), (9 - 4 * lean, 4)], facets)
    return turned([(0, 0), (3, 0), (3 + 6 * lean, 6), (0, 6)], facets)


def polygon_area(corner_radius: float, facets: int) -> float:
    return facets / 2 * corner_radius**2 * math.sin(2 * math.pi / facets)


def portal(span: float) -> Manifold:
    """A lintel 2 mm thick on two towers, each 3 mm wide, `span` apart along X."""
    lintel = box((-span / 2 - 3, -2, 6), (span / 2 + 3, 2, 8))
    towers = (
        box((side - 1.5, -2, 0), (side + 1.5, 2, 6.01))
        for side in (-span / 2 - 1.5, span / 2 + 1.5)
    )
    return sum(towers, start=lintel)


@pytest.mark.parametrize("height", HEIGHTS)
@pytest.mark.parametrize("facets", [4, 16, 64])
@pytest.mark.parametrize("inward", [False, True])
def test_a_45_degree_flare_is_carried(height: float, facets: int, inward: bool) -> None:
    result = layers([flare(45, facets, inward)], height)
    assert result.hanging == ()
    assert result.worst is None
    assert (result.unsupported, result.span, result.islands) == (0, 0, 0)


@pytest.mark.parametrize("height", HEIGHTS)
@pytest.mark.parametrize("from_vertical", [50.0, 60.0])
def test_a_flatter_flare_droops_all_around(height: float, from_vertical: float) -> None:
    facets = 64
    result = layers([flare(from_vertical, facets)], height)
    assert len(result.hanging) == result.count - 1
    lean = height * math.tan(math.radians(from_vertical))
    radius = 3 + (result.count - 0.5) * lean
    reach = (height + TOLERANCE) / math.cos(math.pi / facets)
    ring = polygon_area(radius, facets) - polygon_area(radius - lean + reach, facets)
    assert result.worst == result.hanging[-1]
    assert result.worst.droop == pytest.approx(ring, rel=1e-3)
    assert (result.bridge, result.islands) == (0, 0)


@pytest.mark.parametrize("height", HEIGHTS)
def test_a_wall_that_leans_in_too_far_droops(height: float) -> None:
    result = layers([flare(60, 64, inward=True)], height)
    assert result.droop == result.unsupported > 0
    assert len(result.hanging) == result.count - 1


def test_the_reach_angle_decides() -> None:
    assert layers([flare(60, 32)], 0.2, reach_angle=60).unsupported == 0
    assert layers([flare(45, 32)], 0.2, reach_angle=40).droop > 0


@settings(max_examples=20, deadline=None)
@given(st.floats(2, 30), st.floats(0, 90), st.sampled_from(HEIGHTS))
def test_a_lintel_is_a_bridge_of_its_span(span: float, degrees: float, height: float) -> None:
    result = layers([UP.turn(portal(span), degrees)], height)
    assert len(result.hanging) == 1
    assert result.worst is not None
    assert result.worst.z == pytest.approx(6, abs=height)
    assert result.span == pytest.approx(span, abs=1e-3)
    over_air = 4 * (span - 2 * (height + TOLERANCE))
    assert result.bridge == pytest.approx(over_air, rel=1e-4)
    assert (result.droop, result.islands) == (0, 0)


def test_a_flat_roof_is_a_bridge_across_its_short_side() -> None:
    house = box((0, 0, 0), (14, 10, 6)) - box((2, 2, -1), (12, 8, 4))
    result = layers([house], 0.2)
    reach = 0.2 + TOLERANCE
    assert result.span == pytest.approx(6, abs=1e-3)
    assert result.bridge == pytest.approx((10 - 2 * reach) * (6 - 2 * reach), rel=1e-4)
    assert result.droop == 0


def test_a_roof_with_a_hole_droops() -> None:
    house = box((0, 0, 0), (14, 10, 6)) - box((2, 2, -1), (12, 8, 4))
    result = layers([house - box((5, 4, 3), (9, 6, 7))], 0.2)
    assert result.bridge == 0
    assert result.droop > 0


@pytest.mark.parametrize("degrees", [0, 33])
def test_a_cantilever_droops(degrees: float) -> None:
    arm = box((0, 0, 0), (3, 4, 8)) + box((2.9, 0, 6), (10, 4, 8))
    result = layers([UP.turn(arm, degrees)], 0.2)
    assert result.droop == pytest.approx(4 * (7 - 0.2 - TOLERANCE), rel=1e-4)
    assert (result.bridge, result.span, result.islands) == (0, 0, 0)
    assert [layer.z for layer in result.hanging] == [pytest.approx(6)]


def test_a_shelf_in_a_corner_is_no_bridge() -> None:
    corner = box((0, 0, 0), (12, 2, 9)) + box((0, 0, 0), (2, 12, 9))
    result = layers([corner + box((1, 1, 6), (12, 12, 7))], 0.2)
    assert (result.bridge, result.islands) == (0, 0)
    assert result.droop > 90


def test_a_tip_that_hangs_down_starts_as_an_island() -> None:
    hook = portal(10) + box((-1, -1, 4), (1, 1, 6.01))
    result = layers([hook], 0.2)
    first = result.hanging[0]
    assert (first.z, first.unsupported, first.droop) == pytest.approx((4, 4, 4))
    assert first.islands == result.islands == 1
    assert result.span == pytest.approx(
        10, abs=1e-3
    )  # beside the tip the lintel still spans it all


def test_a_rod_between_two_loops_bridges_and_then_carries_itself() -> None:
    eight = [math.radians(45 * k + 22.5) for k in range(8)]
    ends = [(x, 3 * math.cos(a), 5 + 3 * math.sin(a)) for x in (-9, 9) for a in eight]
    rod = Manifold.hull_points(np.array(ends))
    cheeks = box((-12, -5, 0), (-5, 5, 10)) + box((5, -5, 0), (12, 5, 10))
    result = layers([rod + cheeks], 0.2)
    assert result.droop == 0
    assert result.span == pytest.approx(10, abs=1e-3)
    assert result.worst is not None
    assert result.worst.z == pytest.approx(5 - 3 * math.cos(math.radians(22.5)), abs=0.2)


def test_an_island_is_found_where_it_starts() -> None:
    result = layers([box((0, 0, 0), (4, 4, 2)), box((9, 1, 1), (13, 4, 2))], 0.2)
    assert result.hanging[0].z == pytest.approx(1)
    assert np.array(result.hanging[0].islands_at) == pytest.approx(np.array([(11, 2.5)]))


@pytest.mark.parametrize(
    ("height", "side", "islands"), [(0.1, 0.06, 0), (0.1, 0.08, 1), (0.8, 0.27, 0), (0.8, 0.3, 1)]
)
def test_less_than_a_printer_lays_down_is_not_counted(
    height: float, side: float, islands: int
) -> None:
    speck = box((5, 0, 3 * height), (5 + side, side, 5 * height))
    assert layers([box((0, 0, 0), (4, 4, 4)), speck], height).islands == islands


@pytest.mark.parametrize("height", HEIGHTS)
def test_a_flat_roof_that_is_carried_at_one_side_only_droops(height: float) -> None:
    """A flat underside of 8 by 6 mm beyond a wall: all of it but the reach hangs."""
    roof = box((0, 0, 0), (2, 6, 6)) + box((0, 0, 6), (10, 6, 7))
    result = layers([roof], height)
    assert result.droop == pytest.approx(6 * (8 - height - TOLERANCE), rel=1e-4)


def test_a_round_bore_that_lies_is_bridged_at_its_top() -> None:
    """Radius 2.2 mm, layers of 0.2 mm, a middle of a layer 2 mm over the axis: 1.833 mm.

    Source: chord of a circle 2 mm from its centre, derived, confirmed by a second method.
    """
    bore = (
        Manifold.cylinder(20, 2.2, circular_segments=720).rotate((90, 0, 0)).translate((0, 15, 3.1))
    )
    result = layers([box((-5, 0, 0), (5, 10, 8)) - bore], 0.2, reach_angle=45)
    top = max(result.hanging, key=lambda layer: layer.z)
    assert top.z == pytest.approx(5.2)
    assert top.span == pytest.approx(1.833, abs=2e-3)
    assert top.droop == 0


@pytest.mark.parametrize(
    ("angle", "height", "share"),
    [(45, 0.2, 0.524), (60, 0.2, 0.175), (45, 0.1, 0.762), (45, 0.3, 0.286)],
)
def test_a_line_of_a_leaning_wall_rests_on_the_one_below(
    angle: float, height: float, share: float
) -> None:
    """Share of a line of 0.42 mm that lies on the layer below: 1 - h tan a / w (derived)."""
    lean = math.tan(math.radians(angle))
    wall = CrossSection([np.array([(0, 0), (0.42, 0), (0.42 + 6 * lean, 6), (6 * lean, 6)])])
    made = Cuts((wall.extrude(5).rotate((90, 0, 0)).translate((0, 5, 0)),))
    low, high = made.section(0, 3, height), made.section(0, 4, height)
    assert (low ^ high).area() / high.area() == pytest.approx(share, abs=1e-3)
    assert layers(made, height, reach_angle=angle).unsupported == 0
    assert layers(made, height, reach_angle=angle - 5).droop > 0


@pytest.mark.parametrize("low", [2.01, 2.06, 2.11, 2.16, 2.21, 2.26, 2.31])
def test_a_gap_of_a_tenth_is_lost_in_layers_of_three(low: float) -> None:
    """A lid 0.1 mm over a block: in layers of 0.3 mm only a middle at 2.25 mm could keep it."""
    lid = box((0, 0, low + 0.1), (9, 4, low + 2)) + box((6, 0, 0), (9, 4, low + 2))
    bodies = [box((0, 0, 0), (4, 4, low)), lid]
    assert (layers(bodies, 0.3).fused > 0) is not (low < 2.25 < low + 0.1)
    assert layers(bodies, 0.05).fused == 0


pairs = st.tuples(
    st.floats(0.0, 0.5),  # beside
    st.floats(-2.0, 2.0),  # along
    st.floats(0.0, 1.0),  # above
    st.floats(2.0, 4.0),  # size
)


def pair(beside: float, along: float, above: float, size: float) -> tuple[Manifold, Manifold]:
    """A step, and a block over its tread and beside its riser."""
    step = box((0, 0, 0), (8, 4, 3)) + box((0, 0, 0), (4, 4, 6))
    block = box((4 + beside, along, 3 + above), (4 + beside + size, along + 3, 8))
    return step, block


@settings(max_examples=40, deadline=None)
@given(pairs, st.floats(0.01, 0.2), st.floats(0.01, 0.2), st.sampled_from(HEIGHTS))
def test_growing_never_turns_fused_into_free(
    drawn: tuple[float, float, float, float], over: float, more: float, height: float
) -> None:
    step, block = pair(*drawn)
    before = layers([step, block], height, over=over)
    low, high = np.reshape(block.bounding_box(), (2, 3))
    fatter = block + box(tuple(low - more), tuple(high + more))
    assert before.fused <= layers([step, block], height, over=over + more).fused + 1e-6
    assert before.fused <= layers([step, fatter], height, over=over).fused + 1e-6
    assert (before.fused > 0) <= (layers([step, fatter], height).fused > 0 or 2 * over > more)


def test_a_body_that_starts_in_the_air_is_an_island_on_no_bed() -> None:
    result = layers([box((0, 0, 0), (4, 4, 2)), box((9, 0, 1), (13, 4, 2))], 0.2)
    assert result.bed == pytest.approx((16, 0))
    assert result.islands == 1
    assert result.hanging[0].body == 1
    assert result.hanging[0].droop == pytest.approx(16)


def test_another_body_below_carries_nothing_and_fuses() -> None:
    result = layers([box((0, 0, 0), (4, 4, 2)), box((1, 1, 2.05), (3, 3, 4))], 0.2)
    assert result.islands == 1
    assert result.fused == pytest.approx(4)
    assert result.fused_at == pytest.approx(2)


@pytest.mark.parametrize("height", HEIGHTS)
def test_a_whole_layer_of_air_between_bodies_keeps_them_apart(height: float) -> None:
    low = box((0, 0, 0), (4, 4, 10 * height))
    high = box((1, 1, 11 * height), (3, 3, 20 * height))
    assert layers([low, high], height).fused == 0
    assert layers([low, high], height).fused_at is None
    assert layers([low, high.translate((0, 0, -height))], height).fused == pytest.approx(4)


def test_bodies_side_by_side_fuse_when_nearer_than_the_slicer_tells() -> None:
    one = box((0, 0, 0), (4, 4, 2))
    assert layers([one, box((4.3, 0, 0), (8, 4, 2))], 0.2).fused == 0
    close = layers([one, box((4.06, 0, 0), (8, 4, 2))], 0.2)
    assert close.fused == pytest.approx(10 * 4 * 0.04, rel=1e-3)  # ten layers, 0.1 - 0.06 deep
    assert close.fused_at == 0


def test_a_body_below_the_bed_is_refused() -> None:
    with pytest.raises(ValueError, match=r"z = -1 mm"):
        layers([box((0, 0, -1), (4, 4, 2))], 0.2)


def test_a_body_thinner_than_half_a_layer_has_no_bed() -> None:
    result = layers([box((0, 0, 0), (4, 4, 0.05))], 0.2)
    assert (result.count, result.bed) == (1, (0,))


def test_result_is_plain_data() -> None:
    result = layers([portal(10), box((40, 0, 0), (41, 1, 1))], 0.2)
    read = json.loads(json.dumps(asdict(result)))
    assert read["worst"]["span"] == result.span
    assert isinstance(result.bridge, float)
