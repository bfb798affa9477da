"""Arithmetic on intervals, rounded outward: what an operation can give for any values in them.

An interval is two arrays, an entry for each box: a least and a greatest value. A bound is moved to
the next float only where the operation on it was not exact, so that whole numbers stay whole. An
operation that has no value for some values in an interval (a root of a negative one) tells of the
others; where it has none for all of them the bounds are nan.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scadgen.trees.to_numpy import VALUES

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

_SPLIT = 2.0**27 + 1  # Dekker: halves of a float whose products are exact
_FINEST = 1e-200  # products below it may lose their last bits unseen
_STEPS = 4  # floats by which a function of numpy may be off, and one more
_OFF = 4e-16  # the least by which a sine may be off, of its greatest value


@dataclass(frozen=True, eq=False)
class Interval:
    """The least and the greatest value in each box."""

    low: Array
    high: Array

    @property
    def radius(self) -> Array:
        """Half of the width, rounded up."""
        return np.nextafter((self.high - self.low) / 2, np.inf)

    @property
    def middle(self) -> Array:
        """A value in the middle of each box; 0 where a box has no end."""
        middle = self.low / 2 + self.high / 2
        return np.where(np.isfinite(middle), np.clip(middle, self.low, self.high), 0.0)


@dataclass(frozen=True, eq=False)
class Truth:
    """Whether a comparison holds everywhere in each box, and whether anywhere.

    A comparison with what has no value does not hold.
    """

    sure: Bools
    possible: Bools

    def __and__(self, other: Truth) -> Truth:
        return Truth(self.sure & other.sure, self.possible & other.possible)

    def __or__(self, other: Truth) -> Truth:
        return Truth(self.sure | other.sure, self.possible | other.possible)


def point(value: float) -> Interval:
    """The interval that holds one number."""
    return Interval(np.asarray(value, float), np.asarray(value, float))


def hull(one: Interval, other: Interval) -> Interval:
    """The least interval around both; one without values is left out."""
    return Interval(np.fmin(one.low, other.low), np.fmax(one.high, other.high))


def both(one: Interval, other: Interval) -> Interval:
    """The values that are in both."""
    return Interval(np.fmax(one.low, other.low), np.fmin(one.high, other.high))


def _down(value: Array, error: Array) -> Array:
    """At most what ``value`` stands for, which is exact where ``error`` is 0."""
    return np.where(error == 0, value, np.nextafter(value, -np.inf))


def _up(value: Array, error: Array) -> Array:
    return np.where(error == 0, value, np.nextafter(value, np.inf))


def _sum_error(a: Array, b: Array, total: Array) -> Array:
    """What a sum of floats lost (Knuth's two-sum); nan where it is not finite."""
    part = total - a
    return (a - (total - part)) + (b - part)


def _halves(a: Array) -> tuple[Array, Array]:
    scaled = _SPLIT * a
    upper = scaled - (scaled - a)
    return upper, a - upper


def _product_error(a: Array, b: Array, product: Array) -> Array:
    """What a product of floats lost (Dekker's two-product); nan where that cannot be told."""
    (a1, a2), (b1, b2) = _halves(a), _halves(b)
    lost = a2 * b2 - (((product - a1 * b1) - a2 * b1) - a1 * b2)
    nought = (a == 0) | (b == 0)
    return np.where(nought, 0.0, np.where(abs(product) < _FINEST, np.nan, lost))


def add(a: Interval, b: Interval) -> Interval:
    low, high = a.low + b.low, a.high + b.high
    below, above = _sum_error(a.low, b.low, low), _sum_error(a.high, b.high, high)
    return Interval(_down(low, below), _up(high, above))


def negative(a: Interval) -> Interval:
    return Interval(-a.high, -a.low)


def subtract(a: Interval, b: Interval) -> Interval:
    return add(a, negative(b))


def multiply(a: Interval, b: Interval) -> Interval:
    lows, highs = [], []
    for x in (a.low, a.high):
        for y in (b.low, b.high):
            product = np.where((x == 0) | (y == 0), 0.0, x * y)
            error = _product_error(x, y, product)
            lows.append(_down(product, error))
            highs.append(_up(product, error))
    return Interval(functools.reduce(np.minimum, lows), functools.reduce(np.maximum, highs))


def square(a: Interval) -> Interval:
    size = absolute(a)
    return multiply(size, size)


def divide(a: Interval, b: Interval) -> Interval:
    """a/b, exact where the quotients of the bounds are; anything where b may be 0."""
    lows, highs = [], []
    for x in (a.low, a.high):
        for y in (b.low, b.high):
            value = x / y
            left = _product_error(value, y, value * y) + (value * y - x)
            lows.append(_down(value, left))
            highs.append(_up(value, left))
    low, high = functools.reduce(np.fmin, lows), functools.reduce(np.fmax, highs)
    away = (b.low > 0) | (b.high < 0) | np.isnan(b.low)
    return Interval(np.where(away, low, -np.inf), np.where(away, high, np.inf))


def remainder(a: Interval, b: Interval) -> Interval:
    """a % b, with the sign of the dividend."""
    quotient = divide(a, b)
    turns = np.trunc(quotient.low)
    alike = np.isfinite(turns) & (turns == np.trunc(quotient.high))
    times = np.where(alike, turns, 0.0)
    straight = subtract(a, multiply(Interval(times, times), b))
    most = np.maximum(abs(b.low), abs(b.high))
    low = np.where(a.low >= 0, 0.0, np.maximum(-most, a.low))
    high = np.where(a.high <= 0, 0.0, np.minimum(most, a.high))
    low = np.where(alike, np.maximum(low, straight.low), low)
    return Interval(low, np.where(alike, np.minimum(high, straight.high), high))


def absolute(a: Interval) -> Interval:
    inside = (a.low <= 0) & (a.high >= 0)
    least = np.where(inside, 0.0, np.minimum(abs(a.low), abs(a.high)))
    return Interval(least, np.maximum(abs(a.low), abs(a.high)))


def least(*values: Interval) -> Interval:
    lows, highs = [v.low for v in values], [v.high for v in values]
    return Interval(functools.reduce(np.minimum, lows), functools.reduce(np.minimum, highs))


def greatest(*values: Interval) -> Interval:
    lows, highs = [v.low for v in values], [v.high for v in values]
    return Interval(functools.reduce(np.maximum, lows), functools.reduce(np.maximum, highs))


def whole_below(a: Interval) -> Interval:
    return Interval(np.floor(a.low), np.floor(a.high))


def whole_above(a: Interval) -> Interval:
    return Interval(np.ceil(a.low), np.ceil(a.high))


def root(a: Interval) -> Interval:
    """Roots of the values that are not negative."""
    inside = both(a, Interval(np.zeros_like(a.low), np.full_like(a.high, np.inf)))
    none = np.where(a.high < 0, np.nan, 0.0)
    low, high = np.sqrt(np.maximum(inside.low, 0)), np.sqrt(np.maximum(inside.high, 0))
    exact = (
        _product_error(low, low, low * low) + (low * low - inside.low),
        _product_error(high, high, high * high) + (high * high - inside.high),
    )
    return Interval(np.maximum(_down(low, exact[0]), 0) + none, _up(high, exact[1]) + none)


def _about(low: Array, high: Array, scale: float = 1.0) -> Interval:
    """Bounds moved by as much as a function of numpy may be off."""
    slack = [_STEPS * np.spacing(np.abs(bound)) + scale * _OFF for bound in (low, high)]
    return Interval(low - slack[0], high + slack[1])


def sine(a: Interval) -> Interval:
    """Sine of an angle in degrees."""

    def passes(angle: float) -> Bools:
        """Whether the box holds the angle or one that is whole turns away, to be safe."""
        turns = _about((a.low - angle) / 360, (a.high - angle) / 360)
        return ~np.asarray(np.ceil(turns.low) > np.floor(turns.high))

    finite = [np.where(np.isfinite(bound), bound, 0.0) for bound in (a.low, a.high)]
    ends = [VALUES["sin"](bound) for bound in finite]
    near = _about(np.minimum(*ends), np.maximum(*ends))
    low = np.where(passes(270), -1.0, np.maximum(near.low, -1))
    return Interval(low, np.where(passes(90), 1.0, np.minimum(near.high, 1)))


def cosine(a: Interval) -> Interval:
    """Cosine of an angle in degrees."""
    return sine(add(a, point(90)))


def tangent(a: Interval) -> Interval:
    """Tangent of an angle in degrees; anything where the box holds a pole."""
    turns = _about((a.low + 90) / 180, (a.high + 90) / 180)
    clear = np.floor(turns.low) == np.floor(turns.high)
    low, high = (np.where(clear, bound, 0.0) for bound in (a.low, a.high))
    near = _about(VALUES["tan"](low), VALUES["tan"](high))
    return Interval(np.where(clear, near.low, -np.inf), np.where(clear, near.high, np.inf))


def _rising(name: str, a: Interval) -> Interval:
    return _about(VALUES[name](a.low), VALUES[name](a.high), 180)


def arcsine(a: Interval) -> Interval:
    """Angle in degrees, of the ratios from -1 to 1."""
    none = np.where((a.high < -1) | (a.low > 1), np.nan, 0.0)
    found = _rising("asin", Interval(np.clip(a.low, -1, 1), np.clip(a.high, -1, 1)))
    return Interval(found.low + none, found.high + none)


def arccosine(a: Interval) -> Interval:
    """Angle in degrees, of the ratios from -1 to 1."""
    none = np.where((a.high < -1) | (a.low > 1), np.nan, 0.0)
    found = _about(
        VALUES["acos"](np.clip(a.high, -1, 1)), VALUES["acos"](np.clip(a.low, -1, 1)), 180
    )
    return Interval(found.low + none, found.high + none)


def arctangent(a: Interval) -> Interval:
    """Angle in degrees."""
    return _rising("atan", a)


def below(a: Interval, b: Interval) -> Truth:
    """a < b."""
    return Truth(np.asarray(a.high < b.low), np.asarray(a.low < b.high))


def not_above(a: Interval, b: Interval) -> Truth:
    """a <= b."""
    return Truth(np.asarray(a.high <= b.low), np.asarray(a.low <= b.high))


def same(a: Interval, b: Interval) -> Truth:
    """a == b."""
    alone = (a.low == a.high) & (b.low == b.high) & (a.low == b.low)
    return Truth(np.asarray(alone), np.asarray((a.low <= b.high) & (b.low <= a.high)))


def chosen(cond: Truth, yes: Interval, no: Interval) -> Interval:
    """``yes`` where ``cond`` holds everywhere, ``no`` where nowhere, else around both."""
    around = hull(yes, no)
    low = np.where(cond.sure, yes.low, np.where(cond.possible, around.low, no.low))
    return Interval(
        low, np.where(cond.sure, yes.high, np.where(cond.possible, around.high, no.high))
    )
