"""The axis: its frame and its turn."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from scadgen.motion.axis import Axis, Vector
from tests.shapes import ASKEW, UP, box

numbers = st.floats(-50, 50, allow_subnormal=False)
vectors = st.tuples(numbers, numbers, numbers)


def corners(solid: object) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    return np.asarray(solid.to_mesh64().vert_properties[:, :3])  # type: ignore[attr-defined]


@given(vectors)
def test_frame_is_square_and_right_handed(direction: Vector) -> None:
    assume(math.hypot(*direction) > 1e-3)
    frame = np.array(Axis((0, 0, 0), direction).frame)
    assert np.allclose(frame @ frame.T, np.eye(3), atol=1e-12)
    assert np.linalg.det(frame) == pytest.approx(1)
    assert np.allclose(frame[2] * math.hypot(*direction), direction)


def test_frame_of_an_upright_axis_is_the_world() -> None:
    assert UP.frame == ((1, 0, 0), (0, 1, 0), (0, 0, 1))


@given(vectors, vectors, st.floats(-720, 720))
def test_turn_keeps_distances_from_the_axis_and_comes_back(
    origin: Vector, direction: Vector, degrees: float
) -> None:
    assume(math.hypot(*direction) > 1e-3)
    axis = Axis(origin, direction)
    solid = box((1, 2, 3), (4, 6, 8))
    turned = axis.turn(solid, degrees)
    assert axis.reach(turned) == pytest.approx(axis.reach(solid), abs=1e-9)
    assert np.allclose(corners(axis.turn(turned, -degrees)), corners(solid), atol=1e-9)


@pytest.mark.parametrize("degrees", [90, 450, -270])
def test_quarter_turn_is_right_handed_and_exact(degrees: float) -> None:
    turned = UP.turn(box((1, 0, 0), (2, 1, 1)), degrees)
    assert turned.bounding_box() == (-1, 1, 0, 0, 2, 1)


def test_turn_goes_about_the_origin_of_the_axis() -> None:
    turned = Axis((5, 0, 0), (0, 0, 2)).turn(box((6, 0, 0), (7, 1, 1)), 180)
    assert turned.bounding_box() == (3, -1, 0, 4, 0, 1)


def test_cylinder_lies_about_the_axis() -> None:
    assert ASKEW.reach(ASKEW.cylinder(3.0, -2.0, 5.0, 32)) == pytest.approx((3, -2, 5))


@pytest.mark.parametrize(
    ("origin", "direction", "words"),
    [
        ((0, 0, 0), (0, 0, 0), "no length"),
        ((0, 0, math.nan), (0, 0, 1), "finite"),
        ((0, 0, 0), (0, math.inf, 1), "finite"),
    ],
)
def test_refuses_an_axis_without_direction_or_place(
    origin: Vector, direction: Vector, words: str
) -> None:
    with pytest.raises(ValueError, match=words):
        Axis(origin, direction)
