"""Small parts: bodies of known size in the cylinder of 16 CFR 1501.4, figure 1."""

from __future__ import annotations

import math

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.handover import small_parts
from scadgen.handover.small_parts import BORE, DEEP, LONGEST, SHALLOW, may_be_small_part

TURN = (17.0, 34.0, 51.0)


def ball(diameter: float) -> Manifold:
    return Manifold.sphere(diameter / 2, 24)


def rod(length: float) -> Manifold:
    return Manifold.cube((length, 0.02, 0.02), True)


def plug(diameter: float, length: float) -> Manifold:
    return Manifold.cylinder(length, diameter / 2, circular_segments=64)


def test_the_cylinder_is_that_of_the_rule_in_inches() -> None:
    assert pytest.approx(1.25 * 25.4) == BORE
    assert pytest.approx(1.00 * 25.4) == SHALLOW
    assert pytest.approx(2.25 * 25.4) == DEEP
    assert pytest.approx(BORE) == DEEP - SHALLOW  # the slope is one of 45 degrees
    assert pytest.approx(65.38, abs=0.01) == LONGEST


# Source: 16 CFR 1501.4 fig. 1; the longest rod (65.38 mm) and the largest ball (31.75 mm) that fit
# were found by brute force, once.
@pytest.mark.parametrize(
    ("body", "small"),
    [
        (ball(31.7), True),
        (ball(34), False),
        (rod(65.2), True),
        (rod(65.5), False),
        (plug(31.6, 25.2), True),  # as deep as the shallow side
        (plug(31.6, 27), False),  # it stands on the slope and sticks out
        (plug(20, 40), True),
        (Manifold.cube((22, 22, 22)), True),  # its side's diagonal is 31.1 mm
        (Manifold.cube((24, 24, 24)), False),  # its least shadow is 33.9 mm wide
        (Manifold.cube((55, 30, 2)), True),
        (Manifold.cube((44, 36, 2)), False),
    ],
)
def test_bodies_of_known_size(body: Manifold, small: bool) -> None:
    assert may_be_small_part(body) is small
    assert may_be_small_part(body.rotate(TURN).translate((50, -20, 7))) is small


def test_whatever_was_cut_out_of_the_cylinder_may_be_a_small_part() -> None:
    """Bodies made to fit, then turned anyhow, are never missed."""
    rng = np.random.default_rng(3)
    for _ in range(12):
        points = rng.uniform(-1, 1, (300, 3)) * (BORE / 2, BORE / 2, DEEP / 2) - (0, 0, DEEP / 2)
        inside = np.hypot(points[:, 0], points[:, 1]) <= BORE / 2
        inside &= points[:, 2] >= -(SHALLOW + BORE / 2 + points[:, 0])
        body = Manifold.hull_points(points[inside][: rng.integers(5, 60)])
        assert may_be_small_part(body.rotate(rng.uniform(0, 360, 3)))


def test_the_net_leaves_no_hole_wider_than_it_says() -> None:
    count = 800
    net = small_parts._hemisphere(count)
    any_way = np.random.default_rng(1).normal(size=(20_000, 3))
    any_way /= np.linalg.norm(any_way, axis=1, keepdims=True)
    nearest = np.abs(any_way @ net.T).max(axis=1)  # a way and its opposite are one axis
    assert math.acos(nearest.min()) < 2.2 / math.sqrt(count)


def test_a_finer_net_covers_the_circle_around_each_way() -> None:
    spread = 0.08
    way = np.array([[0.6, 0.0, 0.8]])
    finer = small_parts._finer(way, spread)
    first, second = small_parts._square_to(way)
    for turn in np.linspace(0, 2 * math.pi, 60):
        for share in (0.5, 0.86, 1.0):
            tilt = math.tan(share * spread)
            other = way + tilt * (math.cos(turn) * first + math.sin(turn) * second)
            other /= np.linalg.norm(other)
            assert math.acos(min(1.0, float((finer @ other.T).max()))) <= spread / 2 * 1.01
