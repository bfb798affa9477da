"""Pairs of triangles of which one turns about the axis: how near, and for how long apart."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]

#: What rounding may cost a plane that parts two triangles, mm.
ROUNDING = 1e-9
#: Turn that stands for "for ever", radians.
EVER = 100.0
_NEXT = [1, 2, 0]
#: Of what is equally near, what counts first: edge by edge of the fixed one, with its corner.
_ORDER = [0, 1, 2, 9, 12, 3, 4, 5, 10, 13, 6, 7, 8, 11, 14]


@dataclass(frozen=True, eq=False)
class Near:
    """The nearest points of each pair, (3, n), and their distance, mm; ``way`` leads from the
    moving triangle to the fixed one and has length 1, or 0 where they touch."""

    fixed: Array
    moving: Array
    gap: Array
    way: Array


@dataclass(frozen=True, eq=False)
class Pairs:
    """Pairs of triangles as (3 corners, 3 coordinates, n), mm, the axis along the third."""

    fixed: Array
    moving: Array

    @classmethod
    def of(cls, fixed: Array, moving: Array) -> Pairs:
        """From triangles as (n, 3, 3)."""
        return cls(fixed.transpose(1, 2, 0).copy(), moving.transpose(1, 2, 0).copy())

    def __len__(self) -> int:
        return int(self.fixed.shape[2])

    def __getitem__(self, some: Array) -> Pairs:
        return Pairs(self.fixed[..., some], self.moving[..., some])

    @cached_property
    def polar(self) -> tuple[tuple[Array, Array], tuple[Array, Array]]:
        """Distance from the axis, mm, and angle, radians, of the corners of both, (3, n)."""
        return _polar(self.fixed), _polar(self.moving)

    def turned(self, angle: Array) -> Array:
        """The moving triangles, each turned by its angle (radians)."""
        import numpy as np

        cos, sin = np.cos(angle), np.sin(angle)
        x, y, z = self.moving.transpose(1, 0, 2)
        return np.stack([cos * x - sin * y, sin * x + cos * y, z], 1)

    def nearest(self, angle: Array) -> Near:
        """How near they are when turned; triangles that cross have some distance, too."""
        import numpy as np

        a, b = self.fixed, self.turned(angle)
        corners, others = a.transpose(1, 0, 2), b.transpose(1, 0, 2)
        # Each edge of one beside each of the other, then each corner of either before the other.
        ends = [np.repeat(each, 3, axis=1) for each in (corners, corners[:, _NEXT])]
        other_ends = [np.tile(each, (1, 3, 1)) for each in (others, others[:, _NEXT])]
        edges = _edges(*ends, *other_ends)
        here = _face(corners, b[:, :, None])
        square, corner, foot = _face(others, a[:, :, None])
        squares, one, other = (
            np.concatenate(found, axis=-2)
            for found in zip(edges, here, (square, foot, corner), strict=True)
        )
        best = np.take(_ORDER, squares[_ORDER].argmin(axis=0)), np.arange(len(self))
        one, other, gap = one[:, *best], other[:, *best], np.sqrt(squares[best])
        way = (one - other) / np.where(gap > 0, gap, np.inf)
        return Near(one, other, gap, way)

    def middle_way(self, angle: Array) -> Array:
        """The way from the middle of the turned triangle to that of the fixed one, length 1."""
        import numpy as np

        way = self.fixed.mean(0) - self.turned(angle).mean(0)
        return np.asarray(way / np.maximum(np.sqrt((way * way).sum(0)), 1e-30))

    def parted_for(self, angle: Array, way: Array) -> Array:
        """For how much of a further turn (radians) a plane square to ``way`` parts them.

        The plane stays with the fixed triangle, or turns with the moving one: the better counts.
        """
        import numpy as np

        found = [
            _until(level - up * z, out * radius, place)
            for level, up, z, out, radius, place in self._planes(angle, way)
        ]
        return np.asarray(np.maximum(*found))

    def least(self, angle: Array, half: Array, way: Array) -> Array:
        """Their distance (mm) is no less than this anywhere within ``half`` (radians) of a turn.

        It is below 0 where no plane square to ``way`` parts them.
        """
        import numpy as np

        bounds = []
        for level, up, z, out, radius, place in self._planes(angle, way):
            off = np.maximum(np.abs(np.remainder(place + np.pi, 2 * np.pi) - np.pi) - half, 0.0)
            bounds.append(level - (up * z + out * radius * np.cos(off)).max(0))
        return np.asarray(np.maximum(*bounds))

    def _planes(self, angle: Array, way: Array) -> list[tuple[Array, ...]]:
        """For either plane: its place; then, of the corners that turn towards it, what tells it.

        A corner is up * z + out * radius * cos(place + turn) along the way; it must stay below.
        """
        import numpy as np

        (near, here), (far, there) = self.polar
        out, to = np.hypot(way[0], way[1]), np.arctan2(way[1], way[0])
        turn = there + angle - to
        reach = way[2] * self.moving[:, 2] + out * far * np.cos(turn)
        level = way[2] * self.fixed[:, 2] + out * near * np.cos(here - to)
        stay = level.min(0) - ROUNDING, way[2], self.moving[:, 2], out, far, turn
        # turned with the moving one, the fixed one's corners come back towards it
        back = -reach.max(0) - ROUNDING, -way[2], self.fixed[:, 2], out, near, to + np.pi - here
        return [stay, back]


def _polar(corners: Array) -> tuple[Array, Array]:
    import numpy as np

    return np.hypot(corners[:, 0], corners[:, 1]), np.arctan2(corners[:, 1], corners[:, 0])


def _until(room: Array, reach: Array, place: Array) -> Array:
    """How far corners turn (radians) until reach * cos(place + turn) comes up to the room."""
    import numpy as np

    share = room / np.maximum(reach, 1e-300)
    inside = np.arccos(np.clip(share, -1, 1))
    start = np.remainder(place, 2 * np.pi)
    turn = 2 * np.pi - inside - start
    turn = np.where(start < inside, 0.0, turn)  # it is not parted as it stands
    turn = np.where(share >= 1, EVER, np.where(share <= -1, 0.0, np.maximum(turn, 0.0)))
    return np.asarray(turn.min(0))


def _dot(a: Array, b: Array) -> Array:
    product: Array = a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
    return product


def _edges(p: Array, p_end: Array, q: Array, q_end: Array) -> tuple[Array, Array, Array]:
    """The nearest points of two edges, (3, n), and the square of their distance."""
    import numpy as np

    u, v, w = p_end - p, q_end - q, p - q
    uu, vv = np.maximum(_dot(u, u), 1e-300), np.maximum(_dot(v, v), 1e-300)
    uv, uw, vw = _dot(u, v), _dot(u, w), _dot(v, w)
    area = uu * vv - uv * uv
    skew = area > 1e-12 * uu * vv
    s = np.where(skew, np.clip((uv * vw - vv * uw) / np.where(skew, area, 1), 0, 1), 0.0)
    t = np.clip((uv * s + vw) / vv, 0, 1)
    s = np.clip((uv * t - uw) / uu, 0, 1)
    one, other = p + s * u, q + t * v
    gone = one - other
    return _dot(gone, gone), one, other


def _face(point: Array, face: Array) -> tuple[Array, Array, Array]:
    """The foot of a point on a triangle, and the square of its distance; inf beside it."""
    import numpy as np

    u, v, w = face[1] - face[0], face[2] - face[0], point - face[0]
    uu, vv, uv, uw, vw = _dot(u, u), _dot(v, v), _dot(u, v), _dot(u, w), _dot(v, w)
    area = uu * vv - uv * uv
    flat = area > 1e-12 * uu * vv
    area = np.where(flat, area, 1.0)
    s, t = (vv * uw - uv * vw) / area, (uu * vw - uv * uw) / area
    foot = face[0] + s * u + t * v
    gone = point - foot
    inside = flat & (s >= 0) & (t >= 0) & (s + t <= 1)
    return np.where(inside, _dot(gone, gone), np.inf), point, foot
