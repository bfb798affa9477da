"""How far a body turns about an axis before another stops it, and the gap on the way."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from scadgen.motion.contact import NEAR, TOUCHING, gap_between, meet

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    from scadgen.motion.advance import Reach
    from scadgen.motion.axis import Axis
    from scadgen.motion.rest import Apart

    Array = np.ndarray[Any, Any]

#: Widest gap looked for while turning, mm.
SEARCH = 2.0


@dataclass(frozen=True)
class Swing:
    """A body's free turn from rest, between all angles, not at some only.

    low, high: last free angles each way, degrees, low <= 0 <= high; a way without a stop ends at
        the limit that was searched.
    stopped_low, stopped_high: whether a stop was found that way.
    within: the range of angles over which the gap was looked for, degrees.
    gap: the bodies are nowhere nearer than this over that range, mm: the bearing gap, as long as
        the range keeps away from the stops, where the stop faces close in. 0 when the bodies meet;
        never more than 2 mm, which means "at least this".
    gap_most, gap_at: at that angle, degrees, they are no farther apart than this, mm. The least
        gap lies between ``gap`` and ``gap_most``.
    met: the bodies met at rest or somewhere in that range.
    bracket: so far beyond a stop, degrees, the bodies share volume for certain: 0.01, or up to 0.08
        where a sharp point sinks in slowly.
    unsure: spans of angles, degrees, in which the bodies graze so closely that they were looked at
        only now and then; empty where the turn is free for certain.
    """

    low: float
    high: float
    stopped_low: bool
    stopped_high: bool
    within: tuple[float, float]
    gap: float
    gap_at: float
    met: bool
    gap_most: float = 0.0
    bracket: float = 0.0
    unsure: tuple[tuple[float, float], ...] = ()

    @property
    def certain(self) -> bool:
        """Whether nothing meets between the stops for certain: there was no span left unsure."""
        return not self.unsure

    def counted(self, start: float) -> Swing:
        """The same turn, its angles counted so that it rests at ``start`` (degrees)."""
        if not start:
            return self
        low, high = self.within
        return replace(
            self,
            low=self.low + start,
            high=self.high + start,
            within=(low + start, high + start),
            gap_at=self.gap_at + start,
            unsure=tuple((a + start, b + start) for a, b in self.unsure),
        )


def swing(
    fixed: Manifold,
    moving: Manifold,
    axis: Axis,
    *,
    limit: float = 360.0,
    back: float | None = None,
    within: tuple[float, float] | None = None,
    aim: float = 0.0,
    still: Apart | None = None,
) -> Swing:
    """Turn `moving` about `axis` both ways until it meets `fixed`; neither may be empty.

    Every pair of faces is turned only as far as a plane still parts the two (to 1e-9 mm, for
    rounding), or is apart at every angle by its radii and heights (to 2e-5 mm): so what lies
    between the stops is free for certain. A stop is found to 0.01 degrees.

    limit: how far to search each way, degrees; 360 finds a hinge with no stop at all. back: how far
        against the axis, where that is another.
    within: range over which the gap is looked for, degrees; by default the middle four fifths of
        the swing. It is found to 0.005 mm.
    aim: what the gap is held against, mm: whether the least gap reaches it is worked out.
    still: how the two stand, where that is known.
    """
    if meet(fixed, moving) if still is None else still.overlap > TOUCHING:
        return Swing(0.0, 0.0, True, True, (0.0, 0.0), 0.0, 0.0, True)
    rest = gap_between(fixed, moving, SEARCH, aim or NEAR) if still is None else still.gap
    back = limit if back is None else back
    return _Turn(fixed, moving, axis, rest).swing((back, limit), within, aim)


class _Turn:
    """Two bodies that are apart at rest, by so much (mm, up to 2)."""

    def __init__(self, fixed: Manifold, moving: Manifold, axis: Axis, rest: float) -> None:
        from scadgen.motion.meridian import Faces

        self.fixed, self.moving, self.axis = fixed, moving, axis
        self.faces = Faces.of(fixed, axis), Faces.of(moving, axis)
        self.rest = rest

    def swing(
        self, limits: tuple[float, float], within: tuple[float, float] | None, aim: float
    ) -> Swing:
        from scadgen.motion.meridian import touching

        outlines = touching(*self.faces)
        back, limit = limits
        up = self.reach(1, limit, outlines)
        round_ = min(limits) >= 360 and up.met is None
        down = up if round_ else self.reach(-1, back, outlines)
        low, high = -down.free, up.free
        if within is None:
            margin = (high - low) / 10
            within = (low + margin, high - margin)
        gap, most, gap_at = self.gap(within, (low, high), (down, up), aim)
        turned = [(-b + 0.0, -a + 0.0) for a, b in down.unsure[::-1]] if down is not up else []
        brackets = [way.met - way.free for way in (up, down) if way.met is not None]
        return Swing(
            low, high, down.met is not None, up.met is not None, within, gap, gap_at,
            most == 0, most, max(brackets, default=0.0), (*turned, *up.unsure),
        )  # fmt: skip

    def reach(self, way: int, limit: float, outlines: tuple[Array, Array]) -> Reach:
        from scadgen.motion.advance import reach

        one, other = self.faces if way > 0 else (each.mirrored for each in self.faces)

        def meets(angle: float) -> bool:
            return meet(self.fixed, self.axis.turn(self.moving, way * angle))

        return reach(one, other, outlines, limit, meets)

    def gap(
        self,
        within: tuple[float, float],
        free: tuple[float, float],
        ways: tuple[Reach, Reach],
        aim: float,
    ) -> tuple[float, float, float]:
        """Least gap from below and from above, mm, and the angle of the latter."""
        from scadgen.motion.least import Least, least_gap
        from scadgen.motion.meridian import near

        for asked, end, way in zip(within, free, ways, strict=True):
            if way.met is not None and abs(asked) > abs(end) and asked * end >= 0:
                return 0.0, 0.0, end
        at = min(max(0.0, within[0]), within[1])
        known = self.rest
        if at:
            there = self.axis.turn(self.moving, at)
            known = gap_between(self.fixed, there, SEARCH, aim or NEAR)
        if within[0] == within[1]:
            return known, known, at
        start = Least(known, known, at)
        turn = math.radians(within[0]), math.radians(within[1])
        close = near(*self.faces, known, turn)
        found = least_gap(*self.faces, close, within, start, aim)
        return found.low, found.high, found.angle
