"""How far a core moves in another until they touch: what to try on the bodies themselves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.caging.poses import ALONG, ASIDE, TILT, WAY, around, posed
from scadgen.caging.section import BAND

if TYPE_CHECKING:
    from scadgen.caging.certificate import Certificate
    from scadgen.caging.section import Section
    from scadgen.caging.witnesses import Pair


Array = np.ndarray[Any, Any]

#: Shifts that a tilt is tried with, as shares of a region's size; ways of it, rad.
SHARES, WAYS = np.linspace(0, 0.8, 6), (0.0, np.pi)
#: Halvings of the range in which the largest tilt lies.
HALVINGS = 8
#: Places on a surface: so far apart in its section, mm, and so many around one half of the axis,
#: of which the other is the mirror image.
PACE, HALF_AROUND = 0.2, 13
#: A place that lies so deep in the other core, mm, is taken for a contact.
TOUCH = 0.02


@dataclass(frozen=True)
class Looseness:
    """Straight ways to the first contact of two cores, and their largest tilt.

    along, against, aside: mm, along the axis, against it and square to it. tilt: rad, with the
    centre shifted as ``shift`` says: towards the side to which it tilts, and along the axis (mm).
    centre: where on the axis that is, mm from its origin. lever: how far from it places are, mm.
    """

    along: float
    against: float
    aside: float
    tilt: float
    shift: tuple[float, float]
    centre: float
    lever: float


def looseness(cage: Certificate) -> Looseness:
    """The looseness of cores, one of which keeps the other."""
    seen = cage.witnesses
    fixed, moving = seen.pair.fixed, seen.pair.moving
    rises = np.concatenate([_ways(fixed, moving, 1), -_ways(moving, fixed, 1)])
    off = np.abs(np.concatenate([_ways(fixed, moving, 0), _ways(moving, fixed, 0)]))
    tilt, shift = _steepest(cage)
    return Looseness(
        along=float(rises[rises > 0].min()),
        against=float(-rises[rises < 0].max()),
        aside=float(off.min()),
        tilt=tilt,
        shift=shift,
        centre=seen.pair.centre,
        lever=float(seen.levers.max()),
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


def _steepest(cage: Certificate) -> tuple[float, tuple[float, float]]:
    """The largest tilt that some shift within the region allows, about, and that shift."""
    region, pair = cage.region, cage.witnesses.pair
    places = _surface(pair)
    alongs = np.concatenate([-region.below * SHARES[:0:-1], region.above * SHARES])
    axes = np.meshgrid(region.aside * SHARES, alongs, WAYS, indexing="ij")
    aside, along, way = (axis.ravel() for axis in axes)
    poses = np.zeros((len(way), 4))
    poses[:, ASIDE], poses[:, ALONG], poses[:, WAY] = aside, along, way
    low, high, best = 0.0, region.tilt, (0.0, 0.0)
    for _ in range(HALVINGS):
        poses[:, TILT] = (low + high) / 2
        there = pair.grid.at(*posed(poses, places, pair.centre)).max(1)
        least = int(there.argmin())
        if there[least] <= TOUCH:
            low = (low + high) / 2
            best = (float(aside[least] * np.cos(way[least])), float(along[least]))
        else:
            high = (low + high) / 2
    return low, best


def _surface(pair: Pair) -> Array:
    """Places (n, 3) on half the surface of the moving core, where it is near the fixed one."""
    start, stop = pair.moving.edges.transpose(1, 0, 2)
    many = np.ceil(np.linalg.norm(stop - start, axis=1) / PACE).astype(int)
    edge = np.repeat(np.arange(len(many)), many)
    share = (np.arange(len(edge)) - np.repeat(many.cumsum() - many, many)) / many[edge]
    outline = start[edge] + share[:, None] * (stop - start)[edge]
    outline = outline[pair.grid.at(*outline.astype(np.float32).T) > -BAND]
    off, along = outline.T
    return around(off, along, np.linspace(0, np.pi, HALF_AROUND))
