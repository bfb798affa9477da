"""Boxes about an axis tell only of bodies that can't meet, and of most of them."""

from __future__ import annotations

import math

import numpy as np
import pytest

from scadgen.motion.axis import Axis
from scadgen.motion.contact import far_apart, meet
from scadgen.motion.sweeps import Sweeps
from tests.shapes import ASKEW, UP, box

#: Random pairs of boxes, and angles at which each is looked at, degrees.
PAIRS, LOOKS = 60, np.arange(0.0, 360.0, 3.0)


@pytest.mark.parametrize("axis", [UP, ASKEW, Axis((1, 2, 0), (1, 0, 0))])
def test_what_is_told_to_be_free_never_meets(axis: Axis) -> None:
    rng = np.random.default_rng(1)
    corners = rng.uniform(-12, 12, (2 * PAIRS, 3))
    solids = [box(tuple(at), tuple(at + rng.uniform(0.5, 6, 3))) for at in corners]
    still, moving = np.arange(PAIRS), np.arange(PAIRS, 2 * PAIRS)
    ways = Sweeps.of(solids, axis).free(still, moving)
    told = {-1: np.degrees(ways[0]), 1: np.degrees(ways[1])}
    free = met = 0
    for k in range(PAIRS):
        for way, until in told.items():
            for angle in LOOKS:
                meets = meet(solids[k], axis.turn(solids[PAIRS + k], way * angle))
                assert not (meets and angle < until[k])
                met += meets
        free += math.isinf(told[1][k])
    assert met > PAIRS
    assert free > PAIRS / 10


def test_two_arms_are_free_until_the_angle_between_their_boxes() -> None:
    arms = [box((5, -1, 0), (9, 1, 2)), box((-9, -1, 0), (-5, 1, 2)), box((5, -1, 3), (9, 1, 4))]
    down, up = Sweeps.of(arms, UP).free(np.array([0, 0]), np.array([1, 2]))
    between = 180 - 2 * math.degrees(math.atan2(1, 5))
    assert np.degrees([down[0], up[0]]) == pytest.approx([between] * 2, abs=1e-3)
    assert np.isinf([down[1], up[1]]).all()  # one stands above the other


def test_boxes_tell_how_far_apart_bodies_are_at_least() -> None:
    one, other = box((0, 0, 0), (1, 1, 1)), box((3, 0, 0), (4, 1, 1))
    assert far_apart(one, other, 2.0)
    assert not far_apart(one, other, 2.01)
