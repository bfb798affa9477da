"""How far a body turns about an axis before another stops it, and the gap on the way."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from scadgen.motion.contact import last_free, meet

if TYPE_CHECKING:
    from collections.abc import Iterator

    from manifold3d import Manifold

    from scadgen.motion.axis import Axis

#: Widest gap looked for while turning, mm.
SEARCH = 2.0
#: Gap samples taken over the range, about.
SAMPLES = 12
#: Longest single step of a turn, degrees, however near the axis the bodies are.
LONGEST_STEP = 10.0


@dataclass(frozen=True)
class Swing:
    """A body's free turn from rest.

    low, high: last free angles each way, degrees, low <= 0 <= high; a way without a stop ends at
        the limit that was searched.
    stopped_low, stopped_high: whether a stop was found that way.
    within: the range of angles over which the gap was sampled, degrees.
    gap: smallest distance between the bodies over that range, mm: the bearing gap, as long as the
        range keeps away from the stops, where the stop faces close in. 0 when the bodies meet;
        never more than 2 mm, which means "at least this".
    gap_at: the angle of that gap, degrees.
    met: the bodies met at rest or somewhere between the stops.
    """

    low: float
    high: float
    stopped_low: bool
    stopped_high: bool
    within: tuple[float, float]
    gap: float
    gap_at: float
    met: bool


def swing(
    fixed: Manifold,
    moving: Manifold,
    axis: Axis,
    *,
    facets: int = 64,
    limit: float = 360.0,
    thin: float = 0.8,
    within: tuple[float, float] | None = None,
    tolerance: float = 0.01,
) -> Swing:
    """Turn `moving` about `axis` both ways until it meets `fixed`; neither may be empty.

    facets: sides of the bearing's polygons to a full turn. A polygonal pin in a polygonal bore is
        tightest half a facet turned, so the gap is sampled at whole and at half facets alternately.
    limit: how far to search each way, degrees; 360 finds a hinge with no stop at all.
    thin: no contact that lasts this far along the arc, mm, is jumped over. A contact lasts as long
        as both features together are thick, so that 0.8 catches any two printed lines of 0.4.
    within: range over which to sample the gap, degrees; by default the middle four fifths of the
        swing.
    tolerance: how closely a stop is found, degrees.
    """
    if meet(fixed, moving):
        return Swing(0.0, 0.0, True, True, (0.0, 0.0), 0.0, 0.0, True)
    tubes = list(_tubes(fixed, moving, axis))
    high, stopped_high = _stop(tubes, axis, 1, limit, thin, tolerance)
    if limit >= 360 and not stopped_high:
        low, stopped_low = limit, False
    else:
        low, stopped_low = _stop(tubes, axis, -1, limit, thin, tolerance)
    if within is None:
        margin = (high + low) / 10
        within = (margin - low, high - margin)
    gap, gap_at = _smallest_gap(fixed, moving, axis, within, facets)
    return Swing(-low, high, stopped_low, stopped_high, within, gap, gap_at, gap == 0)


def _stop(
    tubes: list[Tube], axis: Axis, way: int, limit: float, thin: float, tolerance: float
) -> tuple[float, bool]:
    """The last free turn one way, 0 or more, and whether anything ended it."""
    stopped = False
    for tube in tubes:
        hit = last_free(
            partial(tube.meets, axis, way),
            start=0.0,
            end=limit,
            step=min(LONGEST_STEP, math.degrees(thin / tube.radius)),
            tolerance=tolerance,
        )
        if hit is not None:
            limit, stopped = hit, True
    return limit, stopped


class Tube(NamedTuple):
    """What two bodies have between two radii; `radius` (mm) is the farthest they can meet at."""

    fixed: Manifold
    moving: Manifold
    radius: float

    def meets(self, axis: Axis, way: int, angle: float) -> bool:
        return meet(self.fixed, axis.turn(self.moving, way * angle))


def _tubes(fixed: Manifold, moving: Manifold, axis: Axis) -> Iterator[Tube]:
    """Both bodies cut by coaxial cylinders into an outer, a middle and an inner tube.

    A step that jumps nothing is shorter the farther from the axis, while the bearing, which has
    most of the triangles, sits near it: so leaves take many cheap steps, the bearing few dear ones.
    """
    reaches = [axis.reach(fixed), axis.reach(moving)]
    low = min(reach[1] for reach in reaches) - 1
    high = max(reach[2] for reach in reaches) + 1
    radius = min(reach[0] for reach in reaches)
    sides = 64
    for inner in (radius / 2, radius / 4):
        cut = axis.cylinder(inner, low, high, sides)
        outer = Tube(fixed - cut, moving - cut, radius)
        if not (outer.fixed.is_empty() or outer.moving.is_empty()):
            yield outer
        # The moving part's prism turns with it: circumscribed here, the two leave no slit between.
        cut = axis.cylinder(inner / math.cos(math.pi / sides), low, high, sides)
        fixed, moving, radius = fixed ^ cut, moving ^ cut, inner
        if fixed.is_empty() or moving.is_empty():
            return
    yield Tube(fixed, moving, radius)


def _smallest_gap(
    fixed: Manifold, moving: Manifold, axis: Axis, within: tuple[float, float], facets: int
) -> tuple[float, float]:
    gap, gap_at = SEARCH, within[0]
    for angle in _phases(within, 180 / facets):
        here = fixed.min_gap(axis.turn(moving, angle), gap)
        if here < gap:
            gap, gap_at = here, angle
    return gap, gap_at


def _phases(within: tuple[float, float], half_facet: float) -> list[float]:
    """Multiples of half a facet in the range, an odd number apart: whole and half ones in turn."""
    low, high = within
    turns = range(math.ceil(low / half_facet), math.floor(high / half_facet) + 1)
    stride = len(turns) // SAMPLES | 1
    return [low, *(turn * half_facet for turn in turns[::stride]), high]
