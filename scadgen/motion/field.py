"""How far points are from the skin of a solid: a grid of signed distances, filled where asked."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.motion.skin import Skin, ranked

if TYPE_CHECKING:
    Array = np.ndarray[Any, Any]

#: Distances beyond this, mm, are not told apart.
BAND = 0.6
#: Step of the grid, mm, and the most nodes that it may have: a large hinge gets a coarser one.
FINE, NODES = 0.2, 4_000_000
#: Nodes of the grid to the side of a cell; the triangles near a cell are listed once for all of it.
CELL = 3
#: From this far, mm, on beyond half the diagonal of a cube of the grid, its nearest node will do.
CLOSE = 0.06
#: Corners of a cube of the grid.
CORNERS = np.array([(i, j, k) for i in (0, 1) for j in (0, 1) for k in (0, 1)])


class Field:
    """Signed distances, mm, from a solid's skin: negative inside, cut off at the band.

    Exact near a flat face; beside a sharp edge up to a quarter of the grid's step off. A place
    deeper than the band inside, or outside the box, counts as far outside: come to it in steps
    that are shorter than the band.
    """

    def __init__(self, skin: Skin, low: Array, high: Array) -> None:
        size = high - low
        self.step = max(FINE, math.cbrt(float(np.prod(size)) / NODES))
        self.low = low
        self.cells = np.ceil(size / (CELL * self.step)).astype(np.int64) + 1
        self.nodes = self.cells * CELL
        self.strides = np.array([self.nodes[1] * self.nodes[2], self.nodes[2], 1])
        self.values = np.full(int(np.prod(self.nodes)), np.nan, dtype=np.float32)
        self.corners = CORNERS @ self.strides
        self.skin = skin
        self.starts, self.counts, self.near = self._lists()
        self.shortened = np.zeros(len(self.counts), dtype=bool)

    def at(self, points: Array) -> Array:
        """Distances of points (3, n); of points well outside only roughly."""
        found = np.full(points.shape[1], BAND)
        inside, scaled = self._inside(points)
        nearest = self._filled(self.strides @ (scaled + 0.5).astype(np.int64))
        close = np.flatnonzero(nearest < self.step * math.sqrt(3) / 2 + CLOSE)
        values, share = self._around(scaled[:, close])
        for part in share:
            half = len(values) // 2
            values = values[:half] * (1 - part) + values[half:] * part
        nearest[close] = values[0]
        found[inside] = nearest
        return found

    def gradient(self, points: Array) -> Array:
        """Directions (3, n) in which the distances grow fastest; length 1, or 0 where unknown."""
        found = np.zeros(points.shape)
        inside, scaled = self._inside(points)
        corners, share = self._around(scaled)
        for k in range(3):
            values = corners.reshape(2, 2, 2, -1)
            values = np.take(values, 1, axis=k) - np.take(values, 0, axis=k)
            for part in (share[other] for other in range(3) if other != k):
                values = values[0] * (1 - part) + values[1] * part
            found[k, inside] = values
        length = np.linalg.norm(found, axis=0)
        found /= np.where(length > 0, length, 1)
        return found

    def _inside(self, points: Array) -> tuple[Array, Array]:
        """Which points lie in the box, and where, in steps of the grid."""
        scaled = (points - self.low[:, None]) / self.step
        inside = np.flatnonzero(((scaled >= 0) & (scaled < self.nodes[:, None] - 1)).all(0))
        return inside, scaled[:, inside]

    def _around(self, scaled: Array) -> tuple[Array, Array]:
        """The values at the eight nodes around each place, and where it is between them."""
        whole = scaled.astype(np.int64)
        return self._filled(self.corners[:, None] + self.strides @ whole), scaled - whole

    def _filled(self, index: Array) -> Array:
        values = self.values[index]
        missing = np.isnan(values)
        if missing.any():
            nodes = self._once(index[missing])
            self.values[nodes] = self._distances(nodes)
            values = self.values[index]
        return values

    def _once(self, nodes: Array) -> Array:
        """Each of these nodes once, without the sorting that takes most of ``unique``'s time.

        Each holds who came last to it until it is filled.
        """
        rank = np.arange(len(nodes), dtype=np.float32)
        self.values[nodes] = rank
        last: Array = nodes[self.values[nodes] == rank]
        return last

    def _distances(self, nodes: Array) -> Array:
        place = np.stack(np.unravel_index(nodes, tuple(self.nodes)), axis=1)
        cell = np.ravel_multi_index(tuple((place // CELL).T), tuple(self.cells))
        asked = np.zeros(len(self.counts), dtype=bool)
        asked[cell] = True
        self._shorten(np.flatnonzero(asked & ~self.shortened))
        found = np.full(len(nodes), BAND)
        some = np.flatnonzero(self.counts[cell])
        if not len(some):
            return found
        owner, first, listed = self._listed(cell[some])
        points = (self.low + place[some] * self.step).T
        square, height = self.skin.distances(points.take(owner, axis=1), self.near[listed])
        # At an edge two triangles are as near: the one seen more steeply tells inside from outside.
        least = np.minimum.reduceat(square, first)
        ties = square <= least[owner] * (1 + 1e-5) + 1e-12
        above = np.maximum.reduceat(np.where(ties, height, -np.inf), first)
        below = np.minimum.reduceat(np.where(ties, height, np.inf), first)
        inside = (above < -below) & (least < BAND * BAND)  # farther off, a nearer one is not listed
        found[some] = np.minimum(np.sqrt(least), BAND) * np.where(inside, -1.0, 1.0)
        return found

    def _listed(self, cells: Array) -> tuple[Array, Array, Array]:
        """Cells' lists in a row: whose each entry is, where each list starts, and in `near`."""
        counts = self.counts[cells]
        owner, rank = ranked(counts)
        return owner, np.cumsum(counts) - counts, self.starts[cells][owner] + rank

    def _shorten(self, cells: Array) -> None:
        """Leave on cells' lists only what can be the nearest of a node, as seen from the middle."""
        self.shortened[cells] = True
        cells = cells[self.counts[cells] > 0]
        if not len(cells):
            return
        owner, first, listed = self._listed(cells)
        place = np.stack(np.unravel_index(cells, tuple(self.cells)), axis=1)
        middle = (self.low + (place * CELL + (CELL - 1) / 2) * self.step).T
        square, _ = self.skin.distances(middle.take(owner, axis=1), self.near[listed])
        way, reach = np.sqrt(square), (CELL - 1) / 2 * math.sqrt(3) * self.step
        farthest = np.minimum(np.minimum.reduceat(way, first) + reach, BAND) + reach
        kept = np.flatnonzero(way <= farthest[owner] * (1 + 1e-9))
        owner, near = owner[kept], self.near[listed[kept]]
        self.counts[cells] = np.bincount(owner, minlength=len(cells))
        self.near[self._listed(cells)[2]] = near

    def _lists(self) -> tuple[Array, Array, Array]:
        """The triangles within the band of each cell: its list's start and length, all lists."""
        side = CELL * self.step
        corners = self.skin.triangles
        low = np.floor((corners.min(1) - BAND - self.low) / side).astype(np.int64)
        high = np.floor((corners.max(1) + BAND - self.low) / side).astype(np.int64)
        low, high = np.maximum(low, 0), np.minimum(high, self.cells - 1)
        spans = np.maximum(high - low + 1, 0)
        triangle, rank = ranked(spans.prod(1))
        rank, last = np.divmod(rank, spans[triangle, 2])
        first, middle = np.divmod(rank, spans[triangle, 1])
        place = [one + low[triangle, k] for k, one in enumerate((first, middle, last))]
        # How high the middle of the cell is above the triangle's plane.
        slope = self.skin.normals * side
        height = (slope * (self.low / side + 0.5) - self.skin.normals * corners[:, 0]).sum(1)
        height = height[triangle]
        for k, one in enumerate(place):
            height += one * slope[triangle, k]
        kept = np.flatnonzero(np.abs(height) <= BAND + side * math.sqrt(3) / 2)
        triangle = triangle[kept]
        cell = np.ravel_multi_index([one[kept] for one in place], tuple(self.cells))
        order = np.argsort(cell, kind="stable")
        counts = np.bincount(cell, minlength=int(np.prod(self.cells)))
        return np.cumsum(counts) - counts, counts, triangle[order]
