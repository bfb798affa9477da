"""Which bodies can't meet while some turn about an axis, by the boxes around them alone."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    from scadgen.motion.axis import Axis

    Array = np.ndarray[Any, Any]

#: What is taken off for rounding, mm, and radians.
ROUNDING = 1e-6
_SEGMENTS = list(itertools.combinations(range(8), 2))


@dataclass(frozen=True, eq=False)
class Sweeps:
    """Boxes (n) about an axis: low, high along it and near, far from it, mm; the angles between
    which they lie, radians, a whole turn for one around the axis."""

    low: Array
    high: Array
    near: Array
    far: Array
    start: Array
    end: Array

    @classmethod
    def of(cls, solids: Sequence[Manifold], axis: Axis, apart: float = 0.0) -> Sweeps:
        """The boxes around solids, none of which is empty.

        ``apart``: two that come no nearer than this count as clear, mm.
        """
        import numpy as np

        boxes = np.array([solid.bounding_box() for solid in solids]).reshape(-1, 2, 3)
        boxes += apart / 2 * np.array([[-1.0], [1.0]])
        corners = np.stack([boxes[:, k, range(3)] for k in itertools.product((0, 1), repeat=3)], 1)
        seen = (corners - np.array(axis.origin)) @ np.array(axis.frame).T
        flat = seen[..., :2]
        middle = flat.mean(1)
        about = np.arctan2(middle[:, 1], middle[:, 0])
        off = np.arctan2(flat[..., 1], flat[..., 0]) - about[:, None]
        off = np.remainder(off + np.pi, 2 * np.pi) - np.pi
        around = np.ptp(off, axis=1) >= np.pi - ROUNDING
        near = np.where(around, 0.0, _nearest(flat))
        start = np.where(around, -np.pi, off.min(1)) + about - ROUNDING
        end = np.where(around, np.pi, off.max(1)) + about + ROUNDING
        far = np.hypot(*flat.transpose(2, 0, 1)).max(1)
        along = seen[..., 2]
        return cls(
            along.min(1) - ROUNDING, along.max(1) + ROUNDING, near - ROUNDING, far + ROUNDING,
            start, end,
        )  # fmt: skip

    @cached_property
    def width(self) -> Array:
        """From the first angle to the last, radians."""
        width: Array = self.end - self.start
        return width

    def free(self, still: Array, moving: Array) -> tuple[Array, Array]:
        """How far each of some turns before it may meet what stays, radians, either way.

        Endless where it never does; 0 where the angles of both overlap as they are.
        """
        import numpy as np

        passing = (self.low[still] < self.high[moving]) & (self.low[moving] < self.high[still])
        passing &= (self.near[still] < self.far[moving]) & (self.near[moving] < self.far[still])
        ahead = np.remainder(self.start[still] - self.start[moving], 2 * np.pi)
        behind = np.remainder(self.start[moving] - self.start[still], 2 * np.pi)
        up, down = ahead - self.width[moving], behind - self.width[still]
        apart = (up > 0) & (down > 0)
        found = [np.where(passing, np.where(apart, way, 0.0), np.inf) for way in (down, up)]
        return found[0], found[1]


def _nearest(flat: Array) -> Array:
    """How near to the axis boxes come that are not around it, from their corners (n, 8, 2).

    The outline of their shadow is made of some of the straight lines between corners.
    """
    import numpy as np

    a, b = (flat[:, list(ends)] for ends in zip(*_SEGMENTS, strict=True))
    way = b - a
    square = np.maximum((way * way).sum(2), 1e-300)
    share = np.clip(-(a * way).sum(2) / square, 0, 1)[..., None]
    foot = a + share * way
    return np.asarray(np.hypot(foot[..., 0], foot[..., 1]).min(1))
