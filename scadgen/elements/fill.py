"""How much of each cube of a grid a solid fills, from its slices. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from manifold3d import Manifold

Array = NDArray[Any]
Places = NDArray[np.int64]

#: Parts of a cube along each of its edges: what is filled of it is known for each of them.
PARTS = 4
#: Slices through each part, and lines across each slice of it.
SLICES, LINES = 2, 4
#: A cube that is filled by less than this is left out (assumed: it bears nothing that counts).
LEAST = 0.02


@dataclass(frozen=True, eq=False)
class Cells:
    """The cubes that a solid fills, wholly or in part.

    size: edge, mm. origin: corner of the grid, mm. shape: cubes along x, y and z. places: where
    each cube stands in the grid, one row each. parts: share that is filled of each of its
    ``PARTS`` cubed parts, z running fastest.
    """

    size: float
    origin: Array
    shape: tuple[int, int, int]
    places: Places
    parts: Array

    @property
    def filled(self) -> Array:
        """Share of each cube that is filled, 0 to 1."""
        shares: Array = self.parts.mean(axis=1)
        return shares

    @property
    def middles(self) -> Array:
        """Centre of what is filled of each cube, mm."""
        offsets = (_corners(PARTS) + 0.5) / PARTS
        inside = self.parts @ offsets / self.parts.sum(axis=1)[:, None]
        at: Array = self.origin + (self.places + inside) * self.size
        return at

    def kept(self, which: NDArray[np.bool_]) -> Cells:
        """Only some of the cubes."""
        return Cells(self.size, self.origin, self.shape, self.places[which], self.parts[which])


def _corners(count: int) -> Array:
    """All places in a cube of so many along each edge, z running fastest."""
    places: Array = np.indices((count,) * 3).reshape(3, -1).T.astype(float)
    return places


def cells(solid: Manifold, size: float, origin: Any = None) -> Cells:
    """The cubes of edge ``size`` (mm) that a solid fills; the grid starts at its lowest corner.

    Raises ValueError for an empty solid.
    """
    if solid.is_empty():
        raise ValueError("elements: the solid is empty; nothing can be loaded.")
    box = np.array(solid.bounding_box())
    low = box[:3] if origin is None else np.asarray(origin, float)
    counts = np.maximum(np.ceil((box[3:] - low) / size - 1e-6), 1).astype(int)
    shape = (int(counts[0]), int(counts[1]), int(counts[2]))
    places, parts = [], []
    for layer in range(shape[2]):
        found, shares = _layer(solid, size, low, shape, layer)
        places.append(found)
        parts.append(shares)
    return Cells(size, low, shape, np.concatenate(places), np.concatenate(parts))


def _layer(
    solid: Manifold, size: float, low: Array, shape: tuple[int, int, int], layer: int
) -> tuple[Places, Array]:
    """The cubes of one layer: their places and parts."""
    wide, deep = shape[0], shape[1]
    shares = np.zeros((wide, PARTS, deep, PARTS, PARTS))
    for k in range(PARTS * SLICES):
        height = low[2] + (layer + (k + 0.5) / (PARTS * SLICES)) * size
        covered = coverage(solid.slice(height).to_polygons(), size / PARTS, low, shape)
        found = covered.reshape(deep, PARTS, wide, PARTS).transpose(2, 3, 0, 1)
        shares[..., k // SLICES] += found / SLICES
    flat = shares.transpose(0, 2, 1, 3, 4).reshape(wide * deep, PARTS**3)
    kept = np.flatnonzero(flat.mean(axis=1) >= LEAST)
    x, y = np.divmod(kept, deep)
    return np.stack((x, y, np.full_like(x, layer)), axis=1), flat[kept]


def coverage(polygons: list[Array], step: float, low: Array, shape: tuple[int, int, int]) -> Array:
    """Share of each part that outlines cover: exact along x, on so many lines across each row.

    Outlines turn left around what is solid, so that what lies right of each crossing changes by
    one.
    """
    wide, deep = shape[0] * PARTS, shape[1] * PARTS * LINES
    steps = np.zeros((deep, wide + 2))
    if polygons:
        here = np.vstack(polygons)
        there = np.vstack([np.roll(polygon, -1, axis=0) for polygon in polygons])
        scale = np.array((1, LINES)) / step
        rows, across, ways = _crossings((here - low[:2]) * scale, (there - low[:2]) * scale, deep)
        across = np.clip(across, 0, wide - 1e-9)
        column = across.astype(int)
        right = across - column
        np.add.at(steps, (rows, column), ways * (1 - right))
        np.add.at(steps, (rows, column + 1), ways * right)
    lines = np.clip(np.cumsum(steps, axis=1)[:, :wide], 0, 1)
    covered: Array = lines.reshape(-1, LINES, wide).mean(axis=1)
    return covered


def _crossings(here: Array, there: Array, deep: int) -> tuple[Places, Array, Array]:
    """Where edges cross the middle lines of rows: the row, how far along, and the sign."""
    first = np.ceil(np.minimum(here[:, 1], there[:, 1]) - 0.5).astype(int)
    last = np.ceil(np.maximum(here[:, 1], there[:, 1]) - 0.5).astype(int)
    first, last = np.clip(first, 0, deep), np.clip(last, 0, deep)
    counts = last - first
    edges = np.repeat(np.arange(len(here)), counts)
    starts = np.repeat(np.cumsum(counts) - counts, counts)
    rows = np.arange(len(edges)) - starts + first[edges]
    rise = there[edges, 1] - here[edges, 1]
    share = (rows + 0.5 - here[edges, 1]) / rise
    across = here[edges, 0] + share * (there[edges, 0] - here[edges, 0])
    return rows, across, -np.sign(rise)
