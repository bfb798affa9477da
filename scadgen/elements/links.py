"""The two links of a turning joint, each alone: held at its leaf, pushed where the other bears.

Each push of 1 N square to the axis or along it is solved for every stretch of the bearing; how the
stretches share a push follows from how far both links give way there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from scadgen.elements.bearing import Zone, facing, shared, zones
from scadgen.elements.fill import Array, Cells, cells
from scadgen.elements.recovery import Recovery, recovery
from scadgen.elements.skin import Skin, skin
from scadgen.elements.system import Body

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.motion.axis import Axis

#: Edges (mm) of the pieces of skin on which bearings are looked for.
PIECES = 0.35
#: Within this many cubes of the clamp nothing is told: the clamp's own edge is not there.
BESIDE = 2.0


@dataclass(frozen=True, eq=False)
class Held:
    """How a link is held, and how it is cut: beyond ``radius`` (mm) from the axis it is clamped.

    size: of the cubes, mm. reach: over which stress is fitted, mm. elastic: stress per strain.
    """

    axis: Axis
    radius: float
    size: float
    reach: float
    elastic: Array

    def beyond(self, points: Array) -> Array:
        """How far points are from the axis, mm."""
        apart = points - np.array(self.axis.origin)
        along = apart @ np.array(self.axis.unit)
        far: Array = np.linalg.norm(apart - along[:, None] * np.array(self.axis.unit), axis=1)
        return far


@dataclass(frozen=True, eq=False)
class Answer:
    """What a link does under pushes: stress at its places, and how far its zones give way.

    stresses: for each push and zone, (n, 6), MPa per N. gives_way: for each push, between its
    zones, mm per N.
    """

    points: Array
    stresses: list[list[Array]]
    gives_way: list[Array]
    cubes: int

    def under(self, push: int, shares: Array) -> Array:
        """Stress per N of a push that its zones share so."""
        total = np.zeros((len(self.points), 6))
        for share, one in zip(shares, self.stresses[push], strict=True):
            total += share * one
        return total


def pushes(axis: Axis) -> list[Array]:
    """Four ways square to the axis and two along it, as unit vectors."""
    one, other, along = (np.array(way) for way in axis.frame)
    return [one, -one, other, -other, along, -along]


def bearing_zones(
    fixed: Skin, moving: Skin, axis: Axis
) -> tuple[list[list[Zone]], list[list[Zone]]]:
    """For each push of the fixed link on the moving one the zones of both."""
    here, there = facing(fixed, moving, axis), facing(moving, fixed, axis)
    both = [zones(here, there, axis, push) for push in pushes(axis)]
    return [one for one, _ in both], [other for _, other in both]


def answer(solid: Manifold, held: Held, zoned: Sequence[Sequence[Zone]]) -> Answer:
    """What a link does under a push of 1 N on each of its zones."""
    made = Body(_not_all_held(solid, held), held.elastic, lambda p: held.beyond(p) > held.radius)
    points, found = _places(solid, made.cells, held)
    flat = [zone for group in zoned for zone in group]
    loads = [made.forces(zone.points, zone.forces) for zone in flat]
    ways = iter(made.solve(loads))
    left = iter(loads)
    stresses, gives_way = [], []
    for group in zoned:
        moved = [next(ways) for _ in group]
        pushed = [next(left) for _ in group]
        stresses.append([found.at_places(made.stresses(one)).astype(np.float32) for one in moved])
        gives_way.append(np.array([[np.vdot(a, b) for b in moved] for a in pushed]))
    return Answer(points, stresses, gives_way, len(made.cells.places))


def _not_all_held(solid: Manifold, held: Held) -> Cells:
    """The cubes of a link without those that are clamped all over."""
    every = cells(solid, held.size)
    middles = every.origin + (every.places + 0.5) * every.size
    return every.kept(held.beyond(middles) < held.radius + every.size)


def _places(solid: Manifold, cubes: Cells, held: Held) -> tuple[Array, Recovery]:
    """Where stress is told: on the skin, and in the middles of whole cubes."""
    outside = skin(solid, 1.5 * held.size)
    inside = cubes.middles[cubes.filled > 1 - 1e-9]
    points = np.concatenate((outside.points, inside))
    normals = np.concatenate((outside.normals, np.zeros_like(inside)))
    clear = held.beyond(points) < held.radius - BESIDE * held.size
    points, normals = points[clear], normals[clear]
    return points, recovery(cubes, points, normals, held.reach)


def shares_of(one: Answer, other: Answer) -> list[Array]:
    """For each push how its zones share it, by how far both links give way."""
    pairs = zip(one.gives_way, other.gives_way, strict=True)
    return [shared(a + b) if len(a) else np.zeros(0) for a, b in pairs]
