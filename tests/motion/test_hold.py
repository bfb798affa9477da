"""Straight pulls and what ends them."""

from __future__ import annotations

import json
import math
from collections import Counter
from dataclasses import asdict
from operator import mul

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from scadgen.motion.retention import Hold, hold
from tests.shapes import ASKEW, CONE_PAIRS, UP, box, carried, rod, waisted


def socket(lip: float, thickness: float = 3.0) -> tuple[Manifold, Manifold]:
    """A pin in a capped socket that opens to +X; lips narrow the mouth on both sides."""
    gap = 0.3
    block = box((-6, -6, -2), (6, 6, 12)) - rod(3 + gap, -gap, 10 + gap)
    mouth = box((0, -3 - gap, -gap), (7, 3 + gap, 10 + gap))
    edge = 3 + gap - lip
    lips = box((6 - thickness, -4, -1), (6, -edge, 11)) + box((6 - thickness, edge, -1), (6, 4, 11))
    return (block - mouth) + lips if lip else block - mouth, rod(3, 0, 10)


def held_at(result: Hold, towards: str) -> float:
    """The travel of one straight pull, which must be held."""
    found = next(pull for pull in result.pulls if pull.towards == towards)
    assert found.end == "held"
    return found.travel


@pytest.mark.parametrize(("half_angle", "clearance", "end_play", "side_play"), CONE_PAIRS)
def test_a_cone_pair_has_the_play_of_the_closed_form(
    half_angle: float, clearance: float, end_play: float, side_play: float
) -> None:
    spindle, ring = waisted(half_angle, clearance)
    result = hold(spindle, ring, UP, tolerance=0.0005)
    assert result.held
    for way in ("along the axis", "against the axis"):
        assert held_at(result, way) == pytest.approx(end_play, abs=1e-3)
    for way in ("(1, 0, 0)", "(-1, 0, 0)", "(0, 1, 0)", "(0, -1, 0)"):
        side = held_at(result, f"square to the axis, towards {way}")
        assert side == pytest.approx(side_play, abs=1e-3)


@settings(max_examples=15, deadline=None)
@given(st.floats(0.05, 1.5), st.floats(0.05, 1.5), st.floats(0.05, 1.5))
def test_a_box_in_a_box_travels_its_play(x: float, y: float, z: float) -> None:
    case = box((-9, -9, -9), (9, 9, 9)) - box((-4 - x, -4 - y, -4 - z), (4 + x, 4 + y, 4 + z))
    result = hold(case, box((-4, -4, -4), (4, 4, 4)), UP)
    assert result.held
    assert len(result.pulls) == 26
    play = (x, y, z)
    for each in result.pulls:
        first = min(play[k] / abs(step) for k, step in enumerate(each.direction) if step)
        assert each.travel == pytest.approx(first, abs=0.0051)
        assert each.travel <= first + 1e-9
    assert result.freest.travel == max(each.travel for each in result.pulls)


def test_the_ways_are_a_cubes_faces_edges_and_corners() -> None:
    spindle, ring = waisted(45, 0.3)
    ways = [each.direction for each in hold(spindle, ring, UP).pulls]
    assert len({tuple(round(x, 9) for x in way) for way in ways}) == 26
    assert all(math.hypot(*way) == pytest.approx(1) for way in ways)
    assert Counter(sum(x != 0 for x in way) for way in ways) == {1: 6, 2: 12, 3: 8}
    assert all(len({round(abs(x), 9) for x in way if x}) == 1 for way in ways)


def test_a_pin_slides_out_of_an_open_side() -> None:
    result = hold(*socket(lip=0), UP)
    assert not result.held
    assert result.freest.end == "free"
    assert result.freest.towards == "square to the axis, towards (1, 0, 0)"
    assert result.freest.travel == pytest.approx(9)  # bounding boxes clear
    assert {each.towards for each in result.pulls if each.end == "free"} == {result.freest.towards}


def test_lips_close_the_open_side() -> None:
    result = hold(*socket(lip=1), UP)
    assert result.held
    assert held_at(result, "along the axis") == pytest.approx(0.3, abs=0.0051)


def test_a_long_low_bump_is_no_hold() -> None:
    result = hold(*socket(lip=0.34), UP)
    assert not result.held
    assert result.freest.end == "grazed"
    assert result.freest.towards == "square to the axis, towards (1, 0, 0)"
    assert 0 < result.freest.bite < 0.05


def test_a_short_high_bump_is_no_hold() -> None:
    channel = box((-7, -5, -5), (7, 5, 5)) - box((-2.3, -2.3, -2.3), (9, 2.3, 2.3))
    bump = box((5, -3, 1.5), (5.2, 3, 3))
    result = hold(channel + bump, box((-2, -2, -2), (2, 2, 2)), UP)
    assert not result.held
    assert result.freest.end == "grazed"
    assert result.freest.towards == "square to the axis, towards (1, 0, 0)"
    assert result.freest.travel == pytest.approx(3, abs=0.0051)
    wall = box((5, -3, 1.5), (7, 3, 3))
    assert hold(channel + wall, box((-2, -2, -2), (2, 2, 2)), UP).held


