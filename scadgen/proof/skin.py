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
        """Squared distance of each point from one triangle, and its height above the plane."""
        local = np.einsum("nij,nj->ni", self.frames[which], points) - self.starts[which]
        x, y, height = local.T
        length, c, d = self.flat[which].T
        inside = (y >= 0) & (x * d >= y * c) & ((x - length) * d <= y * (c - length))
        out = np.flatnonzero(~inside)
        x, y, length, c, d = (each[out] for each in (x, y, length, c, d))
        square = height * height
        square[out] += np.minimum(
            np.minimum(_off(x, y, length, 0 * d), _off(x, y, c, d)),
            _off(x - length, y, c - length, d),
        )
        return square, height

    @cached_property
    def frames(self) -> Array:
        """Rows of each triangle's own frame: along its first side, square to it, and up."""
        first = self.triangles[:, 1] - self.triangles[:, 0]
        along = first / np.linalg.norm(first, axis=1, keepdims=True)
        return np.stack([along, np.cross(self.normals, along), self.normals], axis=1)

    @cached_property
    def starts(self) -> Array:
        """Each triangle's first corner in its own frame."""
        return _seen(self.frames, self.triangles[:, 0])

    @cached_property
    def flat(self) -> Array:
        """Length of each triangle's first side, and its last corner, in its own frame."""
        side, last = (_seen(self.frames, self.triangles[:, k]) - self.starts for k in (1, 2))
        return np.column_stack([side[:, 0], last[:, 0], last[:, 1]])


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
    edge = np.repeat(np.arange(len(count)), count)
    rank = np.arange(len(edge)) - (np.cumsum(count) - count)[edge] + 1
    share = (rank / (count[edge] + 1))[:, None]
    points: Array = start[edge] * (1 - share) + stop[edge] * share
    return points


def _seen(frames: Array, points: Array) -> Array:
    seen: Array = np.einsum("nij,nj->ni", frames, points)
    return seen


def _off(x: Array, y: Array, u: Array, v: Array) -> Array:
    """Squared distance of (x, y) from the straight line between (0, 0) and (u, v)."""
    share = np.clip((x * u + y * v) / (u * u + v * v), 0, 1)
    square: Array = (x - share * u) ** 2 + (y - share * v) ** 2
    return square
