"""Solids as the outlines that they are raised from and where they were moved to: not made yet.

It takes a mesh's place where a tree is read, as long as outlines are raised, moved
and put together.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from typing import Any

import manifold3d as m3
import numpy as np

from scadgen.trees.solid import Child, Chosen, Combined, Drawn, Extruded, Moved, Noted, Repeated
from scadgen.trees.solid import Shape as Tree
from scadgen.trees.to_mesh import extruded
from scadgen.trees.to_numpy import VALUES

Vector = Sequence[float]
Matrix = np.ndarray[Any, Any]


@dataclass(frozen=True, eq=False)
class One:
    """An outline raised by a height (mm), half to each side if centered, then moved so."""

    outline: m3.CrossSection
    height: float
    centered: bool
    moves: tuple[tuple[str, tuple[float, ...]], ...] = ()

    def made(self) -> m3.Manifold:
        """Its mesh."""
        solid = extruded(self.outline, self.height, self.centered)
        for op, way in self.moves:
            solid = getattr(solid, op)(way)
        return solid

    def place(self) -> tuple[Matrix, list[float]]:
        """Where it was moved to: what its x, y and z have become, and its origin (mm)."""
        turned, origin = np.eye(3), [0.0, 0.0, 0.0]
        for op, way in self.moves:
            if op == "translate":
                origin = [a + b for a, b in zip(origin, way, strict=True)]
            else:
                turned = _matrix(op, way) @ turned
                origin = (_matrix(op, way) @ origin).tolist() if any(origin) else origin
        return turned, origin


@dataclass(frozen=True, eq=False)
class Raised:
    """Solids whose union is meant."""

    every: tuple[One, ...]

    @classmethod
    def of(cls, outline: m3.CrossSection, height: float, centered: bool) -> Raised:
        """What an outline is raised to; nothing if it is empty."""
        return cls(() if outline.is_empty() else (One(outline, height, centered),))

    @classmethod
    def batch_boolean(cls, parts: Sequence[Raised], op: m3.OpType) -> Raised:
        """Their union, which is all that there may be."""
        assert op == m3.OpType.Add, op
        return cls(tuple(one for part in parts for one in part.every))

    def translate(self, way: Vector) -> Raised:
        return self._moved("translate", way)

    def rotate(self, way: Vector) -> Raised:
        return self._moved("rotate", way)

    def mirror(self, way: Vector) -> Raised:
        return self._moved("mirror", way)

    def _moved(self, op: str, way: Vector) -> Raised:
        move = op, tuple(way)
        return Raised(
            tuple(One(o.outline, o.height, o.centered, (*o.moves, move)) for o in self.every)
        )

    @cached_property
    def solid(self) -> m3.Manifold:
        """The mesh of all."""
        made = [one.made() for one in self.every]
        return made[0] if len(made) == 1 else m3.Manifold.batch_boolean(made, m3.OpType.Add)


def solid_of(part: Raised | m3.Manifold) -> m3.Manifold:
    """A part as a solid, made if it was not yet."""
    return part.solid if isinstance(part, Raised) else part


@lru_cache(maxsize=64)
def _matrix(op: str, way: tuple[float, ...]) -> Matrix:
    """The matrix of a turn about x, then y, then z (degrees), or of a mirror square to a vector."""
    if op == "mirror":
        square = np.array(way)
        mirrored: Matrix = np.eye(3) - 2 * np.outer(square, square) / (square @ square)
        return mirrored
    found = np.eye(3)
    for k, degrees in enumerate(way):
        turn, (i, j) = np.eye(3), ((k + 1) % 3, (k + 2) % 3)
        turn[[i, j], [i, j]] = VALUES["cos"](degrees)
        turn[j, i] = VALUES["sin"](degrees)
        turn[i, j] = -turn[j, i]
        found = turn @ found
    return found


@cache
def only_raised(tree: Tree) -> bool:
    """Whether a solid is outlines raised, moved and put together, and nothing else."""
    match tree:
        case Extruded() | Child():
            return True
        case Moved() | Noted() | Repeated() | Chosen() | Drawn() | Combined(op="union"):
            return all(only_raised(node) for node in _solids_below(tree))
    return False


def _solids_below(tree: Tree) -> Iterator[Tree]:
    match tree:
        case Combined(parts=parts):
            yield from parts
        case Chosen(yes=yes, no=no):
            yield from (node for node in (yes, no) if node is not None)
        case Drawn(module=module, child=applied):
            yield from (module.body, *((applied,) if applied and applied.dim == 3 else ()))
        case Moved(child=child) | Noted(child=child) | Repeated(child=Tree() as child):
            yield child
