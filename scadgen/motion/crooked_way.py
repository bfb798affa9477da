"""The search for a crooked way out, where no straight pull gets one body free of another."""

from __future__ import annotations

import heapq
import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from scadgen.motion.contact import clear
from scadgen.motion.obstacle import gives_way

if TYPE_CHECKING:
    from collections.abc import Iterator

    from manifold3d import Manifold

    from scadgen.motion.axis import Axis, Vector

Cell = tuple[int, int, int]

#: Poses in which a way is looked for, at most: a wide room on a fine grid has millions.
MOST = 5_000


@dataclass(frozen=True)
class Way:
    """What a search came to.

    end: where a way out ends, the shift, mm, that sets the body free; None where none was found.
    poses: that were tried. stopped: whether it ended there with room left that was not looked at.
    """

    end: Vector | None
    poses: int
    stopped: bool = False


def way_out(
    fixed: Manifold, moving: Manifold, axis: Axis, step: float, limit: float, most: int = MOST
) -> Way:
    """Look for a way out without turning, in so many poses at ``most``.

    Fills the room that `moving` has, from where it is, on a grid of `step` (mm) set on the axis.
    Free means clear of each other, or shifted by `limit`. Obstacles no thicker than a graze do not
    count. A way with a step of room on every side of `moving` is found, a tighter one perhaps not.
    """
    frame = axis.frame
    seen: set[Cell] = {(0, 0, 0)}
    farthest_first = [(0, (0, 0, 0))]
    while farthest_first:
        for cell in _neighbours(heapq.heappop(farthest_first)[1]):
            if cell in seen:
                continue
            seen.add(cell)
            shift = _shift(cell, frame, step)
            moved = moving.translate(shift)
            if clear(fixed, moved) or math.hypot(*shift) >= limit:
                return Way(shift, len(seen))
            if len(seen) >= most:
                return Way(None, len(seen), stopped=True)
            if gives_way(fixed ^ moved, frame):
                heapq.heappush(farthest_first, (-sum(n * n for n in cell), cell))
    return Way(None, len(seen))


def _neighbours(cell: Cell) -> Iterator[Cell]:
    for k, move in product(range(3), (1, -1)):
        x, y, z = (n + move * (k == axis) for axis, n in enumerate(cell))
        yield x, y, z


def _shift(cell: Cell, frame: tuple[Vector, Vector, Vector], step: float) -> Vector:
    x, y, z = (
        step * sum(count * vector[k] for count, vector in zip(cell, frame, strict=True))
        for k in range(3)
    )
    return x, y, z
