"""How far a core moves in another until they touch: what to try on the bodies themselves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from scadgen.caging.certificate import Certificate
    from scadgen.caging.section import Section


Array = np.ndarray[Any, Any]


@dataclass(frozen=True)
class Looseness:
    """Straight ways to the first contact of two cores, mm.

    They are along the axis, against it and square to it. The bodies meet there at the latest.
    """

    along: float
    against: float
    aside: float


def looseness(cage: Certificate) -> Looseness:
    """The looseness of cores, one of which keeps the other."""
    seen = cage.witnesses
    fixed, moving = seen.pair.fixed, seen.pair.moving
    rises = np.concatenate([_ways(fixed, moving, 1), -_ways(moving, fixed, 1)])
    off = np.abs(np.concatenate([_ways(fixed, moving, 0), _ways(moving, fixed, 0)]))
    return Looseness(
        along=float(rises[rises > 0].min()),
        against=float(-rises[rises < 0].max()),
        aside=float(off.min()),
    )


def _ways(section: Section, other: Section, dimension: int) -> Array:
    """From each corner of the other to each edge of a section that lies straight off it, mm.

    dimension: 0 for square to the axis, 1 for along it.
    """
    corners = np.concatenate(other.outlines)[:, None]
    start, stop = section.edges.transpose(1, 0, 2)
    across = 1 - dimension
    low, high = np.sort([start[:, across], stop[:, across]], axis=0)
    level = (low < corners[..., across]) & (corners[..., across] < high)
    which, edge = np.nonzero(level)
    start, stop, corner = start[edge], stop[edge], corners[which, 0]
    share = (corner[:, across] - start[:, across]) / (stop[:, across] - start[:, across])
    place = start[:, dimension] + share * (stop[:, dimension] - start[:, dimension])
    ways: Array = place - corner[:, dimension]
    return ways
