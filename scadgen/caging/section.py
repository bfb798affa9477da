"""The half section of a core: how deep places lie in it, exactly, and quickly from a grid."""

from __future__ import annotations

from typing import Any

import numpy as np

from scadgen.caging.core import edges

Array = np.ndarray[Any, Any]

#: Spacing of the grid, mm; or so many steps along the axis, where that is coarser.
STEP, STEPS = 0.05, 3000
#: Farther from the surface than this, mm, the grid tells no more.
BAND = 2.0
#: What rounding may do to a depth, mm; always taken off.
ROUNDING = 1e-9


class Section:
    """A core's half section.

    Places are given by their distance from the axis, 0 or more, and their place along it (mm). A
    depth is the radius of the largest ball about a place that lies in the core; outside it is the
    negative distance to it.
    """

    def __init__(self, outlines: list[Array]) -> None:
        self.outlines = outlines
        self.edges = edges(outlines)

    def depth(self, off: Array, along: Array) -> Array:
        """Depths, from the edges: exact but for rounding, and never too large. Any shape."""
        shape = np.shape(off)
        places = np.stack([np.ravel(off), np.ravel(along)], axis=1)[:, None]
        start, stop = self.edges.transpose(1, 0, 2)
        way, gone = stop - start, places - start
        length = np.maximum((way * way).sum(1), 1e-300)
        share = np.clip((gone * way).sum(2) / length, 0, 1)
        gone -= share[..., None] * way
        far = np.sqrt((gone * gone).sum(2).min(1))
        beside = (start[:, 1] > places[..., 1]) != (stop[:, 1] > places[..., 1])
        rise = np.where(way[:, 1] == 0, 1, way[:, 1])
        crossing = start[:, 0] + (places[..., 1] - start[:, 1]) / rise * way[:, 0]
        inside = (beside & (crossing > places[..., 0])).sum(1) % 2 == 1
        found: Array = np.where(inside, far, -far).reshape(shape) - ROUNDING
        return found


class Grid:
    """Depths of a section on a grid, off to half a step: where to look, never what is claimed."""

    def __init__(self, section: Section, far: float, low: float, high: float) -> None:
        """far: largest distance from the axis; low, high: places along it (mm)."""
        self.step = max(STEP, (high - low) / STEPS)
        self.off = np.arange(0, far + self.step, self.step)
        self.along = np.arange(low, high + self.step, self.step)
        depths = np.full((len(self.off), len(self.along)), BAND)
        inside = np.zeros(depths.shape, dtype=bool)
        for edge in section.edges:
            self._nearer(depths, edge)
            self._crossed(inside, edge)
        self.depths = np.where(inside, depths, -depths)
        self._flat = self.depths.astype(np.float32).ravel()
        self._low = np.float32(low - self.step / 2)
        self._scale = np.float32(1 / self.step)

    def at(self, off: Array, along: Array) -> Array:
        """Depths at the grid's nearest places; beyond its ends those at the ends."""
        row = (off * self._scale + np.float32(0.5)).astype(np.int32)
        column = ((along - self._low) * self._scale).astype(np.int32)
        np.minimum(row, len(self.off) - 1, out=row)
        np.clip(column, 0, len(self.along) - 1, out=column)
        row *= len(self.along)
        row += column
        found: Array = self._flat.take(row)
        return found

    def _nearer(self, depths: Array, edge: Array) -> None:
        """Take the distance to an edge where none was nearer, in a band around it."""
        low, high = edge.min(0) - BAND, edge.max(0) + BAND
        rows = slice(*np.searchsorted(self.off, [low[0], high[0]]))
        columns = slice(*np.searchsorted(self.along, [low[1], high[1]]))
        way = edge[1] - edge[0]
        off = self.off[rows, None] - edge[0, 0]
        along = self.along[None, columns] - edge[0, 1]
        share = np.clip((off * way[0] + along * way[1]) / max(way @ way, 1e-300), 0, 1)
        far = np.hypot(off - share * way[0], along - share * way[1])
        np.minimum(depths[rows, columns], far, out=depths[rows, columns])

    def _crossed(self, inside: Array, edge: Array) -> None:
        """Change sides for all places that see the edge when they look outwards."""
        low, high = np.searchsorted(self.along, np.sort(edge[:, 1]))
        if low < high:
            (off, start), way = edge[0], edge[1] - edge[0]
            crossing = off + (self.along[low:high] - start) / way[1] * way[0]
            inside[:, low:high] ^= self.off[:, None] < crossing
