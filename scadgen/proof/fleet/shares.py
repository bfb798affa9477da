"""The closed form: what share of a fleet makes a hinge that works."""

from __future__ import annotations

import dataclasses
import functools
import math
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.hinge.family import Definition, definition, numbers
from scadgen.proof.fleet.population import Population
from scadgen.proof.fleet.printer import Printer
from scadgen.proof.fleet.room_left import GRAIN, Margin, margins
from scadgen.trees.to_numpy import Numbers

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge

#: Printers drawn at once.
CHUNK = 1 << 16
#: Printers worked out at once: some of their arrays stay within a processor's nearest cache, and
#: each is small enough that memory for it is at hand (96 KB).
TOGETHER = 12_000
#: So many printers at most are kept once they are drawn, some 5 MB.
FEW = 100_000
#: 97.5 % point of the standard normal distribution, for intervals that hold 95 times of 100.
Z = 1.959963984540054


@dataclass(frozen=True)
class Share:
    """A share of the fleet, 0 to 1, with the ends of its 95 % confidence interval.

    The interval is that of E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209 (from memory). It tells
    how far so many random printers may be off; it knows nothing of what was assumed of them.
    """

    value: float
    low: float
    high: float

    @classmethod
    def of(cls, hits: int, count: int) -> Share:
        """``hits`` out of ``count``, which is at least 1."""
        share, spread = hits / count, Z * Z / count
        middle = (share + spread / 2) / (1 + spread)
        half = Z * math.sqrt(share * (1 - share) / count + spread / count / 4) / (1 + spread)
        return cls(share, max(0.0, middle - half), min(1.0, middle + half))


@dataclass(frozen=True)
class Cause:
    """Why a hinge fails, in words, and on what share of the printers, 0 to 1."""

    words: str
    share: float


@dataclass(frozen=True)
class Met:
    """On what share of the printers bodies meet as they are meant to, by what the joint calls it:
    a detent clicks, a stop ends the turn."""

    of: str
    share: Share


@dataclass(frozen=True)
class Worst:
    """The worst of the printers whose errors all lie at the ends of what is assumed.

    cause: what fails there, or comes nearest to it. margin: by how much it still works, mm;
    negative where it does not.
    """

    cause: str
    margin: float
    printer: Printer


@dataclass(frozen=True)
class Fleet:
    """What a fleet of printers makes of a hinge.

    share_free: turns or bends freely; share_hold: holds; share_both: works. met: what of the hinge
    is meant to meet, and is asked of printers; a printer that fails there fails in the shares, too.
    causes: why it fails, the commonest first; one printer may have several.
    """

    family: str
    population: str
    count: int
    share_free: Share
    share_hold: Share
    share_both: Share
    met: tuple[Met, ...]
    causes: tuple[Cause, ...]
    worst: Worst | None

    @property
    def commonest(self) -> Cause | None:
        """The commonest cause of failure; None where none failed."""
        return next(iter(self.causes), None)

    def to_dict(self) -> dict[str, Any]:
        """Plain data, as for JSON."""
        return dataclasses.asdict(self)


def fleet(
    hinge: Hinge,
    population: Population,
    count: int = 1_000_000,
    seed: int = 0,
    tell: Callable[[str], None] | None = None,
) -> Fleet:
    """``hinge`` on ``count`` printers drawn at random; the same seed draws the same ones.

    ``tell`` is told how many have been looked at.

    Raises ValueError for a count below 1.
    """
    if count < 1:
        raise ValueError(f"fleet: count = {count}; it must be at least 1.")
    family, values = definition(type(hinge)), numbers(hinge)
    found: Counter[str] = Counter()
    met = Counter(dict.fromkeys(asked(family, values), 0))
    free = hold = both = done = 0
    for printers in drawn(population, count, seed):
        turns, holds = works(family, values, printers, found, met)
        free += int(turns.sum())
        hold += int(holds.sum())
        both += int((turns & holds).sum())
        if tell:
            done += len(turns)
            tell(f"{done} of {count} printers")
    return Fleet(
        family=hinge.family,
        population=population.name,
        count=count,
        share_free=Share.of(free, count),
        share_hold=Share.of(hold, count),
        share_both=Share.of(both, count),
        met=tuple(Met(of, Share.of(hits, count)) for of, hits in met.items()),
        causes=tuple(Cause(words, fails / count) for words, fails in found.most_common() if fails),
        worst=worst(family, values, population),
    )


def drawn(population: Population, count: int, seed: int) -> Iterator[Printer]:
    """So many printers, in arrays of some at once; the same seed draws the same ones."""
    some = _kept(population, count, seed) if count <= FEW else _drawn(population, count, seed)
    for printers in some:
        yield from printers.split(TOGETHER)


@functools.lru_cache(maxsize=2)
def _kept(population: Population, count: int, seed: int) -> tuple[Printer, ...]:
    """Few enough to be kept: hinges are tried on the same ones, and drawing takes longer."""
    found = tuple(_drawn(population, count, seed))
    for column in (column for printers in found for column in vars(printers).values()):
        if isinstance(column, np.ndarray):
            column.setflags(write=False)
    return found


def _drawn(population: Population, count: int, seed: int) -> Iterator[Printer]:
    rng = np.random.default_rng(seed)
    for start in range(0, count, CHUNK):
        yield population.sample(min(CHUNK, count - start), rng)


def asked(family: Definition, values: Numbers) -> list[str]:
    """What of the hinge is meant to meet as it moves, and is asked of printers."""
    return [one.of for one in family.meets if values(one.asked)]


def works(
    family: Definition,
    values: Numbers,
    printers: Printer,
    found: Counter[str] | None = None,
    met: Counter[str] | None = None,
) -> tuple[Any, Any]:
    """For each printer, whether it turns freely and whether it holds.

    ``found`` counts the printers on which each cause fails it; ``met`` those on which each of what
    is meant to meet, of those that are in it, does.
    """
    shape = np.broadcast(printers.growth, printers.layer).shape
    free, hold = np.ones(shape, bool), np.ones(shape, bool)
    well = {of: np.ones(shape, bool) for of in met or ()}
    for margin in margins(family, values, printers):
        fails = np.broadcast_to(margin.values < -GRAIN, shape)
        (free if margin.frees else hold)[fails] = False
        if margin.of in well:
            well[margin.of][fails] = False
        if found is not None:
            found[margin.cause] += int(fails.sum())
    if met is not None:
        met.update({of: int(good.sum()) for of, good in well.items()})
    return free, hold


def worst(family: Definition, values: Numbers, population: Population) -> Worst | None:
    """The worst of the printers at the ends; None for a hinge on which nothing can fail."""
    corners = population.corners()

    def lowest(margin: Margin) -> tuple[float, int]:
        every = np.broadcast_to(margin.values, corners.growth.shape)
        return float(every.min()), int(every.argmin())

    found = [(*lowest(margin), margin.cause) for margin in margins(family, values, corners)]
    if not found:
        return None
    margin, index, cause = min(found)
    printer = corners.one(index).limited(float(values.symbols["layer"]))
    return Worst(cause, margin, dataclasses.replace(printer, layer=float(printer.layer)))
