"""Solids whose union a shape is, not merged: as far away as it, and drawn in less time."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from scadgen.trees.solid import Chosen, Combined, Drawn, Noted, Shape
from scadgen.trees.to_mesh import to_mesh

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.trees.to_numpy import Numbers


def unmerged(shape: Shape, numbers: Numbers) -> Iterator[Manifold]:
    """Parts of a solid (mm), which may overlap."""
    match shape:
        case Combined(op="union", parts=parts):
            for one in parts:
                yield from unmerged(one, numbers)
        case Noted(child=noted):
            yield from unmerged(noted, numbers)
        case Drawn(module=module, args=args, child=None):
            given = {n: numbers(a) for n, a in zip(module.params, args, strict=True)}
            yield from unmerged(module.body, numbers.within(**given))
        case Chosen(cond=cond, yes=yes, no=no):
            taken = yes if numbers(cond) else no
            if taken is not None:
                yield from unmerged(taken, numbers)
        case _:
            yield to_mesh(shape, numbers)
