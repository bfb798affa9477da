"""Between which turns two things about an axis can be near each other, by their own angles."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np

    from scadgen.motion.outlines import Outlines

    Array = np.ndarray[Any, Any]

#: What rounding may cost an angle, radians, and a distance, mm.
ROUNDING = 1e-9


@dataclass(frozen=True, eq=False)
class Arcs:
    """What lies between two angles, radians, and nowhere nearer to the axis than a radius, mm."""

    start: Array
    end: Array
    radius: Array

    def __getitem__(self, some: Array) -> Arcs:
        return Arcs(self.start[some], self.end[some], self.radius[some])

    def around(self, groups: Outlines) -> Arcs:
        """The arcs around those of each group; a whole turn around what lies on all sides."""
        import numpy as np

        order, first = groups.order, groups.first
        start, end = self.start[order], self.end[order]
        about = np.repeat(start[first], groups.count)
        off = np.remainder(start - about + np.pi, 2 * np.pi) - np.pi
        low = np.minimum.reduceat(off, first)
        high = np.maximum.reduceat(off + end - start, first)
        all_round = high - low > np.pi
        low, high = np.where(all_round, -np.pi, low), np.where(all_round, np.pi, high)
        radius = np.minimum.reduceat(self.radius[order], first)
        return Arcs(start[first] + low, start[first] + high, radius)


def rounds(arcs: Arcs, near: float, turn: tuple[float, float]) -> tuple[Array, Array]:
    """The boxes (n, 2) on the circle of radius 1 of what turns from one angle to another (radians).

    So much is added that two of them overlap, one turned and one by (0, 0), wherever what is in
    them comes as near as this (mm) by its angles.
    """
    import numpy as np

    wide = 2 * np.arcsin(np.minimum(1, (near + ROUNDING) / np.maximum(2 * arcs.radius, 1e-300)))
    start, end = arcs.start + turn[0] - wide - ROUNDING, arcs.end + turn[1] + wide + ROUNDING
    lows, highs = [], []
    for quarter in (0.0, np.pi / 2):  # the cosine, then the sine
        low, high = start - quarter, end - quarter
        ends = np.stack([np.cos(low), np.cos(high)])
        crest = np.floor(high / (2 * np.pi)) * 2 * np.pi >= low
        trough = np.floor((high - np.pi) / (2 * np.pi)) * 2 * np.pi + np.pi >= low
        lows.append(np.where(trough, -1.0, ends.min(0) - ROUNDING))
        highs.append(np.where(crest, 1.0, ends.max(0) + ROUNDING))
    return np.stack(lows, 1), np.stack(highs, 1)


def window(one: Arcs, other: Arcs, near: float) -> tuple[Array, Array]:
    """From which turn of the other, and over how much, they may be as near as this (mm), radians.

    At any other turn they are farther apart, by their angles: two points at radii r and s and at an
    angle t to each other are at least 2 sqrt(r s) sin(t / 2) apart. A whole turn is 2 pi or more.
    """
    import numpy as np

    radius = np.sqrt(one.radius * other.radius)
    wide = 2 * np.arcsin(np.minimum(1, (near + ROUNDING) / np.maximum(2 * radius, 1e-300)))
    start = one.start - other.end - wide - ROUNDING
    return start, one.end - other.start + wide + ROUNDING - start


def turns(start: Array, length: Array, span: tuple[float, float]) -> tuple[Array, Array]:
    """The first and the last whole turn on which windows come within a span; first > last: none."""
    import numpy as np

    first = np.ceil((span[0] - start - length) / (2 * np.pi))
    return first, np.floor((span[1] - start) / (2 * np.pi))
