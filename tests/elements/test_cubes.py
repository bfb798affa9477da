"""Cubes filled in part: what they weigh, that an even strain stays even, and what they are for."""

from __future__ import annotations

import builtins
import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.elements import fill
from scadgen.elements.brick import elasticity
from scadgen.elements.fill import Cells, cells
from scadgen.elements.recovery import recovery
from scadgen.elements.skin import skin
from scadgen.elements.solver import NotSolved, Solver
from scadgen.elements.system import Body

ALIKE = elasticity(2000, 2000, 0.3, 2000 / 2.6, 2000 / 2.6)
LAYERED = elasticity(2000, 1200, 0.38, 2000 / 2.76, 1200 / 2.76)


def test_cubes_weigh_what_the_solid_weighs() -> None:
    solid = Manifold.sphere(4, 96) - Manifold.cylinder(9, 1.3, center=True).rotate((20, 30, 0))
    found = cells(solid, 0.7)
    assert found.filled.sum() * 0.7**3 == pytest.approx(solid.volume(), rel=2e-3)
    assert found.filled.max() <= 1
    assert found.filled.min() >= fill.LEAST


def test_an_empty_solid_is_refused() -> None:
    with pytest.raises(ValueError, match="empty"):
        cells(Manifold(), 0.5)


def test_a_plastic_is_weaker_across_its_layers_and_alike_within_them() -> None:
    flexible = np.linalg.inv(LAYERED)
    assert 1 / flexible[0, 0] == pytest.approx(2000)
    assert 1 / flexible[2, 2] == pytest.approx(1200)
    assert 1 / flexible[5, 5] == pytest.approx(2000 / 2.76)
    assert 1 / flexible[3, 3] == pytest.approx(1200 / 2.76)
    around = np.array((0.3, -0.3, 0, 0, 0, 0.0))  # turned by 45 degrees: all shear
    assert (LAYERED @ around)[0] == pytest.approx((LAYERED @ [0, 0, 0, 0, 0, 0.6])[5])


ASKEW = (0, 25, 15)
ALONG = np.array((math.cos(math.radians(25)) * np.cos(np.radians(15)), 0.0, 0.0))
ALONG[1] = ALONG[0] * math.tan(math.radians(15))
ALONG[2] = -math.sin(math.radians(25))


@dataclass(frozen=True)
class Pulled:
    """A bar askew in the grid under a pull of 1 MPa: its lengthening over what it should be."""

    solid: Manifold
    body: Body
    ways: Any
    longer: float


def pulled(size: float, stairs: bool = False) -> Pulled:
    """The bar in cubes of a size, or in stairs of whole ones."""
    solid = Manifold.cube((20, 3, 3), True).rotate(ASKEW)
    made = cells(solid, size)
    if stairs:
        made = made.kept(made.filled >= 0.5)
        made = Cells(made.size, made.origin, made.shape, made.places, np.ones_like(made.parts))
    body = Body(made, ALIKE, lambda points: points @ ALONG < -6)
    outside = skin(solid, size)
    end = outside.kept(outside.normals @ ALONG > 0.99)
    (ways,) = body.solve([body.forces(end.points, np.outer(end.areas, ALONG))])
    low, high = body.at(ways, np.outer((-2.0, 6.0), ALONG)) @ ALONG
    return Pulled(solid, body, ways, float(high - low) / (8 / 2000))


def test_an_even_pull_stays_even_in_cubes_that_are_cut_askew() -> None:
    bar = pulled(0.6)
    assert bar.longer == pytest.approx(1, abs=0.015)
    places = skin(bar.solid, 0.6)
    sides = places.kept(abs(places.points @ ALONG - 2) < 4)
    found = recovery(bar.body.cells, sides.points, sides.normals, 1.2)
    stress = found.at_places(bar.body.stresses(bar.ways))
    along = np.einsum("ni,i->n", stress[:, :3], ALONG**2)
    for part, (i, j) in ((3, (1, 2)), (4, (2, 0)), (5, (0, 1))):
        along = along + 2 * stress[:, part] * ALONG[i] * ALONG[j]
    assert along.mean() == pytest.approx(1, abs=0.02)
    assert along.std() < 0.06


def test_cubes_that_count_by_what_is_filled_beat_stairs_of_whole_cubes() -> None:
    """Why cubes are cut: the error of the lengthening, at three sizes."""
    sizes = (0.9, 0.7, 0.55)
    cut = [abs(pulled(size).longer - 1) for size in sizes]
    stairs = [abs(pulled(size, stairs=True).longer - 1) for size in sizes]
    assert max(cut) < 0.02
    assert np.mean(stairs) > 2 * np.mean(cut)


def test_a_loose_part_is_named_and_never_solved() -> None:
    held, loose = Manifold.cube((6, 2, 2)), Manifold.cube((2, 2, 2)).translate((8, 0, 0))
    body = Body(cells(held + loose, 0.5), ALIKE, lambda points: points[:, 0] < 0.6)
    force = body.forces(np.array([[9.0, 1, 1]]), np.array([[1.0, 0, 0]]))
    with pytest.raises(NotSolved, match="loose"):
        body.solve([force])


def test_the_same_is_found_again_to_the_last_digit_and_others_draw_on() -> None:
    body = Body(cells(Manifold.cube((9, 3, 3)), 0.3), ALIKE, lambda points: points[:, 0] < 0.1)
    force = body.forces(np.array([[8.9, 1, 1]]), np.array([[1.0, 0, 2]]))
    np.random.seed(1)
    drawn = np.random.rand()
    np.random.seed(1)
    first, second = (
        Solver(body.stiffness, body.corners[body.free])(force[body.free].reshape(-1, 1))
        for _ in range(2)
    )
    assert np.random.rand() == drawn
    assert (first == second).all()


def test_without_its_library_the_extra_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    real = builtins.__import__

    def without(name: str, *rest: Any, **more: Any) -> Any:
        if name == "pyamg":
            raise ModuleNotFoundError(name)
        return real(name, *rest, **more)

    body = Body(cells(Manifold.cube((4, 2, 2)), 0.5), ALIKE, lambda points: points[:, 0] < 0.1)
    force = body.forces(np.array([[3.9, 1, 1]]), np.array([[1.0, 0, 0]]))
    monkeypatch.setattr(builtins, "__import__", without)
    with pytest.raises(ModuleNotFoundError, match=r"pip install '\.\[solid\]'"):
        body.solve([force])
