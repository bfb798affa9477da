"""What a turn about an axis sweeps, in the half-plane of radius and height: the meridian.

However two bodies are turned, two of their points are never nearer to each other than their
places in the meridian. So faces that are apart there stay apart at every angle, and most of a
bearing is settled without turning anything.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from scadgen.motion.boxes import near_pairs
from scadgen.motion.nearest import corners
from scadgen.motion.outlines import GRID, OFF, Outlines, apart, boxes
from scadgen.motion.windows import Arcs, rounds, turns, window

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    from scadgen.motion.axis import Axis

    Array = np.ndarray[Any, Any]

#: Corners are put in order by height first; more than any distance from the axis, mm.
HIGH = 1e6
#: A corner this near to the axis, mm, lies on it, at no angle of its own.
ON = 1e-9
#: A face so near to half a turn around the axis, radians, may well have the axis in it.
NEARLY = 1e-6
#: Faces that lean out by less than this, as a tangent, lie square to the axis.
LEVEL = 1e-4
#: With so many faces of one outline, a ring, it is worth a second look at what comes near it.
RING = 8


@dataclass(frozen=True, eq=False)
class Faces:
    """The triangles of a body about an axis.

    corners: (n, 3, 3), mm, along the axis' frame: the last coordinate is the height. arcs: between
    which angles each lies, and how far from the axis; 0 where that is not known. outlines: their
    different outlines in the meridian, and which faces have each. inward: the same, drawn closer
    where a face is nearest to the axis, and wider elsewhere. floors: coarser ones around the first;
    all flat faces at one height have one.
    """

    corners: Array
    arcs: Arcs
    outlines: Outlines
    inward: Outlines
    floors: Outlines

    @classmethod
    def of(cls, solid: Manifold, axis: Axis) -> Faces:
        """Those of a solid."""
        import numpy as np

        found = (corners(solid) - np.array(axis.origin)) @ np.array(axis.frame).T
        radii = np.hypot(found[..., 0], found[..., 1])
        angles = np.arctan2(found[..., 1], found[..., 0])
        far, on = radii.argmax(1), radii < ON
        angles = np.where(on, angles[np.arange(len(far)), far][:, None], angles)
        around = np.remainder(angles - angles[:, :1] + np.pi, 2 * np.pi) - np.pi
        first, last = around.min(1), around.max(1)
        start, end = angles[:, 0] + first, angles[:, 0] + last
        middle, half = (start + end) / 2, (last - first) / 2
        foot = _bearings(found)
        inner = _inner(found, np.clip(_off(foot, middle, 2 * np.pi), -half, half) + middle)
        out = np.where(_level(found), foot, _leaning(found))
        wall = _inner(found, np.clip(_off(out, middle, np.pi), -half, half) + middle)
        beside = (last - first < np.pi - NEARLY) & ~on.any(1)
        nearest = np.where(beside, np.maximum(inner.min(1), 0.0), 0.0)
        outlines, inward = (_outlines(each, radii, found[..., 2]) for each in (wall, inner))
        return cls(found, Arcs(start, end, nearest), outlines, inward, _floors(outlines.rows))

    @property
    def mirrored(self) -> Faces:
        """The body in a mirror: what turns one way there turns the other way here."""
        arcs = Arcs(-self.arcs.end, -self.arcs.start, self.arcs.radius)
        return replace(self, corners=self.corners * (1.0, -1.0, 1.0), arcs=arcs)

    @cached_property
    def outline_arcs(self) -> Arcs:
        """Where all faces of each outline lie."""
        return self.arcs.around(self.outlines)

    @cached_property
    def floor_arcs(self) -> Arcs:
        """Where all faces of each coarse outline lie."""
        return self.outline_arcs.around(self.floors)


def _outlines(inner: Array, radii: Array, heights: Array) -> Outlines:
    import numpy as np

    order = np.argsort(np.round(heights / GRID) * HIGH + radii, axis=1)
    sides = [np.take_along_axis(each, order, 1) for each in (inner, radii, heights)]
    return Outlines.of(np.round(np.concatenate(sides, 1) / GRID).astype(np.int64))


def _inner(faces: Array, way: Array) -> Array:
    """How far each corner reaches along a way square to the axis, at an angle (radians).

    Along any way at all a face is nowhere farther out than it is from the axis.
    """
    import numpy as np

    x, y = np.cos(way)[:, None], np.sin(way)[:, None]
    return np.asarray(faces[..., 0] * x + faces[..., 1] * y)


def _off(angle: Array, middle: Array, turn: float) -> Array:
    """By how much an angle lies off another, radians, whole turns left out."""
    import numpy as np

    return np.asarray(np.remainder(angle - middle + turn / 2, turn) - turn / 2)


def _leaning(faces: Array) -> Array:
    """The angle, radians, to which each face leans: along that way it is as straight as it gets."""
    import numpy as np

    normal = _normals(faces)
    return np.asarray(np.arctan2(normal[:, 1], normal[:, 0]))


def _level(faces: Array) -> Array:
    import numpy as np

    normal = _normals(faces)
    return np.asarray(np.hypot(normal[:, 0], normal[:, 1]) < LEVEL * np.abs(normal[:, 2]))


def _normals(faces: Array) -> Array:
    import numpy as np

    a, b, c = faces.transpose(1, 0, 2)
    return np.cross(b - a, c - a)


def _bearings(faces: Array) -> Array:
    """The angle about the axis, radians, of the point of each face's sides nearest to it."""
    import numpy as np

    start = faces[..., :2]
    along = np.roll(start, -1, 1) - start
    share = -(start * along).sum(2) / np.maximum((along * along).sum(2), 1e-300)
    foot = start + np.clip(share, 0, 1)[..., None] * along
    x, y = foot[np.arange(len(foot)), np.hypot(foot[..., 0], foot[..., 1]).argmin(1)].T
    return np.asarray(np.arctan2(y, x))


