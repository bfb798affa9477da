"""Near pairs and nearest points, against trying all and against closed forms."""

from __future__ import annotations

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.motion.boxes import near_pairs
from scadgen.motion.nearest import closest, to_triangles


def some_boxes(count: int, seed: int) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    rng = np.random.default_rng(seed)
    low = rng.random((count, 3)) * 10
    return np.stack([low, low + rng.random((count, 3))], 1)


@pytest.mark.parametrize(("count", "other"), [(1, 1), (7, 300), (300, 7), (64, 65)])
@pytest.mark.parametrize("margin", [0.0, 0.5])
def test_near_pairs_are_those_that_trying_all_finds(count: int, other: int, margin: float) -> None:
    a, b = some_boxes(count, 1), some_boxes(other, 2)
    found = [(i, j) for x, y in near_pairs(a, b, margin) for i, j in zip(x, y, strict=True)]
    near = (a[:, None, 0] <= b[:, 1] + margin) & (b[:, 0] <= a[:, None, 1] + margin)
    assert sorted(found) == sorted(map(tuple, np.argwhere(near.all(2))))


def test_near_pairs_within_a_set_come_once_and_never_with_themselves() -> None:
    a = some_boxes(150, 3)
    found = [
        frozenset((int(i), int(j)))
        for x, y in near_pairs(a, None, 0.0)
        for i, j in zip(x, y, strict=True)
    ]
    near = ((a[:, None, 0] <= a[:, 1]) & (a[:, 0] <= a[:, None, 1])).all(2)
    assert len(set(found)) == len(found)
    assert set(found) == {frozenset(map(int, pair)) for pair in np.argwhere(np.triu(near, 1))}


def test_nothing_is_near_nothing() -> None:
    assert list(near_pairs(np.zeros((0, 2, 3)), some_boxes(3, 0), 1.0)) == []


@pytest.mark.parametrize(
    ("point", "distance", "foot"),
    [
        ((1, 1, 5), 5, (1, 1, 0)),
        ((-3, 1, 4), 5, (0, 1, 0)),
        ((-3, -4, 0), 5, (0, 0, 0)),
        ((5, 5, 0), 3 * np.sqrt(2), (2, 2, 0)),
    ],
)
def test_point_to_triangle(
    point: tuple[float, ...], distance: float, foot: tuple[float, ...]
) -> None:
    triangle = np.array([[[0, 0, 0], [4, 0, 0], [0, 4, 0]]], float)
    found, place = to_triangles(np.array([point], float), triangle)
    assert found == pytest.approx([distance])
    assert place[0] == pytest.approx(foot)


def test_two_crossed_bars_are_closest_where_their_edges_pass() -> None:
    bar = Manifold.cube((40, 2, 2), True).rotate((45, 0, 0))
    other = bar.rotate((0, 0, 90)).translate((0, 0, 2 * np.sqrt(2) + 0.7))
    near = closest(bar, other, 12.0)
    assert near.gap == pytest.approx(0.7)
    assert near.fixed == pytest.approx((0, 0, np.sqrt(2)), abs=1e-9)
    assert near.moving == pytest.approx((0, 0, np.sqrt(2) + 0.7), abs=1e-9)
    assert near.angle == 12.0


@pytest.mark.parametrize("way", [(0, 0, 0), (30, 40, 50)])
def test_a_spot_between_fine_meshes_is_where_it_is_between_coarse_ones(
    way: tuple[float, float, float],
) -> None:
    pin = Manifold.cylinder(9, 2, 2, 32, True).translate((0.1, 0, 0)).rotate(way)
    eye = (Manifold.cylinder(6, 5, 5, 32, True) - Manifold.cylinder(9, 2.5, 2.5, 32, True)).rotate(
        way
    )
    coarse = closest(pin, eye)
    fine = closest(pin.refine_to_length(0.3), eye.refine_to_length(0.3))
    assert fine.gap == pytest.approx(coarse.gap, abs=1e-6)
    apart = np.linalg.norm(np.subtract(fine.fixed, fine.moving))
    assert apart == pytest.approx(coarse.gap, abs=1e-6)


def test_points_lie_as_far_apart_as_the_gap_that_manifold_measures() -> None:
    rng = np.random.default_rng(4)
    for _ in range(10):
        one = Manifold.hull_points(rng.normal(size=(30, 3)))
        other = Manifold.hull_points(rng.normal(size=(30, 3)) + np.array([7, 3, 5]))
        near = closest(one, other)
        assert near.gap == pytest.approx(one.min_gap(other, 50.0))
        assert np.linalg.norm(np.subtract(near.fixed, near.moving)) == pytest.approx(near.gap)
