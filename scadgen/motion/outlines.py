"""Outlines of faces in the half-plane of radius and height, and how far apart they lie.

An outline is the convex hull of six points, at places rounded to a grid.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np

    Array = np.ndarray[Any, Any]

#: Places are rounded to this, mm, so that faces that are the same but turned fall together.
GRID = 1e-5
#: By how much a distance between outlines may be off for that: both ends, both ways, mm.
OFF = 1.5 * GRID
#: Most pairs of outlines whose distance is worked out at once: what bounds the memory.
TOGETHER = 8_000
_DIAGONAL = math.sqrt(0.5)
#: Between which of the points sides of the hull may run: the first three are nearer to the axis
#: than the others, at the same heights, rising; so none leads across but at the lowest and highest.
_EDGES = [(0, 1), (0, 2), (0, 3), (1, 2), (2, 5), (3, 4), (3, 5), (4, 5)]


@dataclass(frozen=True, eq=False)
class Outlines:
    """Different outlines, and what has each.

    rows: (n, 9) whole numbers of GRID. order, first, count: indices of what has the k-th are
    ``order[first[k]:first[k] + count[k]]``. of_which: the outline that each has.
    """

    rows: Array
    of_which: Array
    order: Array
    first: Array
    count: Array

    @classmethod
    def of(cls, rows: Array) -> Outlines:
        import numpy as np

        ranked = np.lexsort(rows.T[::-1])
        new = np.ones(len(rows), bool)
        new[1:] = (rows[ranked[1:]] != rows[ranked[:-1]]).any(1)
        which = np.empty(len(rows), np.int64)
        which[ranked] = np.cumsum(new) - 1
        found, count = rows[ranked[new]], np.bincount(which)
        order = np.argsort(which, kind="stable")
        return cls(found, which, order, np.cumsum(count) - count, count)

    @cached_property
    def points(self) -> Array:
        """The six points of each, (n, 6, 2), mm."""
        import numpy as np

        inner, outer, height = np.split(self.rows * GRID, 3, axis=1)
        radius = np.concatenate([inner, outer], 1)
        return np.stack([radius, np.concatenate([height, height], 1)], 2)

    @cached_property
    def box(self) -> tuple[Array, Array]:
        """How far each reaches, mm: from low to high by radius, by height and along both diagonals.

        Each is (4, n). What is apart along any of these is so; cones mostly are along a diagonal.
        """
        import numpy as np

        radius, height = self.points[..., 0], self.points[..., 1]
        sides = (radius, height, (radius + height) * _DIAGONAL, (radius - height) * _DIAGONAL)
        return np.stack([each.min(1) for each in sides]), np.stack([each.max(1) for each in sides])

    def sides(self, some: Array) -> tuple[Array, Array]:
        """Ways out of some outlines, (n, 16, 2), and how far each of these reaches along them.

        They are those square to its sides; the others are along its own, and tell nothing wrong.
        """
        import numpy as np

        points = self.points[some]
        k, m = np.array(_EDGES).T
        along = points[:, m] - points[:, k]
        length = np.hypot(along[..., 0], along[..., 1])
        flat = np.stack([along[..., 1], -along[..., 0]], 2) / np.maximum(length, 1e-12)[..., None]
        ways = np.concatenate([flat, -flat], 1)
        reach = np.einsum("nkc,npc->nkp", ways, points).max(2)
        edge = np.einsum("nkc,nkc->nk", ways, np.concatenate([points[:, k]] * 2, 1))
        side = (reach - edge < 1e-9) & (np.concatenate([length] * 2, 1) > 1e-9)
        turn = np.where(side, np.round(np.arctan2(ways[..., 1], ways[..., 0]), 6), 9.0)
        order = np.argsort(turn, axis=1)
        turn = np.take_along_axis(turn, order, 1)
        turn[:, 1:][turn[:, 1:] == turn[:, :-1]] = 9.0  # the same way once more
        best = np.take_along_axis(order, np.argsort(turn, axis=1), 1)
        best = best[:, : max(1, int((turn < 9).sum(1).max()))]
        chosen = np.take_along_axis(ways, best[..., None], 1)
        return chosen, np.take_along_axis(reach, best, 1)

    @cached_property
    def columns(self) -> Array:
        """The points as (6, 2, n)."""
        import numpy as np

        return np.ascontiguousarray(self.points.transpose(1, 2, 0))

    def seen(self, which: Array) -> _Seen:
        """What tells how far the outline in each row reaches along its sides."""
        import numpy as np

        some, place = np.unique(which, return_inverse=True)
        ways, reach = self.sides(some)
        columns = np.ascontiguousarray(ways.transpose(1, 2, 0)), np.ascontiguousarray(reach.T)
        return _Seen(place.ravel(), *columns)

    def held(self, which: Array) -> tuple[Array, Array]:
        """What has each of some outlines, and for which of them it stands."""
        import numpy as np

        count = self.count[which]
        place = np.repeat(np.arange(len(which)), count)
        step = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
        return self.order[np.repeat(self.first[which], count) + step], place

    def holders(self, which: Array, other: Outlines, partner: Array) -> tuple[Array, Array]:
        """All pairs of what has an outline with what has its partner, from pairs of outlines."""
        import numpy as np

        mine, theirs = self.count[which], other.count[partner]
        total = mine * theirs
        place = np.arange(total.sum()) - np.repeat(np.cumsum(total) - total, total)
        wide = np.repeat(theirs, total)
        here = np.repeat(self.first[which], total) + place // np.maximum(wide, 1)
        there = np.repeat(other.first[partner], total) + place % np.maximum(wide, 1)
        return self.order[here], other.order[there]


@dataclass(frozen=True, eq=False)
class _Seen:
    """Outlines row by row: which of some it is; their ways as (m, 2, n), and how far each reaches
    along them, (m, n)."""

    place: Array
    ways: Array
    reach: Array

    def __getitem__(self, rows: slice) -> _Seen:
        return _Seen(self.place[rows], self.ways, self.reach)


def boxes(outlines: Outlines) -> Array:
    """The box around each outline, as (n, 2, 3); the last coordinate is 0."""
    import numpy as np

    ends = outlines.box
    return np.stack([np.stack([*end[:2], np.zeros(end.shape[1])], 1) for end in ends], 1)


def apart(one: Outlines, other: Outlines, i: Array, k: Array, margin: float) -> Array:
    """Distance between outlines, mm, less what rounding may have added; 0 where they overlap.

    From ``margin`` on it may be told as less than it is, but not as less than that.
    """
    import numpy as np

    margin += OFF
    (low, high), (lowest, highest) = one.box, other.box
    found = np.full(len(i), -np.inf)
    for a in range(len(low)):
        np.maximum(found, low[a].take(i) - highest[a].take(k), out=found)
        np.maximum(found, lowest[a].take(k) - high[a].take(i), out=found)
    close = np.flatnonzero(found < margin)
    seen = (one.seen(i[close]), other.seen(k[close])) if len(close) else ()
    for start in range(0, len(close), TOGETHER):
        rows = slice(start, start + TOGETHER)
        batch = close[rows]
        points = one.columns.take(i[batch], 2), other.columns.take(k[batch], 2)
        found[batch] = _distances(points, [each[rows] for each in seen], (found[batch], margin))
    return np.asarray(np.maximum(found - OFF, 0.0))


def _distances(
    points: tuple[Array, Array], seen: Sequence[_Seen], within: tuple[Array, float]
) -> Array:
    """The same as ``apart``, of outlines row by row, each as (6, 2, n).

    within: no distance is less, mm, and from where on it may be less.
    """
    import numpy as np

    gap, margin = np.maximum(within[0], 0.0), within[1]
    every = np.arange(len(gap))  # those that may still be nearer than the margin
    a, b = points
    for sides, corners in zip(seen, (b, a), strict=True):
        here = sides.place[every]
        corners = corners if len(every) == len(gap) else corners.take(every, 2)
        found = gap[every]
        for way, far in zip(sides.ways, sides.reach, strict=True):
            x, y = way.take(here, 1)
            along = x * corners[:, 0] + y * corners[:, 1]
            np.maximum(found, along.min(0) - far.take(here), out=found)
        gap[every] = found
        every = every[found < margin]
    some = every[gap[every] > 0]  # corners may be farther than sides tell
    a, b = a.take(some, 2), b.take(some, 2)
    square = np.full(len(some), np.inf)
    for corners, ring in ((a, b), (b, a)):
        for p, q in _EDGES:
            square = np.minimum(square, _to_edge(corners, ring[p], ring[q]))
    gap[some] = np.maximum(gap[some], np.sqrt(square))
    return np.asarray(gap)


def _to_edge(points: Array, start: Array, end: Array) -> Array:
    """The least square of a distance of six points, (6, 2, n), from an edge each, (2, n)."""
    import numpy as np

    ux, uy = end - start
    x, y = points[:, 0] - start[0], points[:, 1] - start[1]
    share = np.clip((x * ux + y * uy) / np.maximum(ux * ux + uy * uy, 1e-300), 0, 1)
    x -= share * ux
    y -= share * uy
    return np.asarray((x * x + y * y).min(0))
