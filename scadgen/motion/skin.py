"""The skin of a solid as arrays: its triangles, and points on it that can be the first to touch."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from manifold3d import Manifold

    Array = np.ndarray[Any, Any]

#: Points along a sharp edge stand at most so far apart, mm.
SPACING = 1.0
#: Two faces meet in a sharp edge when the cosine between their normals is below this.
SHARP = 0.9


@dataclass(frozen=True)
class Skin:
    """Triangles (n, 3, 3), mm, their unit normals (n, 3), and points (m, 3).

    The points are all corners, and places along sharp edges: where two bodies first touch, a corner
    or an edge of one of them does, but for gently bent faces.
    """

    triangles: Array
    normals: Array
    points: Array

    def distances(self, points: Array, which: Array) -> tuple[Array, Array]:
        """Squared distance of each point (3, n) from one triangle, and its height above the plane.

        The triangle lies in its own frame: its first side along x, its plane square to z.
        """
        x, y, height = (
            one * points[0] + other * points[1] + last * points[2] - start
            for one, other, last, start in self._frames.take(which, axis=1).reshape(3, 4, -1)
        )
        length, u, v, first, second, third = self._flat.take(which, axis=1)
        inside = (y >= 0) & (x * v >= y * u) & ((x - length) * v <= y * (u - length))
        square = np.minimum(_off(x, y, length, 0.0, first), _off(x, y, u, v, second))
        square = np.minimum(square, _off(x - length, y, u - length, v, third))
        square[inside] = 0
        square += height * height
        return square, height

    @cached_property
    def _frames(self) -> Array:
        """The three rows of each triangle's frame, each with its first corner's place: (12, n)."""
        side = self.triangles[:, 1] - self.triangles[:, 0]
        along = side / np.linalg.norm(side, axis=1, keepdims=True)
        rows = np.stack([along, np.cross(self.normals, along), self.normals], axis=1)
        start = np.einsum("nij,nj->ni", rows, self.triangles[:, 0])
        both: Array = np.concatenate([rows, start[:, :, None]], axis=2).reshape(-1, 12)
        return np.ascontiguousarray(both.T)

    @cached_property
    def _flat(self) -> Array:
        """In that frame: length of the first side, last corner (u, v), squared sides: (6, n)."""
        first, second = (self.triangles[:, k] - self.triangles[:, 0] for k in (1, 2))
        along, across = self._frames[:3], self._frames[4:7]
        length, u = ((side.T * along).sum(0) for side in (first, second))
        v = (second.T * across).sum(0)
        return np.stack([length, u, v, length**2, u**2 + v**2, (u - length) ** 2 + v**2])


def skin_of(solid: Manifold) -> Skin:
    """The skin of a solid, less triangles that have no area."""
    mesh = solid.to_mesh64()
    corners = mesh.vert_properties[:, :3]
    faces = np.asarray(mesh.tri_verts, dtype=np.int64)
    triangles = corners[faces]
    across = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    area = np.linalg.norm(across, axis=1)
    normals = across / np.where(area > 0, area, 1)[:, None]
    whole = area > 1e-9
    points = np.concatenate([corners, _along_edges(corners, faces, normals)])
    return Skin(triangles[whole], normals[whole], points)


def ranked(counts: Array) -> tuple[Array, Array]:
    """Whose each entry of a row is, with so many of each owner, and which of theirs, from 0."""
    owner = np.repeat(np.arange(len(counts)), counts)
    return owner, np.arange(len(owner)) - (np.cumsum(counts) - counts)[owner]


def _along_edges(corners: Array, faces: Array, normals: Array) -> Array:
    """Points along the sharp edges of a closed mesh, between their ends."""
    ends = np.stack([faces, np.roll(faces, -1, axis=1)], axis=2).reshape(-1, 2)
    face = np.repeat(np.arange(len(faces)), 3)
    order = np.lexsort(np.sort(ends, axis=1).T)
    one, other = order[::2], order[1::2]  # each edge belongs to two triangles
    cosine = np.einsum("nk,nk->n", normals[face[one]], normals[face[other]])
    start, stop = (corners[ends[one[cosine < SHARP], k]] for k in range(2))
    count = np.ceil(np.linalg.norm(stop - start, axis=1) / SPACING).astype(np.int64) - 1
    count = np.maximum(count, 0)
    edge, rank = ranked(count)
    share = ((rank + 1) / (count[edge] + 1))[:, None]
    points: Array = start[edge] * (1 - share) + stop[edge] * share
    return points


def _off(x: Array, y: Array, u: Array, v: Array | float, square: Array) -> Array:
    """Squared distance of (x, y) from the straight line between (0, 0) and (u, v), so long."""
    share = np.clip((x * u + y * v) / square, 0, 1)
    off: Array = (x - share * u) ** 2 + (y - share * v) ** 2
    return off
