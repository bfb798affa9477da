"""The two points at which two bodies are nearest to each other."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.motion.axis import Vector
from scadgen.motion.boxes import boxes, near_pairs
from scadgen.motion.rows import cross, dot, length

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    Array = np.ndarray[Any, Any]

#: How far is looked first, mm.
FIRST = 0.1
#: How much farther than the gap it is looked, mm: rounding.
BEYOND = 1e-6
#: Solids of more triangles are halved before all near pairs are measured, so often at most.
FEW, HALVINGS = 1500, 40
#: Rows that are measured together: as many as stay in the processor's cache.
TOGETHER = 20_000
_NEXT = [1, 2, 0]


@dataclass(frozen=True)
class Closest:
    """Where two bodies are nearest: a point on each, and how far these are apart (all mm).

    angle: of the turn at which this is so, degrees.
    """

    fixed: Vector
    moving: Vector
    gap: float
    angle: float = 0.0


def corners(solid: Manifold) -> Array:
    """The triangles of a solid as (count, 3, 3), mm."""
    mesh = solid.to_mesh64()
    found: Array = mesh.vert_properties[:, :3][mesh.tri_verts.astype(int)]
    return found


def closest(fixed: Manifold, moving: Manifold, angle: float = 0.0) -> Closest:
    """The nearest points of two bodies that do not overlap, as they stand; ``angle`` is noted."""
    import numpy as np

    margin = distance(fixed, moving) + BEYOND
    a, b = map(corners, _halved(fixed, moving, margin))
    best = (np.inf, a[0, 0], b[0, 0])
    for i, j in near_pairs(boxes(a), boxes(b), margin):
        apart, here, there = _between(a[i], b[j])
        k = int(apart.argmin())
        if apart[k] < best[0]:
            best = (apart[k], here[k], there[k])
    return Closest(_vector(best[1]), _vector(best[2]), float(best[0]), angle)


def distance(one: Manifold, other: Manifold) -> float:
    """Smallest distance between two solids, mm, however far apart."""
    search = FIRST
    while True:  # a wide search tries all pairs of triangles, so the first ones are narrow
        gap = float(one.min_gap(other, search))
        if gap < search:
            return gap
        search *= 4


def _halved(fixed: Manifold, moving: Manifold, margin: float) -> tuple[Manifold, Manifold]:
    """Small pieces of both solids that come within the margin of each other, as the wholes do.

    What halving adds are cut faces: these lie inside the body, nowhere nearer to the other one.
    """
    pieces, turns = [fixed, moving], 0
    while max(piece.num_tri() for piece in pieces) > FEW and turns < HALVINGS:
        box = pieces[0].bounding_box()
        sides = [box[k + 3] - box[k] for k in range(3)]
        k = sides.index(max(sides))
        normal = [float(axis == k) for axis in range(3)]
        halves = pieces[0].split_by_plane(normal, (box[k] + box[k + 3]) / 2)
        near = [half for half in halves if half.min_gap(pieces[1], 2 * margin) <= margin]
        if not near:
            break
        pieces, turns = [pieces[1], near[0]], turns + 1
    return (pieces[1], pieces[0]) if turns % 2 else (pieces[0], pieces[1])


def to_triangles(points: Array, triangles: Array) -> tuple[Array, Array]:
    """Distance from each point to the triangle in its row, and the nearest point there."""
    import numpy as np

    if len(points) > TOGETHER:
        some = [slice(k, k + TOGETHER) for k in range(0, len(points), TOGETHER)]
        found = [to_triangles(points[k], triangles[k]) for k in some]
        distances, feet = (np.concatenate(each) for each in zip(*found, strict=True))
        return distances, feet
    normal = cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
    square = np.maximum(dot(normal, normal), 1e-300)
    height = dot(points - triangles[:, 0], normal) / square
    foot = points - height[:, None] * normal
    inside = square > 1e-24
    for k in range(3):
        edge = triangles[:, _NEXT[k]] - triangles[:, k]
        inside &= dot(cross(edge, foot - triangles[:, k]), normal) >= 0
    best = np.where(inside, length(points - foot), np.inf)
    for k in range(3):
        start = triangles[:, k]
        edge = triangles[:, _NEXT[k]] - start
        along = dot(points - start, edge) / np.maximum(dot(edge, edge), 1e-300)
        place = start + np.clip(along, 0, 1)[:, None] * edge
        apart = length(points - place)
        nearer = apart < best
        best = np.where(nearer, apart, best)
        foot = np.where(nearer[:, None], place, foot)
    return best, foot


def _between(a: Array, b: Array) -> tuple[Array, Array, Array]:
    """Distance of each triangle of ``a`` from its partner in ``b``, and the nearest points."""
    import numpy as np

    ways = []
    for k in range(3):
        apart, foot = to_triangles(a[:, k], b)
        ways.append((apart, a[:, k], foot))
        apart, foot = to_triangles(b[:, k], a)
        ways.append((apart, foot, b[:, k]))
        ways.extend(_edges(a, b, k, m) for m in range(3))
    distances = np.stack([way[0] for way in ways])
    which = distances.argmin(0)
    rows = np.arange(len(a))
    here = np.stack([way[1] for way in ways])[which, rows]
    there = np.stack([way[2] for way in ways])[which, rows]
    return distances[which, rows], here, there


def _edges(a: Array, b: Array, k: int, m: int) -> tuple[Array, Array, Array]:
    """Distance between edge ``k`` of ``a`` and edge ``m`` of ``b`` where both meet it inside."""
    import numpy as np

    p, u = a[:, k], a[:, _NEXT[k]] - a[:, k]
    q, v = b[:, m], b[:, _NEXT[m]] - b[:, m]
    across = p - q
    uu, vv, uv = dot(u, u), dot(v, v), dot(u, v)
    area = uu * vv - uv * uv
    skew = area > 1e-12 * uu * vv
    area = np.where(skew, area, 1.0)
    pu, pv = dot(across, u), dot(across, v)
    s, t = (uv * pv - vv * pu) / area, (uu * pv - uv * pu) / area
    inside = skew & (s >= 0) & (s <= 1) & (t >= 0) & (t <= 1)
    here, there = p + s[:, None] * u, q + t[:, None] * v
    return np.where(inside, length(here - there), np.inf), here, there


def _vector(point: Array) -> Vector:
    x, y, z = (float(value) for value in point)
    return x, y, z
