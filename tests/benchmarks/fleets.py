"""A fleet reckoned with arrays beside a loop that takes one printer after the other."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

import numpy as np

from scadgen.hinge.family import Hinge, definition, numbers
from scadgen.proof.fleet.population import ROUGH, Population
from scadgen.proof.fleet.shares import fleet, works
from tests.benchmarks.race import Effort, Ratio, race

#: Printers of the comparison: few, for the loop's sake.
COUNT = 1000


def fleets(effort: Effort) -> Iterator[Ratio]:
    """The same shares of the same printers, both ways."""
    for name, cls in effort.families.items():
        hinge = cls()
        found = fleet(hinge, ROUGH, COUNT)
        shares = (found.share_free, found.share_hold, found.share_both)
        assert tuple(share.value for share in shares) == looped(hinge, ROUGH, COUNT)
        ours, theirs = (partial(way, hinge, ROUGH, COUNT) for way in (fleet, looped))
        times = race(ours, theirs, min(effort.repeats, 3))
        yield Ratio(f"fleet of {COUNT}, {name}", "a loop over the printers", *times)


def looped(hinge: Hinge, population: Population, count: int) -> tuple[float, float, float]:
    """Shares of the printers that turn freely, that hold and that do both, one by one."""
    family, values = definition(type(hinge)), numbers(hinge)
    printers = population.sample(count, np.random.default_rng(0))
    free = hold = both = 0
    for index in range(count):
        turns, holds = map(bool, works(family, values, printers.one(index)))
        free += turns
        hold += holds
        both += turns and holds
    return free / count, hold / count, both / count
