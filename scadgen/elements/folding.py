"""A flexure in finite elements: one border held, the other pulled across its fold and along it.

Small ways, under loads only: how far it bends, and the strain of that, is left to the formulas. The
pull across the fold acts level with the middle of what bends, so that it pulls and does not bend;
one along the fold in the middle of the border, so that it twists a web that lies lower. Moments
turn the border in the plane of the sheet, and twist it about the line across the fold.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from scadgen.elements.fill import Array, cells
from scadgen.elements.recovery import recovery
from scadgen.elements.skin import skin
from scadgen.elements.system import Body

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.fold import Fold
    from scadgen.mechanism.mechanism import Mechanism

#: So much of each border (mm) is kept, if it is there, and so far from its edge one is held.
BORDER, HELD = 4.0, 3.0
#: The pull along the fold acts on the sides of what is kept of the moving border, within this of
#: its end, mm; a side looks so squarely (cosine) along the fold.
EDGE, SQUARE = 1.0, 0.9
#: Half the thickness of the slab in which what bends is measured, mm.
SLAB = 0.05


@dataclass(frozen=True)
class FoldLoad:
    """Forces on the moving border, across the fold and along it, either way (N).

    turned: moment in the plane of the sheet; twisted: about the line across the fold (N mm).
    """

    name: str
    across: float
    along: float
    turned: float = 0.0
    twisted: float = 0.0

    @property
    def moments(self) -> str:
        """The moments in words; empty for none."""
        parts = {"turned by": self.turned, "twisted by": self.twisted}
        return " and ".join(f"{how} {moment:.3g}" for how, moment in parts.items() if moment)

    def ways(self) -> Iterator[tuple[float, ...]]:
        """All signs of all of them."""
        each = (self.across, self.along, self.turned, self.twisted)
        yield from itertools.product(*((part, -part) if part else (0.0,) for part in each))


@dataclass(frozen=True, eq=False)
class Sheet:
    """What bends of a flexure, and so much of its borders. across: from the fixed one on.

    near, far: where the borders begin, along ``across``, mm.
    """

    solid: Manifold
    across: Array
    line: Array
    near: float
    far: float
    elastic: Array

    def cut(self, size: float, reach: float) -> FoldCut:
        """Solve it in cubes of a size (mm), stress fitted over a reach (mm)."""
        low, _ = _ends(self.solid, self.across)
        held = max(self.near - HELD, low + size)
        body = Body(cells(self.solid, size), self.elastic, lambda p: p @ self.across < held)
        outside = skin(self.solid, size)
        inside = body.cells.middles[body.cells.filled > 1 - 1e-9]
        points = np.concatenate((outside.points, inside))
        normals = np.concatenate((outside.normals, np.zeros_like(inside)))
        at = points @ self.across
        told = (at > held + 2 * size) & (at < self.far)
        found = recovery(body.cells, points[told], normals[told], reach)
        loads = [body.forces(*where) for where in self._loads(size)]
        stresses = [found.at_places(body.stresses(ways)) for ways in body.solve(loads)]
        return FoldCut(size, points[told], stresses, [self.across, self.line, *np.zeros((2, 3))])

    def _loads(self, size: float) -> Iterator[tuple[Array, Array]]:
        """Where 1 N across the fold, 1 N along it, and 1 N mm about both lines square to it act,
        and as which forces."""
        pieces = skin(self.solid, size)
        at, up = pieces.points @ self.across, pieces.points[:, 2]
        low, high = self.heights
        end = at > _ends(self.solid, self.across)[1] - 1e-6
        level = end & (up > low) & (up < high)
        share = pieces.areas[level] / pieces.areas[level].sum()
        yield pieces.points[level], np.outer(share, self.across)
        sides = (at > at[end].min() - EDGE) & (abs(pieces.normals @ self.line) > SQUARE)
        share = pieces.areas[sides] / pieces.areas[sides].sum()
        # A couple on the end makes of it a force at the border's near edge.
        beside = pieces.points[end] @ self.line
        couple = pieces.areas[end] * (beside - np.average(beside, weights=pieces.areas[end]))
        couple *= (share @ at[sides] - self.far) / (couple @ beside)
        forces = (np.outer(share, self.line), np.outer(couple, self.across))
        yield np.concatenate((pieces.points[sides], pieces.points[end])), np.concatenate(forces)
        lever = pieces.areas[end] * (beside - np.average(beside, weights=pieces.areas[end]))
        lever /= lever @ beside
        for way in (self.across, np.cross(self.line, self.across)):
            yield pieces.points[end], np.outer(lever, way)

    @cached_property
    def heights(self) -> tuple[float, float]:
        """From where to where what bends reaches, half-way between the borders (mm)."""
        middle = (self.near + self.far) / 2
        slab = _between(self.solid, self.across, middle - SLAB, middle + SLAB)
        box = slab.bounding_box()
        return float(box[2]), float(box[5])


@dataclass(frozen=True, eq=False)
class FoldCut:
    """A sheet solved in cubes of one size: stress at its places for 1 N or 1 N mm each way."""

    size: float
    points: Array
    units: list[Array]
    ways: list[Array]

    @property
    def answers(self) -> tuple[FoldCut]:
        """Itself: a sheet is one body."""
        return (self,)

    def directions(self) -> list[Array]:
        """Across the fold and along it; moments have none."""
        return self.ways

    def stress(self, link: int, way: tuple[float, ...]) -> Array:
        """Stress at its places under forces and moments in all ways (n, 6), MPa."""
        total: Array = np.tensordot(way, np.array(self.units[: len(way)]), axes=1)
        return total


def sheet_of(whole: Mechanism, fold: Fold, elastic: Array) -> Sheet:
    """What bends of a flexure that lies flat, with a strip of both its borders."""
    assert whole.whole is not None
    line = np.array(fold.line, float)
    across = np.cross(fold.face, line)
    fixed, moving = (_ends(whole.body(name).solid, across) for name in fold.pair)
    if fixed[0] > moving[0]:
        across, fixed, moving = -across, (-fixed[1], -fixed[0]), (-moving[1], -moving[0])
    near, far = fixed[1], moving[0]
    solid = _between(whole.whole.solid, across, near - BORDER, far + BORDER)
    return Sheet(solid, across, line, near, far, elastic)


def _ends(solid: Manifold, way: Array) -> tuple[float, float]:
    """From where to where a solid reaches along a way, mm."""
    along = solid.to_mesh64().vert_properties[:, :3] @ way
    return float(along.min()), float(along.max())


def _between(solid: Manifold, way: Array, low: float, high: float) -> Manifold:
    """What of a solid lies between two places along a way (mm)."""
    x, y, z = map(float, way)
    return solid.trim_by_plane((x, y, z), low).trim_by_plane((-x, -y, -z), -high)
