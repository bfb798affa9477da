"""Linear forms: what an expression can be over a box, as a straight function of named deviations.

A form is ``centre`` plus ``share * e`` for each of its deviations e, of which nothing is known but
that it lies between -1 and 1, plus an error up to ``rest`` of its own. A symbol is a deviation, and
so is what a curved node leaves beside its straight part: where the same node is met twice, as in a
rule and in what the rule guards, its deviation is the same, and cancels (affine arithmetic: de
Figueiredo and Stolfi, "Affine arithmetic: concepts and applications", 2004, from memory).

All shares are arrays, an entry for each box. Rounding goes into ``rest``.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass

import numpy as np

from scadgen.trees import intervals as of
from scadgen.trees.intervals import Array, Interval, Truth

Key = Hashable
Shares = Mapping[Key, Array]

_ROUNDING = 2.0**-50  # of the sizes in an operation: more than all that it rounds away
_SLACK = 1 + 1e-12  # by which an error in closed form is widened


@dataclass(frozen=True, eq=False)
class Form:
    """``centre`` + sum of ``shares`` times their deviations, within ``rest``; ``bounds`` around."""

    bounds: Interval
    centre: Array
    shares: Shares
    rest: Array

    @property
    def deviation(self) -> Array:
        """How far the form may be from its centre."""
        size = sum((abs(share) for share in self.shares.values()), np.asarray(0.0))
        return np.asarray((size + self.rest) * (1 + (len(self.shares) + 2) * _ROUNDING))

    @property
    def reach(self) -> Interval:
        """The bounds that follow from the form alone."""
        centre, deviation = self.centre, self.deviation
        low = np.nextafter(centre - deviation, -np.inf)
        return Interval(low, np.nextafter(centre + deviation, np.inf))


def form(centre: Array, shares: Shares, rest: Array, bounds: Interval | None = None) -> Form:
    """A form with what is rounded away in making it; its bounds lie within ``bounds``."""
    kept = {key: np.where(np.isnan(share), np.inf, share) for key, share in shares.items()}
    size = sum((abs(share) for share in kept.values()), abs(centre))
    lost = ~np.isfinite(centre) | np.isnan(rest)
    rest = np.where(lost, np.inf, rest * (1 + _ROUNDING) + size * _ROUNDING)
    made = Form(Interval(centre, centre), np.where(lost, 0.0, centre), kept, rest)
    reach = made.reach if bounds is None else of.both(made.reach, bounds)
    return Form(reach, made.centre, kept, rest)


def constant(value: Interval) -> Form:
    """A number, known as well as floats tell it."""
    return form(value.middle, {}, value.radius * (value.high > value.low), value)


def symbol(key: Key, value: Interval) -> Form:
    """A deviation of its own in the whole interval."""
    radius = np.where(value.high > value.low, value.radius, 0.0)
    return form(value.middle, {key: radius}, np.zeros_like(radius), value)


def times(factor: Array, share: Array) -> Array:
    """The product, nothing times infinity being nothing."""
    return np.where((factor == 0) | (share == 0), 0.0, factor * share)


def mixed(
    one: Form, by: Array, other: Form, by_other: Array, bounds: Interval | None = None
) -> Form:
    """``by`` times one form plus ``by_other`` times the other."""
    nothing = np.asarray(0.0)
    shares = {
        key: times(by, one.shares.get(key, nothing))
        + times(by_other, other.shares.get(key, nothing))
        for key in {**one.shares, **other.shares}
    }
    centre = times(by, one.centre) + times(by_other, other.centre)
    size = abs(times(by, one.centre)) + abs(times(by_other, other.centre))
    rest = times(abs(by), one.rest) + times(abs(by_other), other.rest) + size * _ROUNDING
    return form(centre, shares, rest, bounds)


ONE, NOUGHT, MINUS = np.asarray(1.0), np.asarray(0.0), np.asarray(-1.0)


def added(a: Form, b: Form, bounds: Interval) -> Form:
    return mixed(a, ONE, b, ONE, bounds)


def subtracted(a: Form, b: Form, bounds: Interval | None = None) -> Form:
    return mixed(a, ONE, b, MINUS, bounds)


def negated(a: Form, bounds: Interval | None = None) -> Form:
    return mixed(a, MINUS, a, NOUGHT, bounds)


def straight(key: Key, a: Form, slope: Array, left: Interval, bounds: Interval) -> Form:
    """A node that is ``slope`` times ``a`` plus something in ``left``: its own deviation.

    Where ``bounds`` alone tell more, the form is these.
    """
    error, offset = left.radius * _SLACK, left.middle
    flat = ~(error < bounds.radius)
    slope = np.where(flat, 0.0, slope)
    offset = np.where(flat, bounds.middle, offset)
    share = np.where(flat, np.where(bounds.high > bounds.low, bounds.radius, 0.0), error)
    return mixed(a, slope, form(offset, {key: share}, NOUGHT), ONE, bounds)


def multiplied(key: Key, a: Form, b: Form, bounds: Interval) -> Form:
    curved = times(a.deviation, b.deviation)
    product = mixed(a, b.centre, b, a.centre)  # that counts the product of the centres twice
    left = form(-times(a.centre, b.centre), {key: curved} if np.any(curved > 0) else {}, NOUGHT)
    return mixed(product, ONE, left, ONE, bounds)


def bent(key: Key, a: Form, value: Callable[[Interval], Interval], slopes: Interval) -> Form:
    """A curved function of ``a``, whose slopes over the box lie in ``slopes``."""
    middle = Interval(a.bounds.middle, a.bounds.middle)
    slope = np.where(np.isfinite(slopes.middle), slopes.middle, 0.0)
    lean = of.subtract(slopes, Interval(slope, slope))
    away = of.multiply(lean, of.subtract(a.bounds, middle))
    through = of.subtract(value(middle), of.multiply(Interval(slope, slope), middle))
    return straight(key, a, slope, of.add(through, away), value(a.bounds))


def rooted(key: Key, a: Form) -> Form:
    """Square root: between its secant and the tangent with the same slope."""
    low, high = np.sqrt(np.maximum(a.bounds.low, 0)), np.sqrt(np.maximum(a.bounds.high, 0))
    slope = 1 / (low + high)
    left = Interval(low * high * slope / _SLACK, _SLACK / (4 * slope))
    return straight(key, a, slope, left, of.root(a.bounds))


def inverted(key: Key, b: Form) -> Form:
    """1/b: between its secant and the tangent with the same slope."""
    low, high = b.bounds.low, b.bounds.high
    product, sign = low * high, np.sign(low)
    tangent, secant = 2 * sign / np.sqrt(product), 1 / low + 1 / high
    ends = np.sort(np.stack(np.broadcast_arrays(tangent, secant)), axis=0)
    wide = abs(ends) * (_SLACK - 1)
    left = Interval(ends[0] - wide[0], ends[1] + wide[1])
    bounds = of.divide(of.point(1), b.bounds)
    away = product > 0
    left = Interval(np.where(away, left.low, -np.inf), np.where(away, left.high, np.inf))
    return straight(key, b, np.where(away, -1 / np.where(away, product, 1.0), 0.0), left, bounds)


def positive(key: Key, d: Form) -> Form:
    """max(d, 0): between its secant and the line of the same slope through 0."""
    low, high = d.bounds.low, d.bounds.high
    across = (low < 0) & (high > 0)
    slope = np.where(across, high / np.where(across, high - low, 1.0), np.where(low >= 0, 1.0, 0.0))
    above = np.where(across, -slope * low * _SLACK, 0.0)
    bounds = of.greatest(d.bounds, of.point(0))
    return straight(key, d, slope, Interval(np.zeros_like(above), above), bounds)


def chosen(key: Key, cond: Truth, yes: Form, no: Form, bounds: Interval) -> Form:
    """``yes`` or ``no``; half-way where that is open, with half of what they differ by."""
    share = np.where(cond.sure, 1.0, np.where(cond.possible, 0.5, 0.0))
    apart = of.absolute(subtracted(yes, no).bounds).high / 2
    half = np.where(cond.possible & ~cond.sure, apart, 0.0)
    flat = (half > 0) & ~(half < bounds.radius)
    middle, radius = np.where(flat, bounds.middle, 0.0), np.where(flat, bounds.radius, half)
    by, by_other = np.where(flat, 0.0, share), np.where(flat, 0.0, 1 - share)
    return mixed(
        mixed(yes, by, no, by_other), ONE, form(middle, {key: radius}, NOUGHT), ONE, bounds
    )
