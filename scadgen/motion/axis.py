"""A turning axis anywhere in space, and the turn about it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy
    from manifold3d import Manifold

Vector = tuple[float, float, float]

_QUARTER = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}


@dataclass(frozen=True)
class Axis:
    """A line to turn about.

    origin: a point on the line, mm.
    direction: along the line, any length above zero.

    Raises ValueError when a number is not finite or the direction has no length.
    """

    origin: Vector
    direction: Vector

    def __post_init__(self) -> None:
        if not all(map(math.isfinite, (*self.origin, *self.direction))):
            raise ValueError(
                f"Axis: origin {self.origin} mm and direction {self.direction} must be finite."
            )
        if math.hypot(*self.direction) == 0:
            raise ValueError(
                f"Axis: direction {self.direction} has no length; (0, 0, 1) points straight up."
            )

    @property
    def unit(self) -> Vector:
        """The direction with length 1."""
        return _scaled(self.direction, 1 / math.hypot(*self.direction))

    @property
    def upright(self) -> bool:
        """Whether it stands on the bed."""
        return self.unit[0] == 0 == self.unit[1]

    @property
    def frame(self) -> tuple[Vector, Vector, Vector]:
        """Three unit vectors square to each other, right-handed; the last lies along the axis.

        The first is the world axis that follows the axis' longest component (Z, then X, then Y),
        leaned square to it: an axis along Z has the world's own frame.
        """
        along = self.unit
        longest = max(range(3), key=lambda k: abs(along[k]))
        follower = (longest + 1) % 3
        leaned = [(k == follower) - along[follower] * along[k] for k in range(3)]
        across = _scaled((leaned[0], leaned[1], leaned[2]), 1 / math.hypot(*leaned))
        return across, cross(along, across), along

    def matrix(self, degrees: float) -> numpy.ndarray[Any, Any]:
        """The 3 x 4 matrix of a turn by `degrees`, right-handed about the direction.

        Exact at whole quarters for an axis along X, Y or Z.
        """
        x, y, z = self.origin
        return _matrix((x, y, z), self.unit, degrees)

    def turn(self, solid: Manifold, degrees: float) -> Manifold:
        """The solid turned by `degrees`, right-handed about the direction."""
        return solid.transform(self.matrix(degrees))

    def seen_along(self, solid: Manifold) -> Manifold:
        """The solid turned so that the axis' direction looks along z: as its frame has it."""
        import numpy as np

        return solid.transform(np.column_stack([np.array(self.frame), np.zeros(3)]))

    def reach(self, solid: Manifold) -> tuple[float, float, float]:
        """Largest distance from the axis, and lowest and highest place along it, in mm.

        The places are measured from the origin. The solid must not be empty.
        """
        import numpy as np

        arms = solid.to_mesh64().vert_properties[:, :3] - np.array(self.origin)
        along = arms @ np.array(self.unit)
        radii = np.linalg.norm(arms - np.outer(along, self.unit), axis=1)
        return float(radii.max()), float(along.min()), float(along.max())

    def cylinder(self, radius: float, low: float, high: float, sides: int) -> Manifold:
        """A prism about the axis, its corners at `radius`, from `low` to `high` along it (mm)."""
        import numpy as np
        from manifold3d import Manifold

        upright = Manifold.cylinder(high - low, radius, radius, sides).translate((0, 0, low))
        return upright.transform(np.column_stack([*self.frame, self.origin]))


@lru_cache(maxsize=16)
def _matrix(origin: Vector, along: Vector, degrees: float) -> numpy.ndarray[Any, Any]:
    """The matrix of a turn; many solids are turned alike, one after the other."""
    import numpy as np

    cos, sin = cos_sin(degrees)
    k = np.array(along)
    skew = np.array([[0, -k[2], k[1]], [k[2], 0, -k[0]], [-k[1], k[0], 0]])
    rotation = cos * np.eye(3) + sin * skew + (1 - cos) * np.outer(k, k)
    start = np.array(origin)
    found = np.column_stack([rotation, start - rotation @ start])
    found.setflags(write=False)
    return found


def cos_sin(degrees: float) -> tuple[float, float]:
    """Cosine and sine of an angle, degrees; of quarter turns without rounding."""
    angle = degrees % 360.0
    radians = math.radians(angle)
    return _QUARTER.get(angle, (math.cos(radians), math.sin(radians)))


def _scaled(v: Vector, factor: float) -> Vector:
    return v[0] * factor, v[1] * factor, v[2] * factor


def cross(a: Vector, b: Vector) -> Vector:
    """The vector square to both, as long as the area that they span."""
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )
