"""How much room outlines have in another: distances in the plane, and what lies inside of what."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy
    from manifold3d import CrossSection

    Array = numpy.ndarray[Any, Any]


#: Most pairs of edges whose boxes are looked at together: what bounds the memory.
TOGETHER = 400_000


def room_around(outlines: Sequence[CrossSection], room: CrossSection, limit: float) -> float:
    """Smallest distance from outlines to what is not in the room, mm, looked for up to the limit.

    0 where they reach out of it.
    """
    import numpy as np

    sides = room.to_polygons()
    every = [outline.to_polygons() for outline in outlines]
    loops = [loop for some in every for loop in some]
    if not loops:
        return limit
    if not sides:
        return 0.0
    one, other = edges(loops), edges(sides)
    for i, k in _near(one, other, limit):
        limit = min(limit, _least(one[i], other[k]))
        if not limit:
            return 0.0
    starts = np.array([loop[0] for loop in loops])
    if not (inside(starts, sides).sum(axis=1) % 2 == 1).all():
        return 0.0
    starts = np.array([loop[0] for loop in sides])
    within = (inside(starts, some).sum(axis=1) % 2 == 1 for some in every if some)
    return 0.0 if any(found.any() for found in within) else limit


def edges(loops: Sequence[Array]) -> Array:
    """The edges of loops, in their order, as an array [edge, end, xy]."""
    import numpy as np

    ends = [np.concatenate([loop[1:], loop[:1]]) for loop in loops]
    return np.stack([np.concatenate(loops), np.concatenate(ends)], axis=1)


def inside(points: Array, loops: Sequence[Array]) -> Array:
    """Whether each point is inside of each loop, as an array [point, loop]."""
    import numpy as np

    (start_x, start_y), (end_x, end_y) = edges(loops).transpose(1, 2, 0)
    x, y = points[:, :1], points[:, 1:]
    passed = (start_y > y) != (end_y > y)
    rise = np.where(passed, end_y - start_y, 1.0)
    passed &= x < start_x + (y - start_y) * (end_x - start_x) / rise
    firsts = np.cumsum([0, *map(len, loops[:-1])])
    found: Array = np.add.reduceat(passed, firsts, axis=1, dtype=int) % 2 == 1
    return found


def _near(one: Array, other: Array, margin: float) -> Iterator[tuple[Array, Array]]:
    """Indices of edges whose boxes come within the margin, in batches; few of many pairs do."""

    (left, low), (right, high) = other.min(axis=1).T - margin, other.max(axis=1).T + margin
    step = max(1, TOGETHER // len(other))
    for first in range(0, len(one), step):
        some = one[first : first + step]
        least, most = some.min(axis=1)[:, :, None], some.max(axis=1)[:, :, None]
        near = least[:, 0] <= right
        near &= most[:, 0] >= left
        near &= least[:, 1] <= high
        near &= most[:, 1] >= low
        i, k = near.nonzero()
        if len(i):
            yield i + first, k


def _least(one: Array, other: Array) -> float:
    """Smallest distance of an edge from its partner; 0 where two cross.

    Where an edge ends another of its loop starts, which is a partner as well if that is as near.
    """
    import numpy as np

    (p, q), (r, s) = one.transpose(1, 0, 2), other.transpose(1, 0, 2)
    beside = _cross(q - p, r - p) * _cross(q - p, s - p) < 0
    beside &= _cross(s - r, p - r) * _cross(s - r, q - r) < 0
    if beside.any():
        return 0.0
    return float(np.sqrt(min(_to_edges(p, other).min(), _to_edges(r, one).min())))


def _to_edges(points: Array, lines: Array) -> Array:
    """The square of each point's distance to its edge."""
    import numpy as np

    run, way = lines[:, 1] - lines[:, 0], points - lines[:, 0]
    along = (way * run).sum(axis=1) / np.maximum((run * run).sum(axis=1), 1e-300)
    off = way - np.clip(along, 0, 1)[:, None] * run
    found: Array = (off * off).sum(axis=1)
    return found


def _cross(one: Array, other: Array) -> Array:
    found: Array = one[:, 0] * other[:, 1] - one[:, 1] * other[:, 0]
    return found
