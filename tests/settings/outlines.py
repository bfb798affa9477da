"""Outlines as claims: each stretch keeps its direction, and no two stretches cross.

An outline drawn so for one setting, that keeps the directions of its stretches along both axes and
has no two that cross, is never turned inside out. A stretch that turns with an angle has no
direction of its own; there only crossing counts.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from scadgen.trees.expr import Call, Expr, Op, free, walk
from scadgen.trees.to_linear import structure
from tests.settings.conditions import Margins

Claims = tuple[Margins, ...]


@dataclass(frozen=True, eq=False)
class Corner:
    """A corner of an outline, told in the fields of a family."""

    x: Any
    y: Any


def edges(corners: Sequence[Corner]) -> list[tuple[Corner, Corner]]:
    return list(zip(corners, (*corners[1:], corners[0]), strict=True))


def turns(edge: tuple[Corner, Corner]) -> bool:
    """Whether a stretch turns with an angle; the facets of a circle are none."""
    nodes = walk(*(value for corner in edge for value in (corner.x, corner.y)))
    circular = [n for n in nodes if isinstance(n, Call) and n.name in ("sin", "cos")]
    return any(free(node) - {"facets"} for node in circular)


def directions(corners: Sequence[Corner]) -> Iterator[tuple[str, Expr]]:
    """How far each stretch runs along an axis, where it runs along it at all."""
    for number, edge in enumerate(edges(corners)):
        if not turns(edge):
            for axis in "xy":
                start, end = (getattr(corner, axis) for corner in edge)
                run = Op("-", end, start)
                if structure(start) != structure(end):
                    yield f"stretch {number} along {axis}", run


def apart(corners: Sequence[Corner]) -> Iterator[tuple[str, Claims]]:
    """For each two stretches without a common corner: along which line one is before the other."""
    around = edges(corners)
    if any(map(turns, around)):
        return
    for (i, one), (k, other) in itertools.combinations(enumerate(around), 2):
        if k - i in (1, len(around) - 1):
            continue
        found = (
            tuple(Op("-", _along(way, q), _along(way, p)) for p in near for q in far)
            for way in ((1, 0), (0, 1), (1, 1), (1, -1))
            for near, far in ((one, other), (other, one))
        )
        yield f"stretches {i} and {k} apart", tuple(found)


def _along(way: tuple[int, int], corner: Corner) -> Any:
    return corner.x * way[0] + corner.y * way[1]
