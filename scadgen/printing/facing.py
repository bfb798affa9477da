"""At what heights faces of a body look up, and at what heights they look down."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.motion.nearest import corners
from scadgen.motion.rows import cross

if TYPE_CHECKING:
    import numpy
    from manifold3d import Manifold

    Array = numpy.ndarray[Any, Any]

#: Heights this near to each other, mm, are the same.
LEVEL = 1e-6


@dataclass(frozen=True, eq=False)
class Facing:
    """Ranges of height, mm, of the faces of a body that look up, and of those that look down.

    Each is (2, n): the lowest and the highest place of each. Upright faces are left out.
    """

    up: Array
    down: Array


def facing(body: Manifold) -> Facing:
    """Find which faces of a body look up, and which down."""
    import numpy as np

    triangles = corners(body)
    a, b, c = triangles.transpose(1, 0, 2)
    rise = cross(b - a, c - a)[:, 2]
    heights = triangles[:, :, 2]
    ranges = np.stack([heights.min(1), heights.max(1)])
    return Facing(ranges[:, rise > 0], ranges[:, rise < 0])


def among(faces: Array, low: Array, high: Array) -> Array:
    """Whether any of the faces (2, n) reaches in between two heights, for each pair (mm)."""
    import numpy as np

    starts, ends = np.sort(faces, axis=1)
    begun = np.searchsorted(starts, high + LEVEL, side="right")
    over = np.searchsorted(ends, low - LEVEL, side="left")
    return np.asarray(begun > over)
