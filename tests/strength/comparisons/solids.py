"""Finite elements on solids against published answers, by the path that judges hinges."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import manifold3d
import numpy as np

from scadgen.elements.brick import elasticity
from scadgen.elements.fill import cells
from scadgen.elements.recovery import recovery
from scadgen.elements.skin import Skin, skin
from scadgen.elements.system import Body
from scadgen.strength import leaf, loop, torsion
from tests.strength.compared import MEMORY, Comparison, Source, compares, share

MODULUS, POISSON = 2000.0, 0.3
SHEAR = MODULUS / (2 * (1 + POISSON))
ALIKE = elasticity(MODULUS, MODULUS, POISSON, SHEAR, SHEAR)
MODEL = "cubes and straight courses of stress are a model"
ALLOWED = share(0.03)
#: Reach of a recovered stress, in cubes.
REACH = 2.0

Array = np.ndarray[Any, Any]
Which = Callable[[Array], Array]


@dataclass(frozen=True, eq=False)
class Loaded:
    """A solid cut into cubes, held and loaded: its body, its skin, and the ways of its corners."""

    body: Body
    skin: Skin
    ways: Array

    def stress(self, which: Array, part: int) -> Array:
        """One part of the stress at some pieces of the skin (MPa)."""
        some = self.skin.kept(which)
        size = self.body.cells.size
        found = recovery(self.body.cells, some.points, some.normals, REACH * size)
        return found.at_places(self.body.stresses(self.ways))[:, part]


def loaded(solid: Any, size: float, held: Which, traction: Callable[[Skin], Array]) -> Loaded:
    """The solid under forces on its skin: traction in MPa at each piece of it."""
    body = Body(cells(solid, size), ALIKE, held)
    pieces = skin(solid, 0.8 * size)
    forces = traction(pieces) * pieces.areas[:, None]
    (ways,) = body.solve([body.forces(pieces.points, forces)])
    return Loaded(body, pieces, ways)


def _facing(pieces: Skin, way: tuple[float, float, float]) -> Array:
    looks: Array = pieces.normals @ np.array(way) > 0.99
    return looks


@compares("Finite elements on solids")
def plate_with_a_hole() -> Iterator[Comparison]:
    """Howland's plate: a hole of a third of its width, pulled by 1 MPa far away."""
    wide, long, hole, size = 15.0, 22.0, 5.0, 0.175
    round_ = manifold3d.Manifold.cylinder(3, hole / 2, circular_segments=128)
    plate = manifold3d.Manifold.cube((long, wide, size))
    plate = plate - round_.translate((long / 2, wide / 2, -1))
    pulled = loaded(
        plate,
        size,
        lambda points: points[:, 0] < 1e-6,
        lambda pieces: np.outer(pieces.points[:, 0] > long - 1e-6, (1, 0, 0)),
    )
    away = np.hypot(pulled.skin.points[:, 0] - long / 2, pulled.skin.points[:, 1] - wide / 2)
    rim = (away < hole / 2 + 0.01) & (abs(pulled.skin.normals[:, 2]) < 0.1)
    ours = pulled.stress(rim, 0).max()
    left = 1 - hole / wide
    theirs = (2 + 0.284 * left - 0.600 * left**2 + 1.32 * left**3) / left
    source = Source("Howland 1930 by Heywood's fit, in Peterson's Stress Concentration", MEMORY)
    yield Comparison("plate with a hole, MPa", "d/W 1/3", ours, theirs, ALLOWED, source, MODEL)


@compares("Finite elements on solids")
def thick_cylinder() -> Iterator[Comparison]:
    """Lame's ring under pressure from inside, held by a spot of its rim."""
    outer, bore, size = 16.0, 8.0, 0.25
    sides = {"circular_segments": 128}
    ring = manifold3d.Manifold.cylinder(size, outer / 2, **sides)
    ring = ring - manifold3d.Manifold.cylinder(3, bore / 2, **sides).translate((0, 0, -1))

    def inside(pieces: Skin) -> Array:
        away = np.hypot(pieces.points[:, 0], pieces.points[:, 1])
        found: Array = (away < bore / 2 + 0.05) & (abs(pieces.normals[:, 2]) < 0.1)
        return found

    spot = np.array((outer / 2, 0))
    pressed = loaded(
        ring,
        size,
        lambda points: np.hypot(*(points[:, :2] - spot).T) < 2 * size,
        lambda pieces: -pieces.normals * inside(pieces)[:, None],
    )
    at = inside(pressed.skin) & (abs(pressed.skin.points[:, 1]) < 0.6)
    ours = pressed.stress(at & (pressed.skin.points[:, 0] < 0), 1).mean()
    theirs = loop.hoop_at_bore(1, outer, bore)
    source = Source("Lame, in Timoshenko, Goodier, Theory of Elasticity, art. 28", MEMORY)
    yield Comparison("thick ring, hoop, MPa", "D/d 2", ours, theirs, ALLOWED, source, MODEL)


