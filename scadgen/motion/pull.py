"""One straight pull of a body against another, and what ends it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from scadgen.motion.axis import Vector
from scadgen.motion.contact import GRAZE, last_free, meet, thickness
from scadgen.motion.obstacle import growth

if TYPE_CHECKING:
    from manifold3d import Manifold

#: Least growth of the shared volume over the second half of the depth; flat ends double it.
GROWTH = 1.1
#: So many times as thick as a graze, and still growing at half the rate of a flat end, an obstacle
#: is taken for a hold without a look at the half of the depth.
PLAIN, PLAINLY = 2, 0.5
#: No contact that lasts this far along a pull, mm, is jumped over: one printed line.
THIN = 0.4


@dataclass(frozen=True)
class Pull:
    """One pull out of the pose of rest.

    towards: the way in words, as seen from the axis.
    direction: its unit vector.
    travel: free travel, mm, before the first contact; with no contact, how far it went until the
        bodies were clear of each other or the limit was reached.
    end: "held" when the contact lasts, "grazed" when it gives way or is too thin, "free" when there
        is none.
    bite: mean thickness, mm, of what is in the way when pushed the stated depth past first contact,
        or, where that is thin or grows no more, half of it if that is thicker; 0 without contact.
    """

    towards: str
    direction: Vector
    travel: float
    end: Literal["held", "grazed", "free"]
    bite: float


def pull(
    fixed: Manifold,
    moving: Manifold,
    towards: str,
    direction: Vector,
    *,
    start: float,
    guess: float,
    depth: float,
    limit: float,
    tolerance: float,
) -> Pull:
    """Pull `moving`, an original, along a unit vector until it meets `fixed` or is free.

    start, guess: nothing is met before the one, mm, and perhaps first contact lies near the other.
    depth, limit, tolerance: as for `hold`.
    """
    end = max(0.0, min(limit, _parting(fixed, moving, direction)))
    travel = last_free(
        lambda mm: meet(fixed, shifted(moving, direction, mm)), start, end, THIN, tolerance, guess
    )
    if travel is None:
        return Pull(towards, direction, end, "free", 0.0)
    bite, lasts = _bitten(fixed, moving, direction, travel, depth)
    return Pull(towards, direction, travel, "held" if lasts else "grazed", bite)


def _bitten(
    fixed: Manifold, moving: Manifold, direction: Vector, travel: float, depth: float
) -> tuple[float, bool]:
    """How thick the obstacle past first contact is, and whether it lasts."""
    obstacle = fixed ^ shifted(moving, direction, travel + depth)
    bite, volume = thickness(obstacle), obstacle.volume()
    if bite >= PLAIN * GRAZE and growth(obstacle, moving, direction) * depth > PLAINLY * volume:
        return bite, True
    half = fixed ^ shifted(moving, direction, travel + depth / 2)
    # Faces that only just meet on the way make the obstacle wide, and its mean thickness small.
    bite = max(bite, thickness(half))
    return bite, bite >= GRAZE and volume > GROWTH * half.volume()


def shifted(solid: Manifold, direction: Vector, travel: float) -> Manifold:
    """The solid moved along a vector."""
    x, y, z = direction
    return solid.translate((x * travel, y * travel, z * travel))


def _parting(fixed: Manifold, moving: Manifold, direction: Vector) -> float:
    """The travel, mm, after which the bounding boxes are clear of each other."""
    stay, go = fixed.bounding_box(), moving.bounding_box()
    return min(
        float(stay[k + 3] - go[k] if step > 0 else stay[k] - go[k + 3]) / step
        for k, step in enumerate(direction)
        if step
    )
