"""The skin of a solid as small pieces: where each is, how large, and which way it looks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from scadgen.elements.fill import Array

if TYPE_CHECKING:
    from manifold3d import Manifold


@dataclass(frozen=True, eq=False)
class Skin:
    """Pieces of a skin: middles (mm), areas (mm2) and outward normals."""

    points: Array
    areas: Array
    normals: Array

    def kept(self, which: NDArray[np.bool_]) -> Skin:
        """Only some of the pieces."""
        return Skin(self.points[which], self.areas[which], self.normals[which])


def skin(solid: Manifold, size: float) -> Skin:
    """The skin of a solid in triangles whose edges are no longer than ``size`` (mm)."""
    mesh = solid.refine_to_length(size).to_mesh64()
    corners = mesh.vert_properties[:, :3][mesh.tri_verts.astype(int)]
    a, b, c = corners.transpose(1, 0, 2)
    across = np.cross(b - a, c - a)
    twice = np.linalg.norm(across, axis=1)
    whole = twice > 1e-12
    found = Skin(corners.mean(axis=1), twice / 2, across / np.maximum(twice, 1e-12)[:, None])
    return found.kept(whole)
