"""The numeric reading: expressions evaluated on floats, or on arrays of a million printers."""

from __future__ import annotations

import functools
import math
import operator
from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from scadgen.trees.expr import Call, Cell, Expr, Let, Num, Op, Rows, Sym, Where, as_expr, free

Value = Any  # a float, or an array that broadcasts with the other values

#: The operators of trees, on numbers and arrays.
OPERATORS: dict[str, Callable[..., Value]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": np.divide,
    "%": np.fmod,
    "neg": operator.neg,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
    "==": operator.eq,
    "&&": np.logical_and,
    "||": np.logical_or,
}

# sin(0), sin(15), ... sin(345) as OpenSCAD has them: exact where a rounded pi would not be; nan
# where it takes what pi gives.
_DIAGONAL, _STEEP = np.sqrt(0.5), np.sqrt(0.75)
_RISING = [0, np.nan, 0.5, _DIAGONAL, _STEEP, np.nan, 1, np.nan, _STEEP, _DIAGONAL, 0.5, np.nan]
_SINES = np.array(_RISING + [-s for s in _RISING])
_EXACT = 15


def _sin(degrees: Value) -> Value:
    turn = degrees % 360.0
    if not varies(turn):
        exact = math.nan if turn % _EXACT else _SINES[int(turn / _EXACT) % len(_SINES)]
        return np.sin(np.radians(turn)) if math.isnan(exact) else exact
    found = np.sin(np.radians(turn))
    steps = turn / _EXACT
    whole = steps == np.floor(steps)  # or so nearly that rounding hides it
    if whole.any():
        turn, smooth = turn[whole], found[whole]
        exact = _SINES[steps[whole].astype(int) % len(_SINES)]
        found[whole] = np.where((turn % _EXACT != 0) | np.isnan(exact), smooth, exact)
    return found


def _cos(degrees: Value) -> Value:
    return _sin(degrees + 90.0)


def _tan(degrees: Value) -> Value:
    return _sin(degrees) / _cos(degrees)


#: The functions that trees call, on numbers and arrays.
VALUES: dict[str, Callable[..., Value]] = {
    "sin": _sin,
    "cos": _cos,
    "tan": _tan,
    "asin": lambda x: np.degrees(np.arcsin(x)),
    "acos": lambda x: np.degrees(np.arccos(x)),
    "atan": lambda x: np.degrees(np.arctan(x)),
    "sqrt": np.sqrt,
    "abs": np.abs,
    "floor": np.floor,
    "ceil": np.ceil,
    "min": lambda *xs: functools.reduce(np.minimum, xs),
    "max": lambda *xs: functools.reduce(np.maximum, xs),
}


def varies(value: Value) -> bool:
    """Whether the value is an array of values."""
    return isinstance(value, np.ndarray) and value.ndim > 0


def chosen(cond: Value, yes: Value, no: Value) -> Value:
    """``yes`` where ``cond`` holds, else ``no``."""
    if varies(cond) or varies(yes) or varies(no):
        return np.where(cond, yes, no)
    return np.float64(yes if cond else no)


def cell(table: Value, row: Value, column: Value) -> Value:
    """The numbers of a table in rows and columns."""
    return table[tuple(np.asarray(index).astype(int) for index in (row, column))]


class Numbers:
    """Values of expressions where each symbol stands for a number or an array.

    ``symbols`` maps names to values. A named intermediate is worked out once. Division by zero
    and the like give inf or nan, as numpy has it: whoever needs finite numbers checks.
    """

    def __init__(self, symbols: Mapping[str, Value]) -> None:
        self.symbols = {"PI": np.pi, **symbols}
        self._named: dict[Let, Value] = {}
        self._outer: Numbers | None = None
        self._own: frozenset[str] = frozenset()  # the symbols that mean something else outside
        self.drawn: dict[object, Any] | None = None  # modules that the mesh reading draws once

    def __call__(self, node: Expr | float) -> Value:
        """The value of ``node``. Raises KeyError for a symbol without one."""
        if isinstance(node, Num):
            return node.value
        if isinstance(node, Sym):
            return self.symbols[node.name]
        if isinstance(node, Let) and node in self._named:
            return self._named[node]
        with np.errstate(all="ignore"):
            return self.value(as_expr(node))

    def within(self, **symbols: Value) -> Numbers:
        """The same numbers with more symbols, as inside a module or a loop."""
        inner = Numbers(self.symbols | symbols)
        inner._outer, inner._own = self, frozenset(symbols)
        return inner

    def picked(self, turns: Any) -> Numbers:
        """The same numbers in some turns only, in that order: of every array those entries."""
        entries = {n: value[turns] for n, value in self.symbols.items() if varies(value)}
        return self.within(**entries) if entries else self

    def replaced(self, **symbols: Value) -> Numbers:
        """The same numbers with other parameters: every named value is worked out anew."""
        return Numbers(self.symbols | symbols)

    def know(self, named: Mapping[Let, Value]) -> None:
        """Take what named values are worth here from whoever has worked them out."""
        self._named.update(named)

    def value(self, node: Expr) -> Value:
        """The same, for whoever has told numpy to be silent already."""
        read = _READERS.get(type(node))
        if read is None:
            raise TypeError(f"no number for {node!r}")
        return read(self, node)

    def _let(self, node: Let) -> Value:
        if node not in self._named:
            self._named[node] = self._home(node)._worked_out(node)
        return self._named[node]

    def _op(self, node: Op) -> Value:
        return OPERATORS[node.op](*map(self.value, node.args))

    def _call(self, node: Call) -> Value:
        return VALUES[node.name](*map(self.value, node.args))

    def _where(self, node: Where) -> Value:
        return chosen(*map(self.value, (node.cond, node.yes, node.no)))

    def _cell(self, node: Cell) -> Value:
        return cell(*map(self.value, (node.table, node.row, node.column)))

    def _home(self, node: Let) -> Numbers:
        """Outermost numbers that give ``node`` the same value: there it is worked out once."""
        home = self
        while home._outer is not None and home._own.isdisjoint(free(node)):
            home = home._outer
        return home

    def _worked_out(self, node: Let) -> Value:
        if node not in self._named:
            self._named[node] = self.value(node.value)
        return self._named[node]


#: By the kind of an expression, what reads it.
_READERS: dict[type[Expr], Callable[[Numbers, Any], Value]] = {
    Num: lambda _, node: node.value,
    Sym: lambda numbers, node: numbers.symbols[node.name],
    Let: Numbers._let,
    Op: Numbers._op,
    Call: Numbers._call,
    Where: Numbers._where,
    Rows: lambda _, node: np.array(node.rows),
    Cell: Numbers._cell,
}
