"""The half section of a core: how deep places lie in it, exactly, and quickly from a grid."""

from __future__ import annotations

from functools import cached_property
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
        off, along = np.ravel(off), np.ravel(along)
        a, b, d, way, rise, square, slope = self._columns
        gone, risen = off - a, along - b
        crossing = risen * slope
        crossing += a
        inside = ((b > along) != (d > along)) & (crossing > off)
        share = gone * way
        share += risen * rise
        share /= square
        np.minimum(np.maximum(share, 0, out=share), 1, out=share)
        gone -= share * way
        risen -= share * rise
        gone *= gone
        risen *= risen
        gone += risen
        far = np.sqrt(gone.min(0))
        odd = np.bitwise_xor.reduce(inside, axis=0)
        found: Array = np.where(odd, far, -far).reshape(shape) - ROUNDING
        return found

    @cached_property
    def _columns(self) -> Array:
        """Of each edge (n, 1): start, height of its end, how far it goes, squared, slope."""
        (a, b), (c, d) = self.edges.transpose(1, 2, 0)
        way, rise = c - a, d - b
        square = np.maximum(way * way + rise * rise, 1e-300)
        slope = way / np.where(rise == 0, 1, rise)
        return np.stack([a, b, d, way, rise, square, slope])[..., None]


class Grid:
    """Depths of a section on a grid, off to half a step: where to look, never what is claimed."""

    def __init__(self, section: Section, far: float, low: float, high: float) -> None:
        """far: largest distance from the axis; low, high: places along it (mm)."""
        self.reach = far, low, high
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
