"""Bodies carried by several turns, one after another, and how far a body may stray in a cell of
turns.

A cell is a middle and a half width of every angle. In it a point of a body at the end of an arm
strays from its place at the middle by no more than the sum of its ways: each half width times the
point's radius about that axis. Along a direction it strays by no more than its speeds along it say,
and what the second derivatives add, of which none is larger than the radius about the inner axis of
the two. Both bounds are convex in the point, so that corners of the hull decide.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    from scadgen.motion.axis import Axis

    Array = np.ndarray[Any, Any]

#: Directions square to each axis, along which bodies are tried to be parted.
AROUND = 36


@dataclass(frozen=True)
class Step:
    """A turn of an arm: about which axis as it prints, which of the angles, and which way."""

    axis: Axis
    angle: int
    way: int = 1

    def reversed(self) -> Step:
        """What carries the other side."""
        return Step(self.axis, self.angle, -self.way)

    def carry(self, places: Array, middles: Array) -> Carried:
        """Points (cells, points, 3) at the middles of cells (radians), as the turn has them."""
        import numpy as np

        along, origin = np.array(self.axis.unit), np.array(self.axis.origin)
        turn = _turns(along, self.way * middles[:, self.angle])
        from_axis = (places - origin) @ turn
        speed = from_axis @ _skew(along).T
        radius = np.sqrt(np.einsum("nkc,nkc->nk", speed, speed))
        return Carried(from_axis + origin, turn, self.way * speed, radius, radius)

    def matrix(self, pose: Sequence[float]) -> Array:
        """The motion at a pose (degrees), (4, 4)."""
        import numpy as np

        return np.vstack([self.axis.matrix(self.way * pose[self.angle]), (0, 0, 0, 1)])


@dataclass(frozen=True, eq=False)
class Carried:
    """Points as a step has them (cells, points, 3), mm. turn: for each cell the matrix that turns
    rows of vectors. speed: of each point, mm to a radian; radius: its greatest; second: its second
    derivative, at most; chained: whether turns within the step move each other's axes.
    """

    places: Array
    turn: Array
    speed: Array
    radius: Array
    second: Array
    chained: bool = False


@dataclass(frozen=True, eq=False)
class Arm:
    """A body as it prints (mm), and what carries it, the outermost first."""

    solid: Manifold
    steps: tuple[Any, ...] = ()

    @cached_property
    def corners(self) -> Array:
        """The corners of its hull."""
        import numpy as np

        return np.asarray(self.solid.hull().to_mesh64().vert_properties[:, :3], float)

    def placed(self, pose: Sequence[float]) -> Manifold:
        """The body at a pose: an angle in degrees for every joint of all arms."""
        import numpy as np

        whole = np.eye(4)
        for step in self.steps:
            whole = whole @ step.matrix(pose)
        return self.solid.transform(whole[:3])

    def at(self, middles: Array) -> Placed:
        """Its corners at the middles (radians) of cells."""
        import numpy as np

        places = np.repeat(self.corners[None], len(middles), axis=0)
        speeds = np.empty((0, *places.shape))
        carried: list[Carried] = []
        for step in reversed(self.steps):
            found = step.carry(places, middles)
            carried.append(found)
            speeds = np.concatenate([speeds @ found.turn, found.speed[None]])
            places = found.places
        return Placed(self, places, [*speeds[::-1]], carried[::-1])


def _skew(along: Array) -> Array:
    """The matrix that gives the cross product of a vector with another."""
    import numpy as np

    x, y, z = along
    return np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])


def _turns(along: Array, angle: Array) -> Array:
    """For each cell the matrix that turns rows of vectors by its angle, (cells, 3, 3)."""
    import numpy as np

    cos, sin = np.cos(angle)[:, None, None], np.sin(angle)[:, None, None]
    line = np.outer(along, along)
    turns: Array = cos * (np.eye(3) - line) + line + sin * _skew(along).T
    return turns


@dataclass(frozen=True, eq=False)
class Placed:
    """Corners of a body (cells, corners, 3), mm; and for each turn of its arm, the outermost first,
    their speeds, mm to a radian, and what it did to them.
    """

    arm: Arm
    places: Array
    speeds: list[Array]
    carried: list[Carried]

    @property
    def radii(self) -> list[Array]:
        """By turn the radii of the corners about its axis, mm."""
        return [each.radius for each in self.carried]

    def ways(self, halves: Array) -> Array:
        """How far each corner strays at most (cells, corners), mm; half widths in radians."""
        import numpy as np

        found = np.zeros(self.places.shape[:2])
        for step, radius in zip(self.arm.steps, self.radii, strict=True):
            found += halves[:, step.angle, None] * radius
        return found

    def bends(self, halves: Array) -> Array:
        """What second derivatives add to the ways along any direction, mm."""
        import numpy as np

        found, inner = (np.zeros(self.places.shape[:2]) for _ in range(2))
        outer = sum((halves[:, step.angle] for step in self.arm.steps), np.zeros(len(halves)))
        for step, each in zip(self.arm.steps[::-1], self.carried[::-1], strict=True):
            half = halves[:, step.angle, None]
            outer = outer - halves[:, step.angle]
            within = inner + half * each.radius if each.chained else inner
            found += half * half / 2 * (each.second + within)
            found += half * outer[:, None] * (each.radius + within)
            inner = inner + half * each.radius
        return found

    def farthest(self, halves: Array, ways: Array) -> Array:
        """How far each cell's body reaches at most along directions (cells, directions), mm."""
        import numpy as np

        along = self.places @ ways.T
        near = self.ways(halves)[..., None]
        drift = np.repeat(self.bends(halves)[..., None], len(ways), axis=2)
        for step, speed in zip(self.arm.steps, self.speeds, strict=True):
            drift += halves[:, step.angle, None, None] * np.abs(speed @ ways.T)
        least: Array = np.minimum((along + near).max(1), (along + drift).max(1))
        return least


def directions(arms: Sequence[Arm]) -> Array:
    """Unit vectors along which bodies on arms may be parted: around every axis, and along it."""
    import numpy as np

    found = [np.eye(3), -np.eye(3)]
    seen: list[Array] = []
    for step in (step for arm in arms for step in arm.steps):
        along = np.array(step.axis.unit)
        if any(abs(float(along @ other)) > 1 - 1e-9 for other in seen):
            continue
        seen.append(along)
        one, other, _ = (np.array(each) for each in step.axis.frame)
        turns = [2 * math.pi * k / AROUND for k in range(AROUND)]
        found.append(np.array([math.cos(t) * one + math.sin(t) * other for t in turns]))
        found.append(np.array([along, -along]))
    return np.vstack(found)
