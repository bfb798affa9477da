"""The axis: found on round walls wherever the model stands, told, or not there."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.hinge.family import Hinge
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.meshing import mesh
from scadgen.inspection import pivot
from scadgen.tables.documents import JobError
from tests.inspection.models import MOVED, PIVOTS, TURNED

each_pivot = pytest.mark.parametrize("cls", PIVOTS.values(), ids=PIVOTS)


def carried(solid: Manifold) -> Manifold:
    return solid.transform(np.column_stack([TURNED, MOVED]))


def misses(found: pivot.FoundAxis, origin: Any, direction: Any) -> tuple[float, float]:
    """How far the axis passes the point (mm), and its angle to the direction (degrees)."""
    way = np.asarray(direction, float) / np.linalg.norm(direction)
    off = np.subtract(found.axis.origin, origin)
    sine = np.linalg.norm(np.cross(found.axis.unit, way))
    return float(np.linalg.norm(np.cross(off, way))), float(
        np.degrees(np.arcsin(np.clip(sine, 0, 1)))
    )


def assert_is(
    found: pivot.FoundAxis,
    origin: Any,
    direction: Any,
    within: tuple[float, float] = (0.02, 0.1),
) -> None:
    """The axis is the line, within so many mm and degrees."""
    off, angle = misses(found, origin, direction)
    assert off < within[0]
    assert angle < within[1]


@each_pivot
@pytest.mark.parametrize("facets", [16, 64])
def test_the_axis_of_every_pivot_is_found(cls: type[Hinge], facets: int) -> None:
    hinge = cls(facets=facets)
    assert isinstance(hinge, Pivot)
    found = pivot.found(mesh(hinge, "fixed"), mesh(hinge, "moving"))
    assert_is(found, *hinge.axis())
    assert found.sure == "sure"
    assert found.walls is not None
    assert found.walls.facets == facets


@each_pivot
def test_the_axis_is_found_wherever_the_model_stands(cls: type[Hinge]) -> None:
    hinge = cls(facets=32)
    assert isinstance(hinge, Pivot)
    found = pivot.found(carried(mesh(hinge, "moving")), carried(mesh(hinge, "fixed")))
    origin, direction = (np.array(vector) for vector in hinge.axis())
    assert_is(found, TURNED @ origin + MOVED, TURNED @ direction)
    assert found.sure == "sure"


def test_an_opened_hinge_has_the_same_axis() -> None:
    cls = next(iter(PIVOTS.values()))
    hinge = cls(facets=32)
    assert isinstance(hinge, Pivot)
    opened = mesh(dataclasses.replace(hinge, angle=37), "moving")
    found = pivot.found(mesh(hinge, "fixed"), opened)
    assert_is(found, *hinge.axis())


def test_the_axis_of_a_pin_is_found_beside_rounder_things_on_one_body() -> None:
    """A bearing of few facets, and on one body a far bigger round wall that the other has not."""
    pin = Manifold.cylinder(8, 2, 2, 12, True)
    drum = Manifold.cylinder(30, 20, 20, 200).translate((25, 0, 6))
    eye = (Manifold.cube((9, 9, 4), True) - Manifold.cylinder(5, 2.4, 2.4, 12, True)).rotate(
        (0, 0, 9)
    )
    found = pivot.found(
        pin.translate((3, 4, 0)) + drum.translate((0, 0, -2)), eye.translate((3, 4, 0))
    )
    assert_is(found, (3, 4, 0), (0, 0, 1))


def test_rounding_as_in_files_moves_it_by_less_than_it_rounds() -> None:
    cls = next(iter(PIVOTS.values()))
    hinge = cls(facets=64)
    assert isinstance(hinge, Pivot)
    noise = np.random.default_rng(2)

    def rough(solid: Manifold) -> Manifold:
        return solid.warp_batch(lambda points: points + noise.normal(0, 1e-4, points.shape))

    found = pivot.found(rough(mesh(hinge, "fixed")), rough(mesh(hinge, "moving")))
    assert_is(found, *hinge.axis(), within=(0.002, 0.02))


def test_boxes_have_no_axis() -> None:
    box = Manifold.cube((5, 5, 5))
    with pytest.raises(JobError, match=r"no axis found: .* Tell the axis: a point on it in mm"):
        pivot.found(box, box.translate((5.3, 0, 0)))


def test_round_walls_side_by_side_are_no_bearing() -> None:
    post = Manifold.cylinder(9, 3, 3, 64)
    with pytest.raises(JobError, match="no axis found"):
        pivot.found(post, post.translate((6.4, 0, 0)))


def test_a_pin_that_is_stuck_has_its_axis_and_is_doubtful() -> None:
    pin = Manifold.cylinder(8, 2, 2, 48, True) + Manifold.cube((9, 1, 1), True)
    eye = Manifold.cylinder(6, 6, 6, 48, True) - Manifold.cylinder(9, 2.4, 2.4, 48, True)
    eye -= Manifold.cube((9.02, 1.02, 1.02), True)
    found = pivot.found(pin, eye)
    assert_is(found, (0, 0, 0), (0, 0, 1))
    assert found.sure == "doubtful"
    assert "not even a little turn is free" in found.words


def test_an_axis_that_is_told_is_taken() -> None:
    box = Manifold.cube((5, 5, 5))
    found = pivot.told((1, 2, 3, 0, 2, 0), box, box.translate((9, 0, 0)))
    assert (found.axis.origin, found.axis.unit, found.sure) == ((1, 2, 3), (0, 1, 0), "told")
    assert "through (1, 2, 3) along (0, 1, 0); as told; a turn from -4 to 4" in found.words


@pytest.mark.parametrize("values", [(0, 0, 0, 0, 0, 0), (0, 0, 1), (0, 0, float("nan"), 0, 0, 1)])
def test_what_is_no_axis_is_refused(values: tuple[float, ...]) -> None:
    box = Manifold.cube((5, 5, 5))
    with pytest.raises(JobError, match="it must be six numbers, a point in mm and a direction"):
        pivot.told(values, box, box)
