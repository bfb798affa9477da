"""Solids whose union a shape is, not merged: as far away as it, and drawn in less time."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.trees.solid import Chosen, Combined, Drawn, Noted, Shape
from scadgen.trees.to_mesh import Raise, extruded, to_meshes

if TYPE_CHECKING:
    from scadgen.trees.to_numpy import Numbers


def unmerged(
    shape: Shape, numbers: Numbers, turns: int, raised: Raise = extruded
) -> list[list[Any]]:
    """Parts of a solid (mm), which may overlap, in so many turns, of which symbols may be arrays.

    They are meshes, or what ``raised`` makes of outlines instead.
    Raises ValueError where a measure is not a finite number.
    """
    match shape:
        case Combined(op="union", parts=parts):
            read = [unmerged(part, numbers, turns, raised) for part in parts]
            return [list(chain.from_iterable(each)) for each in zip(*read, strict=True)]
        case Noted(child=noted):
            return unmerged(noted, numbers, turns, raised)
        case Drawn(module=module, args=args, child=None):
            given = {n: numbers(a) for n, a in zip(module.params, args, strict=True)}
            return unmerged(module.body, numbers.within(**given), turns, raised)
        case Chosen(cond=cond):
            return _chosen(shape, np.broadcast_to(numbers(cond), turns), numbers, raised)
    return [[mesh] for mesh in to_meshes(shape, numbers, turns, raised)]


def _chosen(
    shape: Chosen, cond: np.ndarray[Any, Any], numbers: Numbers, raised: Raise
) -> list[list[Any]]:
    found: list[list[Any]] = [[] for _ in cond]
    for taken, where in ((shape.yes, cond), (shape.no, ~cond)):
        some = np.flatnonzero(where)
        if taken is not None and len(some):
            parts = unmerged(taken, numbers.picked(some), len(some), raised)
            for k, there in zip(some, parts, strict=True):
                found[k] = there
    return found
