"""The edges between the facets of round walls, as a search for an axis wants them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from scadgen.motion.boxes import boxes, near_pairs
from scadgen.motion.nearest import corners, to_triangles
from scadgen.motion.rows import cross, length

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    Array = np.ndarray[Any, Any]

#: Facets of a round wall meet at more and at less than this, degrees: below is rounding, and a
#: wall of fewer than eight sides is no bearing.
FLATTEST, SHARPEST = 0.3, 50.0
#: Most edges of a body that are looked at, spread evenly over it.
MOST = 6000


@dataclass(frozen=True, eq=False)
class Edges:
    """Edges between facets: a row for each.

    place: the middle, mm. normals: of both facets, (2, count, 3). weight: length times angle.
    """

    place: Array
    normals: Array
    weight: Array

    @cached_property
    def normal(self) -> Array:
        """Half-way between the normals of both facets."""
        return unit(self.normals.sum(0))

    @cached_property
    def across(self) -> Array:
        """Square to the plane that halves the angle between both facets."""
        return unit(self.normals[0] - self.normals[1])

    def __len__(self) -> int:
        return len(self.place)

    def of(self, kept: Array) -> Edges:
        """Some of the edges."""
        return Edges(self.place[kept], self.normals[:, kept], self.weight[kept])


def round_edges(solid: Manifold, other: Manifold, reach: float | None) -> Edges:
    """The edges between facets of ``solid``, within ``reach`` (mm) of ``other`` if one is given."""
    import numpy as np

    start, end, normals = _edges(solid)
    sharp = length(normals[0] - normals[1])
    least, most = 2 * np.sin(np.radians([FLATTEST, SHARPEST]) / 2)
    found = np.flatnonzero((sharp > least) & (sharp < most))
    if len(found) > MOST:
        found = found[np.linspace(0, len(found) - 1, MOST).astype(int)]
    place = (start[found] + end[found]) / 2
    if reach is not None:
        close = _close(place, corners(other), reach)
        found, place = found[close], place[close]
    return Edges(place, normals[:, found], length(end[found] - start[found]) * sharp[found])


def _edges(solid: Manifold) -> tuple[Array, Array, Array]:
    """Both ends of each edge, and the normals of its two triangles as (2, count, 3)."""
    import numpy as np

    mesh = solid.to_mesh64()
    points, triangles = mesh.vert_properties[:, :3], mesh.tri_verts.astype(np.int64)
    a, b, c = points[triangles].transpose(1, 0, 2)
    normal = unit(cross(b - a, c - a))
    start, end = triangles.ravel(), np.roll(triangles, -1, axis=1).ravel()
    key = np.minimum(start, end) * len(points) + np.maximum(start, end)
    order = np.argsort(key, kind="stable")
    pair = np.flatnonzero(key[order][1:] == key[order][:-1])
    both = np.array([order[pair], order[pair + 1]])
    return points[start[both[0]]], points[end[both[0]]], normal[both // 3]


def _close(points: Array, triangles: Array, reach: float) -> Array:
    """Which points lie within ``reach`` of a triangle."""
    import numpy as np

    close = np.zeros(len(points), bool)
    for i, j in near_pairs(np.stack([points, points], 1), boxes(triangles), reach):
        distance, _ = to_triangles(points[i], triangles[j])
        close[i[distance <= reach]] = True
    return close


def unit(vectors: Array) -> Array:
    """The vectors with length 1."""
    import numpy as np

    scaled: Array = vectors / np.maximum(length(vectors), 1e-300)[..., None]
    return scaled
