"""Hinges of a family in all proportions, from small to large.

The candidates of a family depend on what is fixed, never on a load: so the smallest that bears a
harder duty is never smaller than the one that bears an easier one. Each proportion is repaired by
the family's rules, but for the stretched field, of which all values are tried: so a larger turn,
too, only takes candidates away.
"""

from __future__ import annotations

import functools
import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from scadgen.hinge.batch import batch, loose_batch, sound
from scadgen.hinge.family import Bounds, Hinge, bounds, definition
from scadgen.trees.to_numpy import Numbers

Array = np.ndarray[Any, Any]
Columns = dict[str, Array]

#: Proportions of a family that are tried.
COUNT = 9_000
#: Values of the stretched field, at most, from its low end to its high one.
STRETCHES = 40
#: Share of the proportions that have a field at its low end, or where rules lift it to.
AT_LOW = 0.35
#: Sweeps in which broken rules move their own field; the families' chains of rules are shorter.
SWEEPS = 8
#: Candidates that are looked at together: as many as give arrays a fair length.
CHUNK = 16_384
#: Orders of candidates that are kept: as many as two rankings of all families use.
KEPT = 18
#: Chunks that are sorted before all others are.
LEAD = 2


def candidates(cls: type[Hinge], fixed: Mapping[str, float], count: int = COUNT) -> Columns:
    """Sound hinges as columns by field, ordered by their bulk; see :func:`chunks`."""
    found = list(chunks(cls, fixed, count))
    columns = {name: np.concatenate([each[name] for each in found]) for name in found[0]}
    kept = sound(batch(cls, columns))
    return {name: column[kept] for name, column in columns.items()}


def chunks(cls: type[Hinge], fixed: Mapping[str, float], count: int = COUNT) -> Iterator[Columns]:
    """Hinges of ``count`` proportions as columns by field, so many at a time; not all sound.

    They come ordered by their bulk. Fields in ``fixed`` have that value, those that
    :meth:`Hinge.free_beside` names vary, all others have their defaults. Sizes are on the sliders'
    steps.
    """
    return (columns for columns, _ in sound_chunks(cls, fixed, count))


def sound_chunks(
    cls: type[Hinge], fixed: Mapping[str, float], count: int = COUNT
) -> Iterator[tuple[Columns, Array]]:
    """The same, each chunk with where its sound hinges stand: that is asked once for all duties."""
    family: Any = cls  # to a type checker a class that is its key's part has no hash
    return iter(_ordered(family, tuple(sorted(fixed.items())), count))


@functools.lru_cache(maxsize=KEPT)
def _ordered(cls: Any, fixed: tuple[tuple[str, float], ...], count: int) -> _Ordered:
    """All candidates, whose order is found once for all duties."""
    fields, given = bounds(cls), dict(fixed)
    free = [*cls.free_beside(given)]
    varied = {
        name: _between(fields[name], share)
        for name, share in zip(free, _spread(count, len(free)), strict=True)
    }
    usual = {n: float(given.get(n, limits.default)) for n, limits in fields.items()}
    _repair(cls, usual, varied)
    stretched = _stretches(fields[cls.stretched]) if cls.stretched in varied else np.ones(1)
    beside = {name: column[:, None] for name, column in varied.items()}
    if cls.stretched in varied:
        beside[cls.stretched] = stretched[None, :]
    total = (count if varied else 1, len(stretched))
    bulk = np.broadcast_to(loose_batch(cls, usual | beside).bulk(), total).ravel()
    return _Ordered(cls, usual, varied, {cls.stretched: stretched}, _rising(bulk))


