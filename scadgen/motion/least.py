"""The least gap between two bodies while one turns, from below and from above."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.motion.encounters import encounters
from scadgen.motion.turning import Pairs

if TYPE_CHECKING:
    import numpy as np

    from scadgen.motion.meridian import Faces

    Array = np.ndarray[Any, Any]

#: How closely the least gap is found, mm.
FINE = 0.005
#: Most pairs of faces that are measured; what is left then keeps the bound that it had.
MOST = 1_000_000
#: So many pairs of each batch are measured first: a near one saves most of the others.
PROBES = 100


@dataclass(frozen=True)
class Least:
    """The least gap, mm: never below ``low``, and ``high`` when turned by ``angle`` (degrees)."""

    low: float
    high: float
    angle: float


@dataclass(eq=False)
class _Search:
    low: float
    high: float
    angle: float
    aim: float
    left: int = MOST

    @property
    def goal(self) -> float:
        """A gap is not looked at any closer if it is no less than this (mm)."""
        near = self.high - FINE
        return max(near, self.aim) if self.high >= self.aim else near

    def undecided(self, known: Array) -> Array:
        """Which pairs have to be looked at closer; of the others it is noted how near they are."""
        near = known < self.goal
        self.low = min(self.low, float(known[~near].min(initial=self.low)))
        return near

    def measured(self, pairs: Pairs, angle: Array) -> Array:
        """Note how near pairs are when turned by their angles; the ways between them."""
        found = pairs.nearest(angle)
        self.left -= len(pairs)
        if len(pairs) and found.gap.min() < self.high:
            self.high = float(found.gap.min())
            self.angle = math.degrees(angle[found.gap.argmin()])
        return found.way


def least_gap(
    one: Faces,
    other: Faces,
    near: tuple[Array, Array, Array],
    span: tuple[float, float],
    start: Least,
    aim: float,
) -> Least:
    """The least gap over a span of turns (degrees) at all of which the bodies are apart.

    near: the pairs of outlines that come nearer than ``start.high``, a gap that is known at some
    turn, and how near. aim: what the gap is held against, mm: on which side of it the gap lies is
    worked out, however near it is.
    """
    import numpy as np

    i, k, apart = near
    search = _Search(start.high, start.high, start.angle, aim)
    low, high = map(math.radians, span)
    far = apart >= search.goal
    search.low = min(search.low, float(apart[far].min(initial=search.low)))
    i, k, apart = i[~far], k[~far], apart[~far]
    wide = len(other.outlines.count)
    order = np.argsort(i * wide + k)
    places = (i * wide + k)[order]
    for found in encounters(one, other, (i, k), (low, high), search.high):
        pair = one.outlines.of_which[found.fixed] * wide + other.outlines.of_which[found.moving]
        known = apart[order[np.searchsorted(places, pair)]]
        first = np.argsort(known, kind="stable")[:: max(1, len(known) // PROBES)]
        probes = found[first]
        search.measured(probes.pairs(one, other), (probes.start + probes.end) / 2)
        some = np.flatnonzero(known < search.high)  # no other can be the nearest
        found = found[some]
        _look(search, found.pairs(one, other), found.start, found.end, known[some])
    return Least(max(0.0, min(search.low, search.high)), search.high, search.angle)


def _look(search: _Search, pairs: Pairs, start: Array, end: Array, known: Array) -> None:
    """Halve each pair's span of angles until it is decided; known: no gap is less, mm."""
    import numpy as np

    while len(pairs):
        middle, half = (start + end) / 2, (end - start) / 2
        known = np.maximum(known, pairs.least(middle, half, pairs.middle_way(middle)))
        near = search.undecided(known)
        if near.sum() > search.left:
            break
        pairs, middle, half, known = pairs[near], middle[near], half[near], known[near]
        way = search.measured(pairs, middle)
        known = np.maximum(known, pairs.least(middle, half, way))
        near = search.undecided(known)
        pairs, middle, half, known = pairs[near], middle[near], half[near], known[near]
        start = np.concatenate([middle - half, middle])
        end = np.concatenate([middle, middle + half])
        known = np.concatenate([known, known])
        pairs = pairs[np.tile(np.arange(len(pairs)), 2)]
    search.low = min(search.low, float(known.min(initial=search.low)))
