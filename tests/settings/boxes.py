"""Boxes of settings: where they begin, and how they are halved."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from scadgen.hinge.family import Bounds
from scadgen.trees.expr import Expr, Num, Op, Sym, walk
from scadgen.trees.intervals import Array, Bools, Interval

#: By what share of a step a width may be off from rounding.
ROUNDED = 1e-9
#: So many values of a count are few; and the least share of its side that one of more counts for.
FEW, SOON = 16, 0.1


@dataclass(frozen=True)
class Side:
    """A field or a counter: its range, and the width up to which it is not split."""

    low: float
    high: float
    step: float
    whole: bool


def side(bounds: Bounds) -> Side:
    return Side(bounds.low, bounds.high, bounds.step, bounds.whole)


@dataclass(frozen=True, eq=False)
class Boxes:
    """Boxes with the same sides: a row each of least and of greatest values."""

    sides: Mapping[str, Side]
    low: Array
    high: Array

    def __len__(self) -> int:
        return len(self.low)

    def __getitem__(self, rows: Bools | slice) -> Boxes:
        return Boxes(self.sides, self.low[rows], self.high[rows])

    def __add__(self, other: Boxes) -> Boxes:
        both = (self.low, other.low), (self.high, other.high)
        return Boxes(self.sides, *map(np.concatenate, both))

    @property
    def ranges(self) -> dict[str, Interval]:
        columns = zip(self.sides, self.low.T, self.high.T, strict=True)
        return {name: Interval(low, high) for name, low, high in columns}

    @property
    def steps(self) -> Array:
        return np.array([each.step for each in self.sides.values()])

    @property
    def shares(self) -> Array:
        """How much of each whole side a box takes; a count has more, as a single one bends nothing.

        One of few values counts in full until it is single, one of many no less than ``SOON``.
        """
        wholes = np.array([max(each.high - each.low, each.step) for each in self.sides.values()])
        shares = (self.high - self.low) / wholes
        counted = np.array([each.whole for each in self.sides.values()], bool)
        least = np.where(wholes <= FEW * self.steps, 1.0, SOON)
        return np.asarray(np.where(counted & (shares > 0), np.maximum(shares, least), shares))

    @property
    def volume(self) -> float:
        """The part of all settings that is in the boxes; single values count as one step."""
        wholes = np.array([each.high - each.low + each.step for each in self.sides.values()])
        counted = np.array([each.whole for each in self.sides.values()])
        width = self.high - self.low + np.where(counted | (self.high == self.low), self.steps, 0.0)
        return float(np.prod(width / wholes, axis=1).sum())

    def near(self, shares: Array) -> dict[str, Array]:
        """Values on the steps close to places in the boxes: 0 is the low end, 1 the high one."""
        sides = self.sides.values()
        least, most = ([getattr(each, end) for each in sides] for end in ("low", "high"))
        place = self.low + shares * (self.high - self.low)
        stepped = np.clip(np.round(place / self.steps) * self.steps, least, most).round(6)
        return dict(zip(self.sides, stepped.T, strict=True))

    def halved(self, weights: Array) -> tuple[Boxes, Boxes]:
        """Each box in two, across the side of most weight; and the boxes too small for that."""
        if not self.sides:
            return self[:0], self
        width = self.high - self.low
        whole = np.array([each.whole for each in self.sides.values()])
        wide = width > self.steps * np.where(whole, 1 - ROUNDED, 1 + ROUNDED)
        found = np.argmax(np.where(wide, weights, -1.0), axis=1)
        rows = np.arange(len(self))
        large = wide[rows, found]
        whole = whole[found]
        middle, step = (self.low[rows, found] + self.high[rows, found]) / 2, self.steps[found]
        below = np.where(whole, np.floor(middle / step) * step, middle)
        first, second = self.high.copy(), self.low.copy()
        first[rows, found], second[rows, found] = below, np.where(whole, below + step, middle)
        lower, upper = Boxes(self.sides, self.low, first), Boxes(self.sides, second, self.high)
        return lower[large] + upper[large], self[~large]


def whole_box(sides: Mapping[str, Side], nodes: Iterable[Expr]) -> Boxes:
    """All settings, cut where a comparison of a field with a number in one of the nodes turns."""
    cuts = _cuts(nodes)
    pieces = []
    for name, each in sides.items():
        at = sorted(cut for cut in cuts.get(name, ()) if each.low <= cut < each.high)
        after = [cut + each.step if each.whole else float(np.nextafter(cut, np.inf)) for cut in at]
        pieces.append(list(zip([each.low, *after], [*at, each.high], strict=True)))
    grid = list(itertools.product(*pieces))
    boxes = np.array(grid, float).reshape(len(grid), len(sides), 2)
    return Boxes(sides, boxes[..., 0], boxes[..., 1])


def _cuts(nodes: Iterable[Expr]) -> dict[str, set[float]]:
    found: dict[str, set[float]] = {}
    for node in walk(*nodes):
        match node:
            case Op(op="<" | "<=" | ">" | ">=" | "==", args=(Sym(name=name), Num(value=value))):
                found.setdefault(name, set()).add(value)
    return found