def _floors(rows: Array) -> Outlines:
    import numpy as np

    rows = rows.copy()
    flat = np.flatnonzero(np.ptp(rows[:, 6:], axis=1) == 0)
    heights, which = np.unique(rows[flat, 6], return_inverse=True)
    low = np.full(len(heights), np.iinfo(np.int64).max)
    high = np.zeros(len(heights), np.int64)
    np.minimum.at(low, which, rows[flat, :3].min(1))
    np.maximum.at(high, which, rows[flat, 3:6].max(1))
    rows[flat, :3], rows[flat, 3:6] = low[which, None], high[which, None]
    return Outlines.of(rows)


def touching(one: Faces, other: Faces) -> tuple[Array, Array]:
    """Pairs of outlines that may meet; faces of any other two never do, at any angle."""
    import numpy as np

    found = near_pairs(boxes(one.outlines), boxes(other.outlines), OFF)
    i, k = np.concatenate([np.zeros((2, 0), np.int64), *map(np.array, found)], axis=1)
    many = one.outlines.count[i] * other.outlines.count[k] >= RING  # else it is as quick to turn
    meeting = np.ones(len(i), bool)
    meeting[many] = apart(one.outlines, other.outlines, i[many], k[many], OFF) <= 0
    return i[meeting], k[meeting]


def near(
    one: Faces, other: Faces, margin: float, turn: tuple[float, float]
) -> tuple[Array, Array, Array]:
    """Pairs of outlines that come within ``margin`` (mm) of each other, and how near at least, mm.

    Faces of any other two outlines stay farther apart while the other body turns from one angle to
    another (radians). Rounding is taken off.
    """
    import numpy as np

    radius = float(one.floors.points[..., 0].max())
    still = _around(one.floors, rounds(one.floor_arcs, margin, (0.0, 0.0)), radius)
    found = near_pairs(
        still, _around(other.floors, rounds(other.floor_arcs, margin, turn), radius), margin + OFF
    )
    i, k = np.concatenate([np.zeros((2, 0), np.int64), *map(np.array, found)], axis=1)
    seen = _seen(one.floor_arcs[i], other.floor_arcs[k], margin, turn)
    i, k = i[seen], k[seen]
    close = apart(one.floors, other.floors, i, k, margin) < margin
    i, k = one.floors.holders(i[close], other.floors, k[close])
    seen = _seen(one.outline_arcs[i], other.outline_arcs[k], margin, turn)
    i, k = i[seen], k[seen]
    gap = apart(one.outlines, other.outlines, i, k, margin)
    close = gap < margin
    i, k, gap = i[close], k[close], gap[close]
    gap = _again(one, other, i, k, gap, margin)
    gap = _again(other, one, k, i, gap, margin)
    close = gap < margin
    return i[close], k[close], gap[close]


def _around(outlines: Outlines, rounds: tuple[Array, Array], radius: float) -> Array:
    """The boxes of outlines by radius, height and where they are about the axis, (n, 2, 4)."""
    import numpy as np

    flat = boxes(outlines)[..., :2]
    return np.concatenate([flat, radius * np.stack(rounds, 1)], 2)


def _seen(one: Arcs, other: Arcs, near: float, turn: tuple[float, float]) -> Array:
    """Which pairs may be as near as that (mm) at some angle of the turn."""
    import numpy as np

    first, last = turns(*window(one, other, near), turn)
    return np.asarray(first <= last)


def _again(one: Faces, rings: Faces, i: Array, k: Array, gap: Array, margin: float) -> Array:
    """The same, where the other outline is one of a ring: once more, from the inward outlines."""
    import numpy as np

    few, many = one.outlines.count[i], rings.outlines.count[k]
    some = np.flatnonzero((many >= RING) & (few < RING))
    if not len(some):
        return gap
    faces, pair = one.outlines.held(i[some])
    found = apart(one.inward, rings.outlines, one.inward.of_which[faces], k[some][pair], margin)
    least = np.minimum.reduceat(found, np.searchsorted(pair, np.arange(len(some))))
    gap = gap.copy()
    gap[some] = np.maximum(gap[some], least)
    return gap