@compares("Finite elements on solids")
def curved_beam() -> Iterator[Comparison]:
    """A bow of a half turn with straight legs, bent by a moment in the end of one of them."""
    outside, inside, leg, size = 10.0, 6.0, 8.0, 0.25
    sides = {"circular_segments": 128}
    disc = manifold3d.Manifold.cylinder(size, outside, **sides)
    bow = (disc - manifold3d.Manifold.cylinder(3, inside, **sides).translate((0, 0, -1))) ^ (
        manifold3d.Manifold.cube((40, 20, 20)).translate((-20, 0, -10))
    )
    legs = manifold3d.Manifold.cube((outside - inside, leg, size))
    bow = bow + legs.translate((inside, -leg, 0)) + legs.translate((-outside, -leg, 0))
    middle, half = (outside + inside) / 2, (outside - inside) / 2
    moment = 2 / 3 * half**2 * size  # of 1 MPa at the edges of the leg

    def bent(pieces: Skin) -> Array:
        end = (pieces.points[:, 1] < 1e-6 - leg) & (pieces.points[:, 0] > 0)
        return np.outer(end * (pieces.points[:, 0] - middle) / half, (0, 1, 0))

    turned = loaded(
        bow, size, lambda points: (points[:, 0] < 0) & (points[:, 1] < 1e-6 - leg), bent
    )
    away = np.hypot(turned.skin.points[:, 0], turned.skin.points[:, 1])
    top = (abs(turned.skin.points[:, 0]) < 1) & (abs(turned.skin.normals[:, 2]) < 0.1)
    ours = abs(turned.stress(top & (abs(away - inside) < 0.05), 0)).mean()
    theirs = moment / size * _golovin(inside, outside)
    source = Source("Golovin 1881, in Timoshenko, Goodier, Theory of Elasticity, art. 29", MEMORY)
    yield Comparison("curved beam, MPa", "R/r 5/3", ours, theirs, ALLOWED, source, MODEL)


def _golovin(a: float, b: float) -> float:
    """Stress at the inside of a curved beam of thickness 1 under a moment of 1."""
    log, wall = math.log(b / a), b * b - a * a
    return 4 * abs(wall - 2 * b * b * log) / (wall**2 - 4 * (a * b * log) ** 2)


@compares("Finite elements on solids")
def cantilever() -> Iterator[Comparison]:
    """A beam that stands askew in the grid, held behind its root, with a force at its end."""
    long, side, force = 24.0, 4.0, 10.0
    root, size = 6.0, 0.5
    beam = manifold3d.Manifold.cube((long + root, side, side)).translate((-root, 0, 0))
    turn = beam.rotate((0, 0, 20))
    way, up = np.array((math.cos(math.pi / 9), math.sin(math.pi / 9), 0)), np.array((0, 0, 1.0))
    bent = loaded(
        turn,
        size,
        lambda points: points @ way < 1e-6,
        lambda pieces: np.outer(_facing(pieces, tuple(way)) * force / side**2, up),
    )
    end = _facing(bent.skin, tuple(way))
    ours = (bent.body.at(bent.ways, bent.skin.points[end]) @ up).mean()
    sheared = force * long / (5 / 6 * side**2 * SHEAR)
    theirs = force * long**3 / (3 * MODULUS * side**4 / 12) + sheared
    source = Source("Timoshenko's beam, shear factor 5/6", MEMORY)
    case = "24 x 4 x 4, 20 deg askew"
    yield Comparison("cantilever, way, mm", case, ours, theirs, ALLOWED, source, MODEL)
    over = (abs(bent.skin.points @ way - long / 2) < 1) & _facing(bent.skin, (0, 0, 1))
    along = sum(
        bent.stress(over, part) * factor
        for part, factor in ((0, way[0] ** 2), (1, way[1] ** 2), (5, 2 * way[0] * way[1]))
    )
    theirs = leaf.bending_stress(force, long / 2, side, side)
    source = Source("Euler and Bernoulli's beam", MEMORY)
    yield Comparison(
        "cantilever, stress, MPa", case, float(-np.mean(along)), theirs, ALLOWED, source, MODEL
    )


@compares("Finite elements on solids")
def twisted_bar() -> Iterator[Comparison]:
    """A square bar under a torque in its end; looked at far from both ends."""
    long, side, size = 12.0, 4.0, 0.25
    bar = manifold3d.Manifold.cube((side, side, long), True).translate((0, 0, long / 2))

    def torque(pieces: Skin) -> Array:
        end = _facing(pieces, (0, 0, 1))[:, None]
        around: Array = end * np.cross((0, 0, 1), pieces.points)
        return around

    polar = side**4 / 6  # the torque of these forces
    turned = loaded(bar, size, lambda points: points[:, 2] < 1e-6, torque)
    at = turned.skin
    level = abs(at.points[:, 2] - long / 2) < 1
    ours = abs(turned.stress(level & _facing(at, (1, 0, 0)), 3)).max()
    theirs = polar / (0.208 * side**3)  # alpha of a square, from the table there
    source = Source("Saint-Venant, in Timoshenko, Goodier, art. 109", MEMORY)
    yield Comparison("square bar, shear, MPa", "4 x 4", ours, theirs, ALLOWED, source, MODEL)
    rise = [_turn(turned, z) for z in (3.0, 9.0)]
    ours, theirs = rise[1] - rise[0], 6 * polar / (SHEAR * torsion.constant(side, side))
    yield Comparison("square bar, turn", "over 6 mm", ours, theirs, ALLOWED, source, MODEL)


def _turn(turned: Loaded, height: float) -> float:
    """How far a section has turned (radians): mean way around the axis over the radius."""
    corners = np.array([(x, y, height) for x in (-1.5, 1.5) for y in (-1.5, 1.5)])
    around = np.cross((0, 0, 1), corners)
    ways = turned.body.at(turned.ways, corners)
    return float(np.mean((ways * around).sum(axis=1) / (around**2).sum(axis=1)))
