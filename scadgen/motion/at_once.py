"""Two bodies that several joints part, turned at once: between which angles they never meet.

The box of all angles is split into cells. A cell is free for certain where a plane parts what both
bodies may reach in it, or where they are farther apart at its middle than they may stray together.
Cells are taken in the order of their scale: the share of its span, from rest, to which the joint
that is turned least in it is turned, of those that are turned most. So whatever ends the search,
all turns up to the least scale that is left are free for certain.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from scadgen.motion.arms import Arm, directions
from scadgen.motion.contact import meet

if TYPE_CHECKING:
    import numpy as np

    from scadgen.motion.arms import Placed

    Array = np.ndarray[Any, Any]

Pose = tuple[float, ...]
Span = tuple[float, float]

#: Added to what bodies may stray, mm: what rounding of coordinates may do.
ROUNDING = 1e-3
#: Cells that are looked at as one array.
BATCH = 32
#: Cells are looked at exactly where bodies may stray by no more than this, mm.
NEAR = 8.0
#: Cells no wider than this, degrees, are split no more.
NARROWEST = 0.25
#: Cells around rest that are tried at last: each by so much smaller than the one before.
NESTED = 0.85
#: How closely a scale is found at which bodies meet.
CLOSELY = 0.005
#: Poses that are tried first on the way to the ends of all spans at once.
TRIED = 12
#: Most cells that are looked at, and most distances that are measured.
CELLS, MEASURED = 40_000, 2_500


@dataclass(frozen=True)
class AtOnce:
    """How far joints may turn at once.

    scale: with every joint within that share of its span, 0 to 1, the bodies never meet, for
    certain. met: a pose in which they do, or are too near, degrees; None where none was found.
    near: how near they are known to come at most, mm, and where; None where nothing is left open
    that is near. left: share of all poses that was not looked at; 0 where the search came to its
    end. cells, measured: what it took.
    """

    scale: float
    met: Pose | None = None
    near: tuple[float, Pose] | None = None
    left: float = 0.0
    cells: int = 0
    measured: int = 0

    @property
    def certain(self) -> bool:
        """Whether the bodies never meet, wherever all the joints are."""
        return self.scale >= 1


@dataclass(frozen=True)
class Budget:
    """Most cells that are looked at, and most distances that are measured."""

    cells: int = CELLS
    measured: int = MEASURED


def at_once(
    one: Arm,
    other: Arm,
    spans: Sequence[Span],
    below: float = math.inf,
    budget: Budget | None = None,
    apart: float = 0.0,
) -> AtOnce:
    """How far two bodies turn at once before they meet.

    Each span holds 0, degrees; one of a single angle is that of a joint that stays there. below:
    the scale from which on nobody asks. apart: bodies that are no farther apart count as met, mm.
    """
    return _Search(one, other, tuple(spans), budget or Budget(), min(below, 1.0), apart).run()


@dataclass(eq=False)
class _Search:
    one: Arm
    other: Arm
    spans: tuple[Span, ...]
    budget: Budget
    below: float
    apart: float = 0.0
    met: tuple[float, Pose | None] = (math.inf, None)
    near: tuple[float, Pose] | None = None
    ended: float = math.inf
    seen: int = 0
    measured: int = 0
    waiting: list[tuple[float, int, Pose, Pose]] = field(default_factory=list)

    def run(self) -> AtOnce:
        self._rolled()
        middle, half = self._within(1.0)
        self._add([(middle, half)])
        while self.open < self._end and self.seen <= self.budget.cells:
            if self.measured > self.budget.measured:
                break
            count = min(BATCH, len(self.waiting))
            self._look([heapq.heappop(self.waiting)[2:] for _ in range(count)])
        left = self._left(half) if self.open < self._end else 0.0
        scale = max(min(self.open, self.met[0], self.ended), self._nested() if left else 0.0)
        return AtOnce(_told(scale), self.met[1], self.near, left, self.seen, self.measured)

    def _within(self, scale: float) -> tuple[Pose, Pose]:
        """The cell of all poses up to a scale: its middle and half its width."""
        ends = [
            (low, high) if low == high else (scale * low, scale * high) for low, high in self.spans
        ]
        return tuple((a + b) / 2 for a, b in ends), tuple((b - a) / 2 for a, b in ends)

    def _nested(self) -> float:
        """The largest of some cells around rest that is free as a whole: of many joints at once a
        search that is ended has split only the first.
        """
        scales = [NESTED**k for k in range(1, BATCH + 1)]
        parted = self._parted([self._within(scale) for scale in scales])[0]
        return next((scale for scale, free in zip(scales, parted, strict=True) if free), 0.0)

    @property
    def open(self) -> float:
        """The least scale that is left to be looked at."""
        return self.waiting[0][0] if self.waiting else math.inf

    @property
    def _end(self) -> float:
        """The scale from which on nothing more needs to be known; spans end at 1, and count."""
        asked = self.below if self.below < 1 else math.inf
        return min(self.met[0] - CLOSELY, self.ended, asked)

    def _left(self, half: Pose) -> float:
        moving = [k for k, each in enumerate(half) if each]
        return sum(math.prod(h[k] / half[k] for k in moving) for *_, h in self.waiting)

    def _rolled(self) -> None:
        """On the way to both ends of all spans at once: what meets there bounds the search."""
        for pose in (tuple(span[end] for span in self.spans) for end in (0, 1)):
            shares = (self.below * k / TRIED for k in range(1, TRIED + 1))
            any(self._try(self._toward(pose, share)) for share in shares)

    def _try(self, pose: Pose) -> bool:
        """Whether they meet at a pose; then the way there is halved to where they begin to."""
        if not self._meet(pose):
            return False
        free, met = 0.0, 1.0
        while (met - free) * self._scale(pose) > CLOSELY / 4:
            middle = (free + met) / 2
            meets = self._meet(self._toward(pose, middle))
            free, met = (free, middle) if meets else (middle, met)
        first = self._toward(pose, met)
        self.met = min(self.met, (self._scale(first), first), key=lambda found: found[0])
        return True

    def _toward(self, pose: Pose, share: float) -> Pose:
        """A share of the way to a pose; joints that stay where they are, are there."""
        return tuple(
            a if low == high else share * a for a, (low, high) in zip(pose, self.spans, strict=True)
        )

    def _meet(self, pose: Sequence[float]) -> bool:
        self.measured += 1
        one, other = self.one.placed(pose), self.other.placed(pose)
        return meet(one, other) or one.min_gap(other, 2 * self.apart) < self.apart

    def _scale(self, pose: Sequence[float]) -> float:
        """The share of their spans to which joints are turned, of those that are turned most."""
        return max(_share(a, span) for a, span in zip(pose, self.spans, strict=True))

    def _add(self, cells: Sequence[tuple[Pose, Pose]]) -> None:
        for middle, half in cells:
            heapq.heappush(self.waiting, (self._least(middle, half), self.seen, middle, half))
            self.seen += 1

    def _least(self, middle: Pose, half: Pose) -> float:
        """The least scale in a cell."""
        least = 0.0
        for a, h, (low, high) in zip(middle, half, self.spans, strict=True):
            end = high if a > 0 else low
            if abs(a) > h and end and low < high:
                least = max(least, (abs(a) - h) / abs(end))
        return least

    def _look(self, cells: Sequence[tuple[Pose, Pose]]) -> None:
        """Cells that are not parted are measured, if bodies stray little in them, or split."""
        import numpy as np

        parted, placed, halves = self._parted(cells)
        strays = placed[0].ways(halves).max(1) + placed[1].ways(halves).max(1)
        for k in map(int, np.flatnonzero(~parted)):
            if strays[k] > NEAR or not self._measured(*cells[k], float(strays[k])):
                self._split(*cells[k], self._widest(placed, halves, k))

    def _parted(self, cells: Sequence[tuple[Pose, Pose]]) -> tuple[Array, list[Placed], Array]:
        """Whether a plane parts the bodies all over a cell, the bodies there, and half widths."""
        import numpy as np

        middles, halves = (np.radians([cell[k] for cell in cells]) for k in (0, 1))
        placed = [arm.at(middles) for arm in (self.one, self.other)]
        ways = self._directions
        gaps = -placed[0].farthest(halves, ways) - placed[1].farthest(halves, -ways)
        return gaps.max(1) > self.apart + ROUNDING, placed, halves

    @cached_property
    def _directions(self) -> Array:
        return directions((self.one, self.other))

    def _widest(self, placed: Sequence[Placed], halves: Array, k: int) -> int:
        """The angle whose width lets bodies stray most."""
        import numpy as np

        ways = np.zeros(halves.shape[1])
        for each in placed:
            for step, radius in zip(each.arm.steps, each.radii, strict=True):
                ways[step.angle] += halves[k, step.angle] * radius[k].max()
        return int(ways.argmax())

    def _measured(self, middle: Pose, half: Pose, strays: float) -> bool:
        """Whether nothing is left to ask of a cell: it is free, or all that can be known of it."""
        self.measured += 1
        one, other = self.one.placed(middle), self.other.placed(middle)
        needed = self.apart + strays + ROUNDING
        gap = float(one.min_gap(other, needed + ROUNDING))
        if gap > needed:
            return True
        if gap <= self.apart and self._scale(middle) < self.met[0]:
            self._try(middle)
        if 2 * max(half) > NARROWEST:
            return False
        if (low := self._least(middle, half)) < self.ended:
            self.ended, self.near = low, (gap, middle)
        return True

    def _split(self, middle: Pose, half: Pose, k: int) -> None:
        quarter = half[k] / 2
        halves = (*half[:k], quarter, *half[k + 1 :])
        self._add(
            [
                ((*middle[:k], middle[k] + way * quarter, *middle[k + 1 :]), halves)
                for way in (-1, 1)
            ]
        )


def _told(scale: float) -> float:
    """1 where nothing was left; what is open at the very end of the spans is no less open."""
    return 1.0 if math.isinf(scale) else min(scale, math.nextafter(1, 0))


def _share(angle: float, span: Span) -> float:
    """How far an angle is out, of the end of its span on that side; 0 for a joint that stays."""
    end = span[1] if angle > 0 else span[0]
    return angle / end if angle and end and span[0] < span[1] else 0.0
