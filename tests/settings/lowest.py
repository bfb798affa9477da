"""The least that a form can be where others are not negative: by weights on these others.

Whatever weights w >= 0 are taken, a form f is at least f - w g wherever g >= 0. The weights are
found greedily, box by box; the bound is then worked out from them, so that it holds however they
were found.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from scadgen.trees.intervals import Array
from scadgen.trees.linear import Form, Key

#: Share of all sizes that were added by which a bound is lowered for rounding.
ROUNDING = 1e-12
ROUNDS = 6


@dataclass(frozen=True, eq=False)
class Rows:
    """Forms as arrays: a row for each box, a column for each deviation."""

    centre: Array
    shares: Array
    rest: Array

    def __getitem__(self, at: Any) -> Rows:
        return Rows(self.centre[at], self.shares[at], self.rest[at])

    @property
    def low(self) -> Array:
        return np.asarray(self.centre - np.abs(self.shares).sum(-1) - self.rest)

    @property
    def size(self) -> Array:
        return np.asarray(np.abs(self.centre) + np.abs(self.shares).sum(-1) + self.rest)

    def less(self, weight: Array, other: Rows) -> Rows:
        """This form less so much of the other; the errors of both add up."""
        rest = np.where(weight > 0, other.rest, 0.0)
        centre = self.centre - weight * other.centre
        shares = self.shares - weight[:, None] * other.shares
        return Rows(centre, shares, self.rest + weight * rest)


def rows(form: Form, keys: Sequence[Key], count: int) -> Rows:
    """A form as arrays; what is infinite in it counts as an infinite error."""
    shares = np.zeros((count, len(keys)))
    for column, key in enumerate(keys):
        if key in form.shares:
            shares[:, column] = form.shares[key]
    endless = ~np.isfinite(shares).all(-1) | ~np.isfinite(form.rest)
    shares[endless] = 0
    centre = np.where(endless, 0.0, np.broadcast_to(form.centre, count))
    return Rows(centre, shares, np.where(endless, np.inf, np.broadcast_to(form.rest, count)))


def within(form: Form, keys: Sequence[Key], count: int) -> list[Rows]:
    """That a form lies within its bounds, as forms that are not negative."""
    own = rows(form, keys, count)
    found = []
    for bound, sign in ((form.bounds.low, 1), (form.bounds.high, -1)):
        finite = np.isfinite(bound)
        offset = np.where(finite, bound, 0.0)
        centre, rest = sign * (own.centre - offset), np.where(finite, own.rest, np.inf)
        found.append(Rows(centre, sign * own.shares, rest + abs(offset) * ROUNDING))
    return found


def best_weight(form: Rows, other: Rows) -> tuple[Array, Array]:
    """The weight on the other that makes the low end highest, and that end.

    The low end is concave in the weight: it bends down where a share cancels. The best weight is
    where its slope is no longer upward.
    """
    with np.errstate(all="ignore"):
        corners = form.shares / other.shares
        usable = np.isfinite(corners) & (corners > 0)
        corners = np.where(usable, corners, np.inf)
        size = np.abs(other.shares)
        upward = np.where(usable, size, -size).sum(-1) - other.centre - other.rest
    order = np.argsort(corners, axis=1)
    bends = np.take_along_axis(np.where(usable, 2 * size, 0.0), order, axis=1).cumsum(axis=1)
    place = np.minimum((bends < upward[:, None]).sum(axis=1), corners.shape[1] - 1)
    at = np.arange(len(place))
    weight = corners[at, order[at, place]]
    weight = np.where((upward > 0) & np.isfinite(weight), weight, 0.0)
    return weight, form.less(weight, other).low


def exactly_weighed(form: Rows, others: Sequence[Rows]) -> Array:
    """As ``weighed``, the best weights of all together found by a linear program, box by box."""
    from scipy.optimize import linprog  # type: ignore[import-untyped]

    low = np.full(len(form.centre), -np.inf)
    for at in range(len(low)):
        one = slice(at, at + 1)
        used = [other[one] for other in others if np.isfinite(other.rest[at])]
        if not used or not np.isfinite(form.rest[at]):
            continue
        shares = np.stack([other.shares[0] for other in used], axis=1)
        gains = np.array([other.centre[0] + other.rest[0] for other in used])
        count = len(form.shares[at])
        # Least sum of u with u >= |form - weights times others|, less what the weights cost.
        above = np.block([[-shares, -np.eye(count)], [shares, -np.eye(count)]])
        bound = np.concatenate([-form.shares[at], form.shares[at]])
        found = linprog(np.concatenate([gains, np.ones(count)]), above, bound)
        if found.x is None:
            continue
        left, size = form[one], form[one].size
        for other, weight in zip(used, np.maximum(found.x[: len(used)], 0), strict=True):
            left = left.less(np.array([weight]), other)
            size = size + weight * other.size
        low[at] = float((left.low - ROUNDING * size)[0])
    return low


def weighed(form: Rows, others: Sequence[Rows]) -> tuple[Array, Rows]:
    """A low end that holds where no other is negative, and the form less what was weighed off."""
    found, size = form, form.size
    for _ in range(ROUNDS if form.shares.shape[1] else 0):
        tried = [best_weight(found, other) for other in others]
        if not tried:
            break
        ends = np.stack([end for _, end in tried])
        chosen = np.argmax(ends, axis=0)
        low = np.where(np.isfinite(found.rest), found.low, np.inf)  # what has no end gains nothing
        better = ends.max(axis=0) > low + np.where(np.isfinite(size), ROUNDING * size, 0.0)
        if not np.any(better):
            break
        for number, (other, (weight, _)) in enumerate(zip(others, tried, strict=True)):
            at = better & (chosen == number)
            if np.any(at):
                weight = np.where(at, weight, 0.0)
                found = found.less(weight, other)
                size = size + weight * np.where(weight > 0, other.size, 0.0)
    low = found.low
    return np.where(np.isnan(low), -np.inf, low - ROUNDING * size), found
