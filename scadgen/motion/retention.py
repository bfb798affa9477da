"""Whether a body is held by another, and how far it can be pulled before it is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

from scadgen.motion.axis import Vector
from scadgen.motion.contact import meet, overlap
from scadgen.motion.crooked_way import way_out
from scadgen.motion.pull import THIN, Pull, pull

if TYPE_CHECKING:
    from collections.abc import Iterator

    from manifold3d import Manifold

    from scadgen.motion.axis import Axis

#: Finest grid chosen for the search for a crooked way out, mm.
FINEST = 0.1

_ENDS = ("held", "grazed", "free")


@dataclass(frozen=True)
class Hold:
    """How one body is held by another, without turning it.

    held: every straight pull ends in a lasting contact, and there is no crooked way out either.
    freest: the pull that is held worst: free before grazed before held, then the longest travel.
        A crooked way out is named here too, with the straight line to where it ends.
    pulls: the 26 straight pulls: first those along the axis, then against it, then square to it.
    stopped: after so many poses the search for a crooked way was given up; 0 where it was not.
    """

    held: bool
    freest: Pull
    pulls: tuple[Pull, ...]
    stopped: int = 0


def hold(
    fixed: Manifold,
    moving: Manifold,
    axis: Axis,
    *,
    depth: float = 0.5,
    limit: float = 10.0,
    tolerance: float = 0.005,
    grid: float | None = None,
) -> Hold:
    """Pull `moving` along the 26 ways to the faces, edges and corners of a cube set on the axis.

    Where all are held, look for a crooked way out: a mouth that lies between two of the 26 ways, or
    a hook that a shift to the side unhooks. The pose is the one given; turn `moving` first to try
    another.

    depth: how far past first contact the interference must keep growing to count as a hold, mm.
    limit: travel without contact, mm, that counts as free even if the bodies still surround each
        other.
    tolerance: how closely first contact is found, mm.
    grid: step of the search for a crooked way out, mm. A way with so much room on each side is
        found; half the step costs eight times the time. By default the gap at rest, at least 0.1.

    Raises ValueError when the bodies overlap already.
    """
    if meet(fixed, moving):
        raise ValueError(
            f"hold: the bodies overlap by {overlap(fixed, moving):.4g} mm3 before they are pulled;"
            " start from a pose where they are apart."
        )
    moving = moving.as_original()  # by which its faces are known in what it shares
    gap = fixed.min_gap(moving, THIN)  # nothing can be met any sooner, whatever the way
    pulls: list[Pull] = []
    for towards, direction in _ways(axis):
        # Most hinges are round: a pull mostly ends where the one before it did.
        guess = pulls[-1].travel if pulls else gap
        pulls.append(
            pull(
                fixed,
                moving,
                towards,
                direction,
                start=gap,
                guess=guess,
                depth=depth,
                limit=limit,
                tolerance=tolerance,
            )
        )
    stopped = 0
    freest = max(pulls, key=lambda one: (_ENDS.index(one.end), one.travel))
    if freest.end == "held":
        step = grid or max(gap, FINEST)
        way = way_out(fixed, moving, axis, step, limit)
        freest = _slipped(way.end) or freest
        stopped = way.poses if way.stopped else 0
    return Hold(freest.end == "held", freest, tuple(pulls), stopped)


def _ways(axis: Axis) -> Iterator[tuple[str, Vector]]:
    """The 26 unit vectors to the faces, edges and corners of a cube set on the axis, named."""
    across, aside, along = axis.frame
    rises = {1: "along the axis", -1: "against the axis", 0: "square to the axis"}
    for rise, name in rises.items():
        if rise:
            yield name, _unit((rise, along))
        for u, v in product((0, 1, -1), repeat=2):
            if u or v:
                words = in_words(_unit((u, across), (v, aside)))
                way = _unit((u, across), (v, aside), (rise, along))
                yield f"{name}, towards {words}", way


def _slipped(shift: Vector | None) -> Pull | None:
    if shift is None:
        return None
    direction = _unit((1, shift))
    towards = f"by a crooked way, towards {in_words(direction)}"
    return Pull(towards, direction, math.hypot(*shift), "free", 0.0)


def _unit(*parts: tuple[float, Vector]) -> Vector:
    x, y, z = (sum(factor * vector[k] for factor, vector in parts) for k in range(3))
    length = math.hypot(x, y, z)
    return x / length, y / length, z / length


def in_words(direction: Vector) -> str:
    """A vector, short."""
    return "({:g}, {:g}, {:g})".format(*(round(x, 3) + 0.0 for x in direction))
