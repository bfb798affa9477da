"""Which layers of a body can hang at all: most need not be looked at one by one.

Going up from one layer to the next, the outline moves out as fast as the facets lean. So all of the
upper layer lies within reach of the lower one, unless between them there is a facet that leans out
farther, a point where plastic starts in the air, the foot of an edge that leans out farther (where
two facets meet, the edge leans more than both), or a corner too sharp to lean out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy
    from manifold3d import Manifold

    Array = numpy.ndarray[Any, Any]

#: Cosine between the directions in which two walls face at a corner of 60 degrees in plan.
SHARP = -0.5
#: Facets and edges steeper than this, as level way per height, are taken as upright.
UPRIGHT = 1e-9
#: Heights this near to each other, mm, are the same.
LEVEL = 1e-6


@dataclass(frozen=True)
class Undersides:
    """Ranges of height in which something leans out over the air.

    low, high: of each range, mm. lean: level way per height, as an array; inf where plastic starts
    in the air.
    """

    low: Array
    high: Array
    lean: Array

    def layers(self, height: float, reach: float, count: int) -> list[int]:
        """Layers, of a height and up to a number, that may lean out beyond the reach (mm)."""
        import numpy as np

        far = self.lean * height > reach
        first = np.ceil((self.low[far] - LEVEL) / height - 0.5).astype(int)
        last = np.floor((self.high[far] + LEVEL) / height + 0.5).astype(int)
        change = np.zeros(count + 2, dtype=int)
        np.add.at(change, np.clip(first, 1, count), 1)
        np.add.at(change, np.clip(last + 1, 1, count), -1)
        return [int(k) for k in np.nonzero(np.cumsum(change)[:count] > 0)[0]]


def undersides(body: Manifold) -> Undersides:
    """Find what leans out over the air in a body."""
    import numpy as np

    mesh = body.to_mesh64()
    points, corners = np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts)
    same = np.arange(len(points))
    same[np.array(mesh.merge_from_vert, dtype=int)] = np.array(mesh.merge_to_vert, dtype=int)
    corners = same[corners]
    triangles = points[corners]
    normals = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    normals /= np.maximum(np.linalg.norm(normals, axis=1, keepdims=True), 1e-300)
    facets = _facets(triangles[:, :, 2], normals)
    found = (facets, _edges(points, corners, normals), _starts(points, corners))
    return Undersides(*(np.concatenate(parts) for parts in zip(*found, strict=True)))


def _facets(heights: Array, normals: Array) -> tuple[Array, Array, Array]:
    import numpy as np

    down = normals[:, 2] < -UPRIGHT
    level = np.linalg.norm(normals[down, :2], axis=1)
    lean = -normals[down, 2] / np.maximum(level, 1e-12)
    return heights[down].min(axis=1), heights[down].max(axis=1), lean


def _starts(points: Array, corners: Array) -> tuple[Array, Array, Array]:
    """Points from which no edge goes down."""
    import numpy as np

    z = points[:, 2]
    lowest = np.full(len(points), math.inf)
    for here, there in ((0, 1), (1, 2), (2, 0), (1, 0), (2, 1), (0, 2)):
        np.minimum.at(lowest, corners[:, here], z[corners[:, there]])
    starts = z[np.isfinite(lowest) & (lowest >= z - LEVEL)]
    return starts, starts, np.full(len(starts), math.inf)


def _edges(points: Array, corners: Array, normals: Array) -> tuple[Array, Array, Array]:
    """Feet of outer edges over the air, and the whole of those with a sharp corner in plan."""
    import numpy as np

    ends, one, other, beyond = _joints(corners)
    start, end = points[ends[:, 0]], points[ends[:, 1]]
    outer = np.sum((points[beyond] - start) * normals[one], axis=1) < -LEVEL
    over_air = np.minimum(normals[one, 2], normals[other, 2]) < -UPRIGHT
    start, end, one, other = (v[outer & over_air] for v in (start, end, one, other))
    low, high = np.minimum(start[:, 2], end[:, 2]), np.maximum(start[:, 2], end[:, 2])
    level = np.linalg.norm((end - start)[:, :2], axis=1)
    lean = level / np.maximum(high - low, 1e-12)
    plan = normals[:, :2] / np.maximum(np.linalg.norm(normals[:, :2], axis=1), 1e-12)[:, None]
    sharp = np.sum(plan[one] * plan[other], axis=1) < SHARP
    return (
        np.concatenate([low, low[sharp]]),
        np.concatenate([low, high[sharp]]),
        np.concatenate([lean, np.full(int(sharp.sum()), math.inf)]),
    )


def _joints(corners: Array) -> tuple[Array, Array, Array, Array]:
    """Each edge once: its ends, the two facets at it, the other facet's corner off the edge."""
    import numpy as np

    facets = np.tile(np.arange(len(corners)), 3)
    ends = np.concatenate([corners[:, [k, (k + 1) % 3]] for k in range(3)])
    off = np.concatenate([corners[:, (k + 2) % 3] for k in range(3)])
    keys = np.sort(ends, axis=1)
    order = np.lexsort((facets, keys[:, 1], keys[:, 0]))
    first, second = order[::2], order[1::2]
    return ends[first], facets[first], facets[second], off[second]
