"""Two pieces of work timed in turns, so that whatever else the machine does meets both."""

from __future__ import annotations

import resource
import statistics
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from scadgen.hinge.family import Hinge, all_families

Work = Callable[[], object]
Clock = Callable[[], float]


@dataclass(frozen=True)
class Effort:
    """How much is measured.

    repeats: of work of milliseconds. slow: of work of seconds. families: those measured.
    facets: of what OpenSCAD renders. patience: longest rendering, s. printers: largest fleet.
    """

    repeats: int
    slow: int
    families: Mapping[str, type[Hinge]]
    facets: int
    patience: float
    printers: int


def whole() -> Effort:
    """For the page: every family."""
    return Effort(15, 2, all_families(), 64, 120, 10_000_000)


def quick() -> Effort:
    """To see that all works: the first family only, once."""
    name, cls = next(iter(all_families().items()))
    return Effort(1, 1, {name: cls}, 16, 60, 10_000)


@dataclass(frozen=True)
class Times:
    """Processor time of the repeats, s: the least and the median."""

    least: float
    middle: float


#: The least time that is told, s.
TICK = 1e-4


@dataclass(frozen=True)
class Ratio:
    """Our work beside other work that gives the same. ``cut``: theirs was ended before its end."""

    what: str
    against: str
    ours: Times
    theirs: Times
    cut: bool = False

    @property
    def least(self) -> float:
        """Ratio of the least times; above 1 ours is slower."""
        return self.ours.least / self.theirs.least

    @property
    def middle(self) -> float:
        """Ratio of the medians."""
        return self.ours.middle / self.theirs.middle


def processor_time() -> float:
    """Processor time of this process and of those it has waited for, s."""
    children = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.process_time() + children.ru_utime + children.ru_stime


def race(
    ours: Work, theirs: Work, repeats: int, *, warm: bool = True, clock: Clock = processor_time
) -> tuple[Times, Times]:
    """Times of both, in turns ``repeats`` times, after a first turn that does not count if warm."""
    if warm:
        theirs(), ours()
    pairs = [(timed(theirs, clock), timed(ours, clock)) for _ in range(repeats)]
    they, we = map(_times, zip(*pairs, strict=True))
    return we, they


def timed(work: Work, clock: Clock = processor_time) -> float:
    """Time that the work takes, s; of a short program a system may count no time at all."""
    start = clock()
    work()
    return max(clock() - start, TICK)


def least_time(work: Work, repeats: int) -> float:
    """Least time of the repeats, s, after a first one that does not count."""
    work()
    return min(timed(work) for _ in range(repeats))


def _times(found: tuple[float, ...]) -> Times:
    return Times(min(found), statistics.median(found))
