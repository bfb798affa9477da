"""Solids whose union a shape is, not merged: as far away as it, and drawn in less time."""

from __future__ import annotations

from itertools import chain
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.trees.solid import Chosen, Combined, Drawn, Noted, Shape
from scadgen.trees.to_mesh import to_meshes

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.trees.to_numpy import Numbers


def unmerged(shape: Shape, numbers: Numbers, turns: int) -> list[list[Manifold]]:
    """Parts of a solid (mm), which may overlap, in so many turns, of which symbols may be arrays.

    Raises ValueError where a measure is not a finite number.
    """
    match shape:
        case Combined(op="union", parts=parts):
            read = [unmerged(part, numbers, turns) for part in parts]
            return [list(chain.from_iterable(each)) for each in zip(*read, strict=True)]
        case Noted(child=noted):
            return unmerged(noted, numbers, turns)
        case Drawn(module=module, args=args, child=None):
            given = {n: numbers(a) for n, a in zip(module.params, args, strict=True)}
            return unmerged(module.body, numbers.within(**given), turns)
        case Chosen(cond=cond):
            return _chosen(shape, np.broadcast_to(numbers(cond), turns), numbers)
    return [[mesh] for mesh in to_meshes(shape, numbers, turns)]


def _chosen(shape: Chosen, cond: np.ndarray[Any, Any], numbers: Numbers) -> list[list[Manifold]]:
    found: list[list[Manifold]] = [[] for _ in cond]
    for taken, where in ((shape.yes, cond), (shape.no, ~cond)):
        some = np.flatnonzero(where)
        if taken is not None and len(some):
            for k, parts in zip(
                some, unmerged(taken, numbers.picked(some), len(some)), strict=True
            ):
                found[k] = parts
    return found
