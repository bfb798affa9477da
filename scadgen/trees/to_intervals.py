"""The interval reading: bounds of an expression over whole boxes of values, many at once.

A box gives each symbol a range. What is said of an expression holds for every point of the box at
which the expression has a value, exactly and as :mod:`scadgen.trees.to_numpy` works it out.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterable, Mapping

import numpy as np

from scadgen.trees import intervals as of
from scadgen.trees.expr import Call, Cell, Expr, Let, Num, Op, Rows, Sym, Where, as_expr
from scadgen.trees.intervals import Bools, Interval, Truth

ARITHMETIC: dict[str, Callable[..., Interval]] = {
    "+": of.add,
    "-": of.subtract,
    "*": of.multiply,
    "/": of.divide,
    "%": of.remainder,
    "neg": of.negative,
}
COMPARISONS: dict[str, Callable[[Interval, Interval], Truth]] = {
    "<": of.below,
    "<=": of.not_above,
    ">": lambda a, b: of.below(b, a),
    ">=": lambda a, b: of.not_above(b, a),
    "==": of.same,
}
FUNCTIONS: dict[str, Callable[..., Interval]] = {
    "sin": of.sine,
    "cos": of.cosine,
    "tan": of.tangent,
    "asin": of.arcsine,
    "acos": of.arccosine,
    "atan": of.arctangent,
    "sqrt": of.root,
    "abs": of.absolute,
    "floor": of.whole_below,
    "ceil": of.whole_above,
    "min": of.least,
    "max": of.greatest,
}
#: The two floats around pi.
PI = Interval(np.asarray(np.pi), np.nextafter(np.asarray(np.pi), 4))


class Intervals:
    """Bounds of expressions where each symbol stands for a range, or for an array of ranges."""

    def __init__(self, symbols: Mapping[str, Interval]) -> None:
        self.symbols = {"PI": PI, **symbols}
        self._known: dict[Expr, Interval] = {}
        self._total: dict[Expr, Bools] = {}

    def __call__(self, node: Expr | float) -> Interval:
        """Bounds of ``node``. Raises KeyError for a symbol without a range."""
        with np.errstate(all="ignore"):
            return self._bounds(as_expr(node))

    def truth(self, node: Expr | bool) -> Truth:
        """Whether the comparison ``node`` holds everywhere, and whether anywhere."""
        with np.errstate(all="ignore"):
            return self._truth(as_expr(node))

    def total(self, node: Expr | float) -> Bools:
        """Whether ``node`` has a finite value everywhere in each box."""
        with np.errstate(all="ignore"):
            return self._has_value(as_expr(node))

    def _bounds(self, node: Expr) -> Interval:
        if node not in self._known:
            self._known[node] = self._worked_out(node)
        return self._known[node]

    def _worked_out(self, node: Expr) -> Interval:
        match node:
            case Num(value=value):
                return of.point(value)
            case Sym(name=name):
                return self.symbols[name]
            case Let(value=value):
                return self._bounds(value)
            case Op(op=op, args=args) if op in ARITHMETIC:
                return ARITHMETIC[op](*map(self._bounds, args))
            case Call(name=name, args=args):
                return FUNCTIONS[name](*map(self._bounds, args))
            case Where(cond=cond, yes=yes, no=no):
                return of.chosen(self._truth(cond), self._bounds(yes), self._bounds(no))
            case Cell(table=table, row=row, column=column):
                return cell(table, self._bounds(row), self._bounds(column))
        raise TypeError(f"no bounds for {node!r}")

    def _truth(self, node: Expr) -> Truth:
        match node:
            case Op(op="&&", args=(left, right)):
                return self._truth(left) & self._truth(right)
            case Op(op="||", args=(left, right)):
                return self._truth(left) | self._truth(right)
            case Op(op=op, args=args) if op in COMPARISONS:
                found = COMPARISONS[op](*map(self._bounds, args))
                return Truth(found.sure & self._all_have_values(args), found.possible)
        raise TypeError(f"no truth for {node!r}")

    def _has_value(self, node: Expr) -> Bools:
        if node not in self._total:
            bounds = self._bounds(node)
            finite = np.isfinite(bounds.low) & np.isfinite(bounds.high)
            self._total[node] = finite & self._parts_have_values(node)
        return self._total[node]

    def _parts_have_values(self, node: Expr) -> Bools:
        match node:
            case Let(value=value):
                return self._has_value(value)
            case Op(op="/" | "%", args=(_, divisor)):
                bounds = self._bounds(divisor)
                away = (bounds.low > 0) | (bounds.high < 0)
                return away & self._all_have_values(node.args)
            case Call(name="sqrt", args=(of_it,)):
                return (self._bounds(of_it).low >= 0) & self._has_value(of_it)
            case Call(name="asin" | "acos", args=(of_it,)):
                bounds = self._bounds(of_it)
                return (bounds.low >= -1) & (bounds.high <= 1) & self._has_value(of_it)
            case Op(args=args) | Call(args=args):
                return self._all_have_values(args)
            case Where(cond=cond, yes=yes, no=no):
                truth = self._truth(cond)
                chosen = ~truth.possible | self._has_value(yes)
                return chosen & (truth.sure | self._has_value(no))
        return np.asarray(True)

    def _all_have_values(self, nodes: Iterable[Expr]) -> Bools:
        return functools.reduce(np.logical_and, map(self._has_value, nodes))


def cell(table: Expr, row: Interval, column: Interval) -> Interval:
    """Bounds of the numbers of a table in those rows and columns."""
    named = table.value if isinstance(table, Let) else table
    if not isinstance(named, Rows):
        raise TypeError(f"no table: {table!r}")
    low, high = np.asarray(np.nan), np.asarray(np.nan)
    for i, numbers in enumerate(named.rows):
        for k, number in enumerate(numbers):
            inside = _meets(row, i) & _meets(column, k)
            low = np.fmin(low, np.where(inside, number, np.nan))
            high = np.fmax(high, np.where(inside, number, np.nan))
    return Interval(low, high)


def _meets(index: Interval, place: int) -> Bools:
    """Whether some of the indices are at the place once they are cut to whole numbers."""
    return np.asarray((np.trunc(index.low) <= place) & (place <= np.trunc(index.high)))
