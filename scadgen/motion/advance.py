"""How far one body turns before it meets another, for certain: what is skipped was parted."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.motion.encounters import Encounters, encounters, in_order

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    import numpy as np

    from scadgen.motion.meridian import Faces

    Array = np.ndarray[Any, Any]

#: How closely a stop is found, degrees.
TOLERANCE = 0.01
#: Where planes part two faces for less than this, degrees, they are taken to have met.
STUCK = TOLERANCE / 4
#: Most steps from one angle to the next: where they are not enough, nothing is certain.
STEPS = 300
#: So many pairs of faces, those that may meet first, are turned first: a stop saves all others.
FIRST = 250
#: So far beyond a stop, degrees, bodies are looked at: a sharp point sinks in slowly.
BEYOND = (TOLERANCE, 2 * TOLERANCE, 4 * TOLERANCE, 8 * TOLERANCE)
#: Where bodies graze so often, nothing is certain from there on: it would take too long.
GRAZES = 6
#: What bodies that graze are turned at most before they are looked at again: degrees, and mm of arc
#: as far out as they can meet.
LONGEST_STRIDE, THIN = 10.0, 0.8


@dataclass(frozen=True)
class Reach:
    """How far a body turns, all in degrees.

    free: the last angle at which it is free. met: the first at which it is met, for certain; None
    where nothing meets it. unsure: spans in which it was looked only now and then.
    """

    free: float
    met: float | None
    unsure: tuple[tuple[float, float], ...] = ()


def reach(
    one: Faces,
    other: Faces,
    outlines: tuple[Array, Array],
    limit: float,
    meets: Callable[[float], bool],
) -> Reach:
    """How far the other body turns up to a limit (degrees).

    outlines: the pairs that meet in the meridian. meets: whether the bodies share volume at a turn
    (degrees); it is asked at stops, and where the bodies graze.
    """
    span = (0.0, math.radians(limit))
    every = encounters(one, other, outlines, span, 0.0)
    batches = _Batches(in_order(every, FIRST))
    unsure: list[tuple[float, float]] = []
    stride = TOLERANCE
    for _ in range(GRAZES):
        stop = _stop(one, other, batches, span[1])
        if stop is None:
            return Reach(limit, None, tuple(unsure))
        free = math.degrees(stop)
        again = unsure and free - unsure[-1][1] < TOLERANCE
        for ahead in () if again else BEYOND:
            if meets(free + ahead):
                return Reach(free, free + ahead, tuple(unsure))
        stride = min(2 * stride, _longest(one, other)) if again else BEYOND[-1]
        ahead = min(free + stride, limit)
        if meets(ahead):
            last, met = _halved(meets, free, ahead)
            return Reach(last, met, _joined(unsure, free, last))
        unsure = list(_joined(unsure, free, ahead))
        batches.pass_by(math.radians(ahead))
    return _sampled(meets, unsure, limit, _longest(one, other))


def _sampled(
    meets: Callable[[float], bool], unsure: list[tuple[float, float]], limit: float, stride: float
) -> Reach:
    """From the last span that is unsure on it is looked only now and then."""
    free = start = unsure[-1][1]
    while free < limit:
        ahead = min(free + stride, limit)
        if meets(ahead):
            last, met = _halved(meets, free, ahead)
            return Reach(last, met, _joined(unsure, start, last))
        free = ahead
    return Reach(limit, None, _joined(unsure, start, limit))


def _joined(
    spans: list[tuple[float, float]], low: float, high: float
) -> tuple[tuple[float, float], ...]:
    if spans and low - spans[-1][1] < TOLERANCE:
        return (*spans[:-1], (spans[-1][0], high))
    return (*spans, (low, high))


def _longest(one: Faces, other: Faces) -> float:
    """The longest stride past a place where bodies graze, degrees."""
    radius = min(one.outlines.points[..., 0].max(), other.outlines.points[..., 0].max())
    return min(LONGEST_STRIDE, math.degrees(THIN / radius))


def _halved(meets: Callable[[float], bool], free: float, met: float) -> tuple[float, float]:
    while met - free > TOLERANCE:
        middle = (free + met) / 2
        free, met = (free, middle) if meets(middle) else (middle, met)
    return free, met


@dataclass(eq=False)
class _Batch:
    """Encounters, and how far each is known to be free (radians)."""

    found: Encounters
    at: Array


class _Batches:
    """Batches in the order of where they start, each made when it is come to."""

    def __init__(self, coming: Iterator[Encounters]) -> None:
        self._made: list[_Batch] = []
        self._coming, self._passed = coming, 0.0

    def __iter__(self) -> Iterator[_Batch]:
        import numpy as np

        yield from self._made
        for found in self._coming:
            self._made.append(_Batch(found, np.maximum(found.start, self._passed)))
            yield self._made[-1]

    def pass_by(self, angle: float) -> None:
        """Leave out what there is up to an angle (radians)."""
        import numpy as np

        self._passed = angle
        for batch in self._made:
            np.maximum(batch.at, angle, out=batch.at)


def _stop(one: Faces, other: Faces, batches: _Batches, limit: float) -> float | None:
    """The least angle, radians, at which a pair is stuck; None where all are free to the limit."""
    stop: float | None = None
    for batch in batches:
        if batch.found.start[0] >= (limit if stop is None else stop):
            break  # nor does any after it start before
        stuck = _advanced(one, other, batch, limit if stop is None else stop)
        stop = stop if stuck is None else stuck
    return stop


def _advanced(one: Faces, other: Faces, batch: _Batch, limit: float) -> float | None:
    """Turn each pair on as far as it is parted, up to the limit; the least angle that stays."""
    import numpy as np

    found, at = batch.found, batch.at
    stop = limit
    some = np.flatnonzero(at < np.minimum(found.end, stop))
    if not len(some):
        return None
    pairs = found[some].pairs(one, other)
    moving = np.ones(len(some), bool)
    for _ in range(STEPS):
        moving &= at[some] < np.minimum(found.end[some], stop)
        some, pairs, moving = some[moving], pairs[moving], moving[moving]
        if not len(some):
            break
        near = pairs.nearest(at[some])
        step = pairs.parted_for(at[some], near.way)
        at[some] += np.minimum(step, 2 * np.pi)
        moving = step >= math.radians(STUCK)
        stop = min(stop, float(at[some][~moving].min(initial=stop)))
    held = np.flatnonzero(at < np.minimum(found.end, limit))
    return float(at[held].min()) if len(held) and at[held].min() < limit else None
