"""The grid of distances, against all triangles one by one and against a closed form."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.hinge.family import all_families
from scadgen.hinge.meshing import mesh
from scadgen.motion.field import BAND, Field
from scadgen.motion.skin import skin_of

SOUND = [name for name, cls in all_families().items() if cls().kind == "pivot"]


def nodes_of(field: Field, count: int) -> np.ndarray[Any, Any]:
    """Places (3, n) on random nodes of the grid, less its outermost."""
    nodes = np.random.default_rng(3).integers(0, field.nodes - 1, (count, 3))
    places: np.ndarray[Any, Any] = (field.low + nodes * field.step).T + 1e-9
    return places


def test_a_box_is_as_far_as_its_closed_form_says() -> None:
    field = Field(
        skin_of(Manifold.cube((4, 3, 2), center=True)), *np.array([[-3.0] * 3, [3.0] * 3])
    )
    places = nodes_of(field, 5000)
    over = np.abs(places) - np.array([[2.0], [1.5], [1.0]])
    told = np.linalg.norm(np.maximum(over, 0), axis=0) + np.minimum(over.max(0), 0)
    told = np.where(told < -BAND, BAND, np.minimum(told, BAND))  # deeper inside counts as far
    assert field.at(places) == pytest.approx(told, abs=1e-6)


@pytest.mark.parametrize("name", SOUND)
def test_no_triangle_that_is_nearest_is_left_out(name: str) -> None:
    skin = skin_of(mesh(all_families()[name](), "fixed", angle=0))
    low, high = skin.points.min(0) - 1, skin.points.max(0) + 1
    field = Field(skin, low, high)
    places = nodes_of(field, 1500)
    every = np.arange(len(skin.triangles))
    least = [skin.distances(np.tile(p[:, None], len(every)), every)[0].min() for p in places.T]
    told = np.minimum(np.sqrt(least), BAND)
    assert np.abs(field.at(places)) == pytest.approx(told, abs=1e-6)
