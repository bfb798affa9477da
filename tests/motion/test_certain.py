"""The swing and the gap on the way hold between all angles, not at some only."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from scadgen.findings import on_motion
from scadgen.hinge.family import Hinge, all_families
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.mechanism.turn import Turn
from scadgen.motion.axis import Axis
from scadgen.motion.contact import meet
from scadgen.motion.least import FINE
from scadgen.motion.swing import SEARCH, Swing, swing
from tests.shapes import ASKEW, UP, box, rod

from ..support import sound

#: Longest step of arc, mm, at which thin parts were once looked for: shorter contacts were jumped.
ARC = 0.8
#: How closely a stop is found, degrees; where a sharp point is met, how closely it is seen.
STOP, SLOW = 0.01, 0.08
PIVOTS = [cls for cls in all_families().values() if issubclass(cls, Pivot)]


def least_seen(fixed: Manifold, moving: Manifold, axis: Axis, turns: np.ndarray) -> float:
    """The least gap at some turns (degrees), mm; 0 where they meet."""
    return float(min(fixed.min_gap(axis.turn(moving, turn), SEARCH) for turn in turns))


def assert_bracketed(
    fixed: Manifold, moving: Manifold, axis: Axis, found: Swing, within: float = STOP
) -> None:
    """Free at both ends, and met a little (degrees) beyond each stop."""
    assert found.bracket <= within + 1e-6
    for way, end, stopped in (
        (-1, found.low, found.stopped_low),
        (1, found.high, found.stopped_high),
    ):
        assert not meet(fixed, axis.turn(moving, end))
        if stopped:
            assert meet(fixed, axis.turn(moving, end + way * (found.bracket + 1e-9)))


def blades(radius: float, at: float, thick: float) -> tuple[Manifold, Manifold]:
    """A post out at a radius, turned, and a spoke that sweeps past it, both so thick (mm)."""
    half = thick / 2
    post = UP.turn(box((radius - half, -half, 0), (radius + half, half, 5)), at)
    return post + box((0, 0, 7), (60, 1, 8)), box((2, -half, 1), (60, half, 4))


def landing(radius: float, at: float, thick: float) -> float:
    """The turn that lands the spoke's face on the post's nearest corner."""
    half, near = thick / 2, radius - thick / 2
    return at - math.degrees(math.atan2(half, near) + math.asin(half / math.hypot(near, half)))


@pytest.mark.parametrize("radius", [55.0, 20.0, 8.0])
@pytest.mark.parametrize("thick", [0.02, 0.1])
def test_a_contact_between_two_samples_is_found(radius: float, thick: float) -> None:
    step = math.degrees(ARC / radius)
    at = 30.5 * step
    fixed, moving = blades(radius, at, thick)
    samples = np.arange(0, 360, step)
    assert not any(meet(fixed, UP.turn(moving, turn)) for turn in samples)  # it looks free
    found = swing(fixed, moving, UP)
    assert found.stopped_high
    assert found.high == pytest.approx(landing(radius, at, thick), abs=STOP)
    assert found.low == pytest.approx(2 * at - landing(radius, at, thick) - 360, abs=STOP)
    assert found.certain
    assert_bracketed(fixed, moving, UP, found)


@pytest.mark.parametrize("cls", PIVOTS, ids=lambda cls: cls.family)
def test_a_fin_beyond_the_leaves_of_a_hinge_is_found(cls: type[Hinge]) -> None:
    """A fin on each link, far out: with samples alone the hinge looks free past it."""
    whole = cls(facets=16).mechanism()
    (joint,) = whole.joints
    assert isinstance(joint, Turn)
    axis, thick = joint.about, 0.05
    fixed, moving = (whole.body(name).solid for name in joint.pair)
    radius = max(axis.reach(fixed)[0], axis.reach(moving)[0]) + 5
    step = math.degrees(ARC / radius)
    at = 12.5 * step
    post = box((radius - thick / 2, -thick / 2, 0), (radius + thick / 2, thick / 2, 3))
    spoke = box((radius - 2, -thick / 2, 1), (radius + 2, thick / 2, 2))
    upright = np.column_stack([*axis.frame, axis.origin])
    post, spoke = axis.turn(post.transform(upright), at), spoke.transform(upright)
    samples = np.arange(0, 2 * at, step)
    both = fixed + post, moving + spoke
    assert not any(meet(both[0], axis.turn(both[1], turn)) for turn in samples)
    found = swing(*both, axis)
    assert found.high == pytest.approx(landing(radius, at, thick), abs=STOP)
    assert found.certain
    assert_bracketed(*both, axis, found)


@pytest.mark.parametrize("gap", [0.25, 0.05])
def test_a_bump_that_comes_near_between_two_samples_is_found(gap: float) -> None:
    """A rib on the pin and a stud in the sleeve, their edges nearest at one turn."""
    pin = rod(5, 0, 8, 64) + box((4, -0.01, 2), (6, 0.01, 4))
    sleeve = rod(12, 0, 8, 64) - rod(10, -1, 9, 64)
    tip = math.hypot(6, 0.01) + gap
    stud = UP.turn(box((tip, -0.01, 2), (11, 0.01, 4)), 77.7)
    some = np.linspace(-90, 90, 24)
    assert least_seen(sleeve + stud, pin, UP, some) > gap + 0.1
    found = swing(sleeve + stud, pin, UP, within=(-90, 90))
    assert found.gap <= gap <= found.gap_most
    assert found.gap_most - found.gap <= FINE
    assert found.gap_at == pytest.approx(77.7, abs=0.5)
    held = swing(sleeve + stud, pin, UP, within=(-90, 90), aim=gap - 1e-6)
    assert held.gap >= gap - 1e-6  # whether it reaches what is asked is never left open


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 2**32 - 1), st.sampled_from([UP, ASKEW]))
def test_random_bodies_are_free_where_it_says(number: int, axis: Axis) -> None:
    rng = np.random.default_rng(number)
    fixed, moving = (Manifold.hull_points(rng.uniform(-9, 9, (5, 3))) for _ in range(2))
    moving = moving.translate(rng.uniform(-15, 15, 3))
    if meet(fixed, moving):
        return
    found = swing(fixed, moving, axis)
    turns = np.linspace(found.low, found.high, 400)
    assert not any(meet(fixed, axis.turn(moving, turn)) for turn in turns)
    if found.certain:
        assert_bracketed(fixed, moving, axis, found, SLOW)
    low, high = found.within
    seen = least_seen(fixed, moving, axis, np.linspace(low, high, 200))
    assert found.gap <= seen + 1e-9
    assert found.gap_most - found.gap <= FINE
    there = fixed.min_gap(axis.turn(moving, found.gap_at), SEARCH)
    assert found.gap - 1e-9 <= there <= found.gap_most + 1e-9


@pytest.mark.parametrize("cls", PIVOTS, ids=lambda cls: cls.family)
@settings(max_examples=2, deadline=None)
@given(st.data())
def test_hinges_are_free_where_it_says(cls: type[Hinge], data: st.DataObject) -> None:
    hinge = data.draw(sound(cls))
    whole = hinge.mechanism()
    (joint,) = whole.joints
    assert isinstance(joint, Turn)
    fixed, moving = (whole.body(name).solid for name in joint.pair)
    found = swing(fixed, moving, joint.about, within=joint.within())
    assert found.certain
    assert_bracketed(fixed, moving, joint.about, found, SLOW)  # few facets have sharp corners
    turns = np.linspace(found.low, found.high, 60)
    assert not any(meet(fixed, joint.about.turn(moving, turn)) for turn in turns)
    low, high = found.within
    seen = least_seen(fixed, moving, joint.about, np.linspace(low, high, 24))
    assert found.gap <= seen + 1e-9
    assert found.gap_most - found.gap <= FINE


def washers(apart: float) -> tuple[Manifold, Manifold]:
    """Two flat rings on each other, the upper one with a lug that a post stops."""
    ring = rod(6, 0, 2, 24) - rod(3, -1, 3, 24)
    lug = box((5, -0.5, 0), (9, 0.5, 2))
    post = UP.turn(box((7, -0.5, 0), (8, 0.5, 4)), 90)
    return ring + post, (ring + lug).translate((0, 0, 2 + apart))


def test_faces_that_touch_all_the_way_are_not_certain() -> None:
    found = swing(*washers(0), UP)
    assert not found.certain
    assert found.stopped_high
    assert found.high == pytest.approx(90, abs=10)
    pose = on_motion.Pose(*washers(0), UP)
    said = on_motion.free_turn(found, (0.0, 45.0), pose)
    assert not said.passed
    assert "not certified between samples from 0.0 to " in said.words
    assert not on_motion.gap_on_the_way(found, None, 0.0, pose).passed


def test_a_place_where_bodies_graze_is_named() -> None:
    """A rib and a stud that slide along each other at one place, and touch at no other."""
    rib = box((2, 0, 1), (3, 1, 4))
    wide = math.degrees(math.atan2(1, 2))
    stud = UP.turn(box((2, 0, 4), (3, 1, 8)), 40)
    found = swing(stud, rib, UP, limit=100)
    assert (found.low, found.high) == (-100, 100)
    first, last = found.unsure[0][0], found.unsure[-1][1]
    assert first == pytest.approx(40 - wide, abs=0.1)
    assert last >= 40 + wide - 0.1
    assert "not certified" in on_motion.certainty(found.unsure)
    assert on_motion.certainty([(20.0, 20.04)]).endswith("samples near 20.0 deg")


def test_faces_a_hair_apart_are_certain() -> None:
    found = swing(*washers(0.001), UP)
    assert found.certain
    assert found.gap <= 0.001 <= found.gap_most + 1e-9
    said = on_motion.free_turn(found, (0.0, 45.0), on_motion.Pose(*washers(0.001), UP))
    assert said.passed
    assert "for certain, between samples too" in said.words


def test_a_gap_on_the_way_says_what_was_shown() -> None:
    pose = on_motion.Pose(*washers(0.3), UP)
    found = swing(*washers(0.3), UP, within=(0, 45), aim=on_motion.least_allowed(0.3, 0.0))
    good = on_motion.gap_on_the_way(found, 0.3, 0.0, pose)
    assert good.passed
    assert "or more from 0 to 45 deg, for certain, between samples too" in good.words
    found = swing(*washers(0.3), UP, within=(0, 45), aim=on_motion.least_allowed(0.32, 0.0))
    short = on_motion.gap_on_the_way(found, 0.32, 0.0, pose)
    assert not short.passed
    assert short.words.startswith("0.300 mm at ")
    assert short.place is not None
