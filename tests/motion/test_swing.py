"""The free turn between stops that are found, and the gap on the way."""

from __future__ import annotations

import json
import math
from dataclasses import asdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from scadgen.motion.axis import Axis
from scadgen.motion.swing import swing
from tests.shapes import ASKEW, UP, box, carried, rod, waisted


def leaves(
    inner: float, half: float, above: float, below: float = 2.0
) -> tuple[Manifold, Manifold]:
    """A fixed leaf at -X that starts near the axis, and a moving one at +X."""
    fixed = box((-20, -below, 0), (-1, above, 5))
    return fixed, box((inner, -half, 0), (20, half, 5))


def bearing(radius: float, clearance: float, facets: int) -> tuple[Manifold, Manifold]:
    sleeve = rod(radius + clearance + 3, 0, 8, facets) - rod(radius + clearance, -1, 9, facets)
    return sleeve, rod(radius, 0, 8, facets)


def landing(inner: float, half: float, face: float) -> float:
    """The turn that lands the moving leaf's inner corner on a face this far above the axis."""
    corner = math.hypot(inner, half)
    return 180 - math.degrees(math.asin(face / corner) + math.atan2(half, inner))


@settings(max_examples=25, deadline=None)
@given(st.floats(4, 8), st.floats(0.5, 2.5), st.floats(0.5, 2.5), st.floats(0.5, 2.5))
def test_leaves_stop_where_trigonometry_says(
    inner: float, half: float, above: float, below: float
) -> None:
    result = swing(*leaves(inner, half, above, below), UP)
    assert result.high == pytest.approx(landing(inner, half, above), abs=0.02)
    assert result.low == pytest.approx(-landing(inner, half, below), abs=0.02)
    assert (result.stopped_low, result.stopped_high, result.met) == (True, True, False)


# Closed form (R + c) cos(180/N) - R, derived by swept polygons; the table values stand beside.
@pytest.mark.parametrize(
    ("radius", "clearance", "facets", "gap"),
    [(5, 0.3, 16, 0.198), (5, 0.3, 64, 0.294), (10, 0.3, 48, 0.278), (1.5, 0.3, 12, 0.239)],
)
def test_facets_cost_a_turning_pin_some_gap(
    radius: float, clearance: float, facets: int, gap: float
) -> None:
    sleeve, pin = bearing(radius, clearance, facets)
    result = swing(sleeve, pin, UP)
    assert result.gap == pytest.approx(gap, abs=6e-4)
    assert result.gap < sleeve.min_gap(pin, 2.0) - 0.001
    assert (result.low, result.high) == (-360, 360)
    assert (result.stopped_low, result.stopped_high, result.met) == (False, False, False)


def test_too_few_facets_jam_the_pin() -> None:
    # At N = 12 the same closed form is negative (-0.051 in the table): corners meet flats.
    result = swing(*bearing(10, 0.3, 12), UP)
    assert result.stopped_low
    assert result.stopped_high
    assert result.high < 15


@pytest.mark.parametrize("radius", [59.9, 31.0, 30.0, 29.7, 15.1, 15.0, 14.8, 4.0])
def test_thin_parts_are_not_jumped_at_any_radius(radius: float) -> None:
    spoke = box((2, -0.2, 1), (60, 0.2, 4))
    post = UP.turn(box((radius - 0.05, -0.2, 0), (radius + 0.05, 0.2, 5)), 157.3)
    result = swing(post + box((0, 0, 7), (60, 1, 8)), spoke, UP)
    margin = 180 - landing(radius - 0.05, 0.2, 0.2)
    assert result.high == pytest.approx(157.3 - margin, abs=0.02)
    assert result.low == pytest.approx(157.3 + margin - 360, abs=0.02)


def test_bodies_that_overlap_at_rest_do_not_swing() -> None:
    result = swing(box((-5, -1, 0), (1, 1, 5)), box((0, -1, 0), (5, 1, 5)), UP)
    assert (result.low, result.high, result.gap, result.met) == (0, 0, 0, True)


def test_a_stop_against_which_the_leaf_rests_allows_no_turn_that_way() -> None:
    fixed, moving = leaves(4, 1, 2)
    result = swing(fixed + box((5, -3, 0), (20, -1, 5)), moving, UP)
    assert result.low == 0
    assert result.high == pytest.approx(landing(4, 1, 2), abs=0.02)


def test_limit_ends_the_search() -> None:
    result = swing(*leaves(4, 1, 2), UP, limit=45)
    assert (result.low, result.high) == (-45, 45)
    assert (result.stopped_low, result.stopped_high) == (False, False)


def test_gap_closes_only_where_the_range_comes_near_a_stop() -> None:
    fixed, moving = leaves(4, 1, 2)
    apart = swing(fixed, moving, UP, within=(-60, 60))
    assert apart.within == (-60, 60)
    assert apart.gap == 2  # as far as is looked
    end = swing(fixed, moving, UP).high
    close = swing(fixed, moving, UP, within=(0, end))
    assert close.gap_most < 0.01
    assert close.gap_at == pytest.approx(end, abs=0.1)
    assert not close.met


def test_default_range_keeps_away_from_the_stops() -> None:
    result = swing(*leaves(4, 1, 2), UP)
    assert result.within == pytest.approx((0.8 * result.low, 0.8 * result.high))


def test_a_rib_that_rubs_inside_the_swing_is_a_stop() -> None:
    sleeve, pin = bearing(5, 0.3, 64)
    rib = box((4.6, -0.3, 2), (5.2, 0.3, 4))
    stud = UP.turn(box((5.1, -0.3, 0), (6, 0.3, 8)), 70)
    result = swing(sleeve + stud, pin + rib, UP)
    assert 60 < result.high < 70
    assert result.low + 290 == pytest.approx(70 - result.high, abs=0.02)  # the stud's other side


@settings(max_examples=8, deadline=None)
@given(st.floats(-180, 180), st.floats(0.5, 2.5))
def test_moving_everything_together_changes_nothing(degrees: float, above: float) -> None:
    fixed, moving = leaves(4, 1, above)
    here = swing(fixed, moving, UP)
    there = swing(
        ASKEW.turn(fixed, degrees), ASKEW.turn(moving, degrees), carried(UP, ASKEW, degrees)
    )
    assert there.high == pytest.approx(here.high, abs=0.02)
    assert there.low == pytest.approx(here.low, abs=0.02)
    assert there.gap == pytest.approx(here.gap, abs=0.02)


def test_right_hand_rule_decides_which_stop_is_high() -> None:
    fixed, moving = leaves(4, 1, 2.5, 0.5)
    down = swing(fixed, moving, Axis((0, 0, 0), (0, 0, -1)))
    up = swing(fixed, moving, UP)
    assert (down.low, down.high) == pytest.approx((-up.high, -up.low), abs=0.02)
    assert up.high < -up.low


def test_cones_keep_their_clearance_through_the_turn() -> None:
    spindle, ring = waisted(45, 0.3)
    result = swing(spindle, ring, UP)
    assert 0.28 < result.gap < 0.3


def test_result_is_plain_data() -> None:
    result = swing(*leaves(4, 1, 2), UP)
    assert json.loads(json.dumps(asdict(result)))["high"] == result.high
