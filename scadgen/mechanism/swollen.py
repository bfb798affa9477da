"""A solid with a skin, so that what it is taken from keeps no slivers of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    Array = np.ndarray[Any, Any]

#: Thickness of the skin, mm.
SKIN = 1e-3
#: Faces whose unit normals agree to so much are one, at a corner.
SAME = 1e-4
#: Cosines between a corner's way and the normals of its faces: above this the way leaves them all;
#: from the other on it goes so much farther that it leaves each by a skin.
OUT, STEEP = 0.05, 0.2


def swollen(solid: Manifold) -> Manifold:
    """The solid (mm) with a skin around it: its corners moved out of all faces that meet there."""
    import numpy as np
    from manifold3d import Error, Manifold, Mesh64

    mesh = solid.to_mesh64()
    corners, faces = mesh.vert_properties[:, :3], mesh.tri_verts.astype(np.int64)
    normals = _normals(corners[faces])
    ways = _ways(faces, normals, len(corners))
    out = (ways[faces] * normals[:, None]).sum(2)
    if not len(faces) or out.min() < OUT:
        return _shaken(solid)
    least = np.ones(len(corners))
    np.minimum.at(least, faces, out)
    moved = corners + SKIN * ways / np.maximum(least, STEEP)[:, None]
    found = Manifold(Mesh64(np.ascontiguousarray(moved), np.ascontiguousarray(faces, np.uint64)))
    return found if found.status() == Error.NoError else _shaken(solid)


def _normals(faces: Array) -> Array:
    import numpy as np

    a, b, c = faces.transpose(1, 0, 2)
    normals = np.cross(b - a, c - a)
    return np.asarray(normals / np.maximum(np.linalg.norm(normals, axis=1), 1e-300)[:, None])


def _ways(faces: Array, normals: Array, count: int) -> Array:
    """The way of each corner, of length 1: between the different normals of its faces."""
    import numpy as np

    at = faces.T.ravel()
    every = np.round(np.tile(normals, (3, 1)) / SAME)
    different = np.unique(np.column_stack([at, every]), axis=0)
    ways = np.zeros((count, 3))
    np.add.at(ways, different[:, 0].astype(np.int64), different[:, 1:])
    return np.asarray(ways / np.maximum(np.linalg.norm(ways, axis=1), 1e-300)[:, None])


def _shaken(solid: Manifold) -> Manifold:
    """The solid in its place and a skin away from it, along each axis both ways."""
    from manifold3d import Manifold, OpType

    steps = [[side * SKIN * (k == axis) for k in range(3)] for axis in range(3) for side in (-1, 1)]
    return Manifold.batch_boolean([solid, *map(solid.translate, steps)], OpType.Add)