@dataclass(eq=False)
class _Ordered:
    """Proportions and values of the stretched field, and the order of all pairs of them.

    What was ordered is kept, and which of it is sound; the rest is when it is asked for.
    """

    cls: Any
    usual: dict[str, float]
    varied: Columns
    stretched: Columns
    rising: Iterator[Array]
    known: list[Array] = field(default_factory=list)
    sound: list[Array] = field(default_factory=list)

    def __iter__(self) -> Iterator[tuple[Columns, Array]]:
        for place in itertools.count():
            if place == len(self.known):
                order = next(self.rising, None)
                if order is None:
                    return
                self.known.append(order)
            columns = self._columns(self.known[place])
            if place == len(self.sound):
                self.sound.append(np.flatnonzero(sound(batch(self.cls, columns))))
            yield columns, self.sound[place]

    def _columns(self, order: Array) -> Columns:
        ((name, values),) = self.stretched.items()
        proportion, stretch = np.divmod(order, len(values))
        columns = {name: column[proportion] for name, column in self.varied.items()}
        if name in columns:
            columns[name] = values[stretch]
        constant = {name: np.broadcast_to(value, len(order)) for name, value in self.usual.items()}
        return {name: columns.get(name, value) for name, value in constant.items()}


def _rising(values: Array) -> Iterator[Array]:
    """Where the values stand, from the least on, a chunk at a time; equal ones in their order.

    Most searches end among the first, so these are sorted by themselves.
    """
    lead, first = LEAD * CHUNK, np.zeros(0, np.intp)
    start, rest = 0, np.arange(len(values))
    if len(values) > 2 * lead:
        among = values <= np.partition(values, lead)[lead]
        first, rest = _sorted(values, np.flatnonzero(among)), np.flatnonzero(~among)
        while start + CHUNK <= len(first):
            yield first[start : start + CHUNK]
            start += CHUNK
    order = np.concatenate([first[start:], _sorted(values, rest)])
    for start in range(0, len(order), CHUNK):
        yield order[start : start + CHUNK]


def _sorted(values: Array, places: Array) -> Array:
    return places[np.argsort(values[places], kind="stable")]


@functools.lru_cache(maxsize=16)
def _spread(count: int, dimensions: int) -> Array:
    """Halton's points: rows of shares from 0 to 1 that fill the cube evenly, the same every time.

    Source: J. H. Halton, *Numer. Math.* 2 (1960) 84 (from memory).
    """
    primes = (2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37)[:dimensions]
    return np.array([_radical_inverse(np.arange(count), prime) for prime in primes])


def _radical_inverse(numbers: Array, base: int) -> Array:
    rest, share, scale = numbers.copy(), np.zeros(len(numbers)), 1.0
    while rest.any():
        scale /= base
        share += scale * (rest % base)
        rest //= base
    return share


def _between(limits: Bounds, share: Array) -> Array:
    """Values on the slider's steps for shares from 0 to 1: a part of them at the low end."""
    return _scaled(limits, np.maximum(share - AT_LOW, 0) / (1 - AT_LOW))


def _stretches(limits: Bounds) -> Array:
    """Values on the slider's steps over a whole range, each a like share above the one before."""
    return np.unique(_scaled(limits, np.linspace(0, 1, STRETCHES)))


def _scaled(limits: Bounds, share: Array) -> Array:
    """From the low end to the high one on a logarithmic scale: as close for large ones as small."""
    least = max(limits.low, limits.step)
    values = np.where(share > 0, least * (limits.high / least) ** share, limits.low)
    return _stepped(
        limits, limits.low + np.round((values - limits.low) / limits.step) * limits.step
    )


def _stepped(limits: Bounds, values: Array) -> Array:
    return np.round(values / limits.step) * limits.step if limits.whole else np.round(values, 6)


def _repair(cls: type[Hinge], usual: Mapping[str, float], varied: Columns) -> None:
    """Move varied fields to the limits of the rules that they break, as far as their bounds go."""
    fields = bounds(cls)
    rules = [r for r in definition(cls).rules if r.param in varied and r.param != cls.stretched]
    for _ in range(SWEEPS):
        numbers, moved = Numbers({**usual, **varied}), False
        for rule in rules:
            column = varied[rule.param]
            broken = ~np.broadcast_to(numbers(rule.holds), len(column))
            if not broken.any():
                continue
            limits = fields[rule.param]
            limit = np.clip(numbers(rule.nearest(limits.step)), limits.low, limits.high)
            further = limit > column if rule.at_least else limit < column
            varied[rule.param] = np.where(broken & further, np.round(limit, 6), column)
            moved = moved or bool(np.any(broken & further))
        if not moved:
            return
