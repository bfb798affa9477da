"""Joints that turn at once: what is called free is free in every pose that is tried."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.motion.arms import Arm, Step
from scadgen.motion.at_once import Budget, at_once
from scadgen.motion.axis import Axis
from scadgen.motion.contact import meet
from tests.support import thorough

BAR = Manifold.cube((10, 4, 4), True)
UP, ACROSS = (0.0, 0.0, 1.0), (0.0, 1.0, 0.3)


def arms(count: int, direction: tuple[float, float, float] = UP) -> tuple[Arm, Arm]:
    """The first and the last of a row of bars, seen from one between them."""
    steps = [Step(Axis((12.0 * k + 6, 0, 0), direction), k) for k in range(count)]
    half = count // 2
    back = tuple(replace(step, way=-1) for step in steps[:half][::-1])
    return Arm(BAR, back), Arm(BAR.translate((12 * count, 0, 0)), tuple(steps[half:]))


def test_three_turns_of_a_right_angle_close_a_row_of_four() -> None:
    """Four sides of a square: the last lies on the first when all are turned by 90 degrees."""
    found = at_once(*arms(3), [(-120, 120)] * 3)
    assert found.met is not None
    assert found.scale < 90 / 120
    meeting = [arm.placed(found.met) for arm in arms(3)]
    assert meet(*meeting)
    assert at_once(*arms(3), [(-45, 45)] * 3).certain


@pytest.mark.parametrize(("gap", "certain"), [(0.05, False), (0.15, True)])
def test_what_must_stay_apart_passes_no_nearer(gap: float, certain: bool) -> None:
    """A bar on two parallel axes passes over a plate, whatever the turns."""
    steps = (Step(Axis((0, 0, 0), UP), 0), Step(Axis((6, 0, 0), UP), 1))
    plate = Manifold.cube((60, 60, 2), True).translate((0, 0, -3 - gap))
    pair, spans = (Arm(plate), Arm(BAR, steps)), [(-30.0, 30.0)] * 2
    assert at_once(*pair, spans).certain
    found = at_once(*pair, spans, apart=0.1)
    assert found.certain is certain
    assert (found.met is None) is certain
    assert (found.scale > 0) is certain


@pytest.mark.parametrize("direction", [UP, ACROSS])
@pytest.mark.parametrize("count", [2, 3])
def test_nothing_meets_within_what_is_certain(
    count: int, direction: tuple[float, float, float]
) -> None:
    one, other = arms(count, direction)
    spans = [(-170.0, 150.0)] * count
    found = at_once(one, other, spans)
    assert 0.2 < found.scale < 1
    within = [(found.scale * low, found.scale * high) for low, high in spans]
    poses = [*itertools.product(*within)]
    low, high = np.transpose(within)
    poses += np.random.default_rng(1).uniform(low, high, (150, count)).tolist()
    assert not [pose for pose in poses if meet(one.placed(pose), other.placed(pose))]
    assert found.met is None or meet(one.placed(found.met), other.placed(found.met))


def askew(rng: np.random.Generator, count: int) -> tuple[Arm, Arm]:
    """Two blocks turned anyhow, one of them grooved, and so many axes anyhow between them."""
    size, turn = rng.uniform(3, 12, (2, 3)).tolist(), rng.uniform(0, 360, (2, 3)).tolist()
    one, other = (Manifold.cube(s, True).rotate(t) for s, t in zip(size, turn, strict=True))
    one = one - Manifold.cube((3, 3, 30), True).translate((1, 1, 0))
    steps = []
    for k in range(count):
        x, y, z = rng.uniform((12 * k, -4, -4), (12 * k + 12, 4, 4)).tolist()
        a, b, c = rng.normal(size=3).tolist()
        steps.append(Step(Axis((x, y, z), (a, b, c)), k))
    middle = int(rng.integers(0, count + 1))
    back = tuple(replace(step, way=-1) for step in steps[:middle][::-1])
    far = other.translate((12 * count * float(rng.uniform(0.7, 1.2)), 0, 0))
    return Arm(one, back), Arm(far, tuple(steps[middle:]))


def test_nothing_meets_within_what_is_certain_of_mechanisms_of_any_shape() -> None:
    """The search never knows these poses: it has only bounds of cells."""
    rng = np.random.default_rng(3)
    limited = 0
    for _ in range(200 if thorough() else 12):
        count = int(rng.integers(2, 5))
        one, other = askew(rng, count)
        if meet(one.solid, other.solid):
            continue
        spans = [(-float(a), float(b)) for a, b in rng.uniform(20, 170, (count, 2))]
        found = at_once(one, other, spans, budget=Budget(3000, 300))
        limited += not found.certain
        low, high = np.transpose(spans) * found.scale
        poses = rng.uniform(low, high, (40, count)).tolist()
        assert not [pose for pose in poses if meet(one.placed(pose), other.placed(pose))]
    assert limited


def test_what_bodies_may_stray_bounds_where_they_are_in_a_cell() -> None:
    arm = arms(4, ACROSS)[1]
    middle, half = np.array([[0.3, -0.2, 0.9, 0.5]]), np.array([[0.1, 0.2, 0.3, 0.15]])
    placed = arm.at(middle)
    ways = np.array([(1.0, 0, 0), (0, -1, 0), (0.6, 0, 0.8)])
    most = placed.farthest(half, ways)[0]
    rng = np.random.default_rng(2)
    for pose in (middle + half * rng.uniform(-1, 1, (60, 4))).tolist():
        there = arm.placed(np.degrees(pose)).to_mesh64().vert_properties
        assert np.all((there @ ways.T).max(0) <= most + 1e-9)
        strayed = np.linalg.norm(arm.at(np.array([pose])).places - placed.places, axis=2)
        assert np.all(strayed <= placed.ways(half) + 1e-9)


def test_a_joint_that_stays_is_where_it_is_told() -> None:
    """The first two bars at a right angle: the last comes back to the first at another."""
    one, other = arms(3)
    assert at_once(one, other, [(0, 0), (0, 120), (0, 0)]).certain
    found = at_once(one, other, [(90, 90), (90, 90), (0, 120)])
    assert found.met is not None
    assert found.met[:2] == (90, 90)
    assert 0 < found.scale * 120 <= found.met[2] < 90


def test_a_search_that_is_ended_says_what_is_left_and_what_is_certain_all_the_same() -> None:
    short = at_once(*arms(3), [(-120, 120)] * 3, budget=Budget(20, 20))
    long = at_once(*arms(3), [(-120, 120)] * 3)
    assert 0 < short.left <= 1
    assert 0 < short.scale <= long.scale
    assert long.left == 0


def test_bodies_that_only_come_near_are_told_as_near() -> None:
    """Bars whose corners touch at the end of the turn, and share nothing."""
    far = math.hypot(5, 2) * 2
    one = Arm(BAR, (Step(Axis((0, 0, 0), UP), 0),))
    other = Arm(BAR.translate((far, 0, 0)), (Step(Axis((far, 0, 0), UP), 1),))
    end = math.degrees(math.atan2(2, 5))
    found = at_once(one, other, [(0, end), (0, end)])
    assert found.met is None
    assert found.near is not None
    assert 0 <= found.near[0] < 0.05
    assert 0.9 < found.scale < 1
    assert at_once(one, other, [(0, end - 1), (0, end - 1)]).certain
