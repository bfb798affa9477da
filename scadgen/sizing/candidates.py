"""Sound hinges of a family in all proportions, from small to large.

The candidates of a family depend on what is fixed, never on a load: so the smallest that bears a
harder duty is never smaller than the one that bears an easier one.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from scadgen.batch import batch, sound
from scadgen.family import Bounds, Hinge, bounds, definition
from scadgen.to_numpy import Numbers

Array = np.ndarray[Any, Any]
Columns = dict[str, Array]

#: Candidates of a family: enough that the next smaller one is a slider's step or two away.
COUNT = 30_000
#: The largest candidates are so many times the usual size; a field's own high end is the limit.
LARGEST = 3.0
#: Sweeps in which broken rules move their own field; the families' chains of rules are shorter.
SWEEPS = 8


def candidates(cls: type[Hinge], fixed: Mapping[str, float], count: int = COUNT) -> Columns:
    """Up to ``count`` sound hinges as columns by field, ordered by their bulk.

    Fields in ``fixed`` have that value, those that :meth:`Hinge.free_fields` names vary, all others
    have their defaults. Sizes are on the sliders' steps. Columns are empty where nothing is sound.
    """
    fields = bounds(cls)
    free = [name for name in cls.free_fields() if name not in fixed]
    columns = {
        name: np.full(count, float(fixed.get(name, limits.default)))
        for name, limits in fields.items()
    }
    for name, share in zip(free, _spread(count, len(free)), strict=True):
        columns[name] = _between(fields[name], share)
    _repair(cls, columns, free)
    hinges = batch(cls, columns)
    order = np.argsort(np.broadcast_to(hinges.bulk(), count), kind="stable")
    kept = order[sound(hinges)[order]]
    return {name: column[kept] for name, column in columns.items()}


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
    """Values on the slider's steps, small ones more often than large ones."""
    top = min(limits.high, LARGEST * limits.default)
    steps = np.round(share**2 * (top - limits.low) / limits.step)
    values = limits.low + steps * limits.step
    return np.round(values / limits.step) * limits.step if limits.whole else np.round(values, 6)


def _repair(cls: type[Hinge], columns: Columns, free: list[str]) -> None:
    """Move free fields to the limits of the rules that they break, as far as their bounds go."""
    fields, rules = bounds(cls), definition(cls).rules
    for _ in range(SWEEPS):
        numbers, moved = Numbers(dict(columns)), False
        for rule in (rule for rule in rules if rule.param in free):
            broken = ~np.broadcast_to(numbers(rule.holds), len(columns[rule.param]))
            if not broken.any():
                continue
            limits, column = fields[rule.param], columns[rule.param]
            limit = np.clip(numbers(rule.nearest(limits.step)), limits.low, limits.high)
            further = limit > column if rule.at_least else limit < column
            columns[rule.param] = np.where(broken & further, np.round(limit, 6), column)
            moved = moved or bool(np.any(broken & further))
        if not moved:
            return