@pytest.mark.parametrize("degrees", [20.0, 22.5, 70.0])
def test_a_mouth_between_the_ways_is_found(degrees: float) -> None:
    fixed, moving = socket(lip=0)
    result = hold(UP.turn(fixed, degrees), UP.turn(moving, degrees), UP)
    assert all(each.end == "held" for each in result.pulls)
    assert not result.held
    assert result.freest.end == "free"
    assert result.freest.towards.startswith("by a crooked way, towards (")
    mouth = (math.cos(math.radians(degrees)), math.sin(math.radians(degrees)), 0)
    assert sum(map(mul, result.freest.direction, mouth)) > math.cos(math.radians(12))


def test_a_finer_grid_finds_a_tighter_way() -> None:
    fixed, moving = (UP.turn(body, 20) for body in socket(lip=0.2))
    assert hold(fixed, moving, UP).held  # the mouth is tighter than the gap: the stated blind spot
    assert not hold(fixed, moving, UP, grid=0.12).held


def test_a_hook_that_a_shift_unhooks_is_found() -> None:
    case = box((-9, -9, -9), (9, 9, 9)) - box((-4.6, -4.6, -4.6), (4.6, 4.6, 20))
    hook = box((3.6, -2, 4.6), (9, 2, 9))
    block = box((-4, -4, -4), (4, 4, 4))
    result = hold(case + hook, block, UP)
    assert held_at(result, "along the axis") == pytest.approx(0.6, abs=0.0051)
    assert not result.held
    assert result.freest.towards.startswith("by a crooked way")
    deep = box((3.0, -2, 4.6), (9, 2, 9))
    assert hold(case + deep, block, UP).held


def test_a_low_ridge_does_not_close_a_crooked_way() -> None:
    case = box((-9, -9, -9), (9, 9, 9)) - box((-4.6, -4.6, -4.6), (4.6, 4.6, 20))
    hook = box((3.6, -2, 4.6), (9, 2, 9))
    block = box((-4, -4, -4), (4, 4, 4))
    low = box((-5, -5, 5), (-4.36, 5, 9))
    assert not hold(case + hook + low, block, UP).held
    high = box((-5, -5, 5), (-4.1, 5, 9))
    assert hold(case + hook + high, block, UP).held


def test_a_long_crooked_way_counts_as_free_at_the_limit() -> None:
    channel = box((-40, -6, -6), (40, 6, 6)) - box((-41, -3.3, -3.3), (41, 3.3, 3.3))
    pin = box((-40, -3, -3), (40, 3, 3))
    result = hold(UP.turn(channel, 20), UP.turn(pin, 20), UP, limit=4)
    assert all(each.end == "held" for each in result.pulls)
    assert (result.held, result.freest.end) == (False, "free")
    assert 4 <= result.freest.travel < 4.5


def test_a_pin_slides_out_of_an_open_end() -> None:
    sleeve = rod(6, 0, 8) - rod(3.3, -1, 9)
    result = hold(sleeve, rod(3, 0, 8), UP)
    free = {each.towards for each in result.pulls if each.end == "free"}
    assert free == {"along the axis", "against the axis"}
    assert result.freest.travel == pytest.approx(8)


def test_a_long_way_without_contact_counts_as_free() -> None:
    sleeve = rod(6, 0, 30) - rod(3.3, -1, 31)
    result = hold(sleeve, rod(3, 0, 30), UP, limit=12)
    assert (result.freest.end, result.freest.travel) == ("free", 12)


def test_a_stop_far_along_still_holds() -> None:
    tube = rod(6, 0, 30) - rod(3.3, 3, 27)
    result = hold(tube, rod(3, 9, 21), UP)
    assert result.held
    assert result.freest.towards in {"along the axis", "against the axis"}
    assert result.freest.travel == pytest.approx(6, abs=0.0051)


def test_refuses_bodies_that_overlap() -> None:
    with pytest.raises(ValueError, match=r"overlap by 8 mm3"):
        hold(box((0, 0, 0), (4, 4, 4)), box((2, 2, 2), (6, 6, 6)), UP)


@settings(max_examples=5, deadline=None)
@given(st.floats(-180, 180), st.sampled_from([0.0, 0.6, 1.0]))
def test_moving_everything_together_changes_no_verdict(degrees: float, lip: float) -> None:
    fixed, moving = socket(lip)
    here = hold(fixed, moving, UP)
    there = hold(
        ASKEW.turn(fixed, degrees), ASKEW.turn(moving, degrees), carried(UP, ASKEW, degrees)
    )
    assert there.held == here.held
    for end in ("along the axis", "against the axis"):
        assert held_at(there, end) == pytest.approx(held_at(here, end), abs=0.0101)


def test_result_is_plain_data() -> None:
    result = hold(*waisted(45, 0.3), UP)
    assert json.loads(json.dumps(asdict(result)))["held"] is True
