"""The reading as Python: expressions of single numbers, compiled once and asked thousands of times.

A search for values that work holds one hinge after the other against all rules of its family. Its
values are those of :mod:`scadgen.trees.to_numpy`, bit for bit, in a twentieth of the time.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable, Iterable, Mapping
from typing import Any

import numpy as np

from scadgen.trees.expr import Call, Cell, Expr, Let, Num, Op, Rows, Sym, Where
from scadgen.trees.to_numpy import VALUES

#: Of a mapping of symbols to numbers.
Asked = Callable[[Mapping[str, float]], Any]


def first_false(conditions: Iterable[Expr]) -> Asked:
    """A function of symbols: where the first of the conditions stands that does not hold, or None.

    Raises KeyError for a symbol without a value.
    """
    writer = Writer()
    for place, condition in enumerate(conditions):
        words = writer.words(condition)
        writer.lines.append(f"if not {words}: return {place}")
    asked: Asked = writer.compiled()
    return asked


def value(node: Expr) -> Asked:
    """A function of symbols: the value of an expression, as :func:`first_false` asks for it."""
    writer = Writer()
    writer.lines.append(f"return {writer.words(node)}")
    asked: Asked = writer.compiled()
    return asked


class Writer:
    """Lines of a function; what is named is worked out in a line before the first that needs it."""

    def __init__(self, functions: Mapping[str, Any] | None = None) -> None:
        self.lines: list[str] = []
        self.names: dict[str, Any] = dict(_FUNCTIONS if functions is None else functions)
        self.known: dict[Let, str] = {}
        self._symbols: dict[str, str] = {"PI": repr(math.pi)}

    def compiled(self, parameters: str = "values") -> Any:
        """The function that the lines make."""
        body = "".join(f"    {line}\n" for line in self.lines)
        exec(compile(f"def asked({parameters}):\n{body}", "<formulas>", "exec"), self.names)  # noqa: S102
        return self.names["asked"]

    def words(self, node: Expr) -> str:
        """The expression as Python has it."""
        return str(getattr(self, _WRITERS[type(node)])(node))

    def number(self, node: Num) -> str:
        """A literal."""
        return f"({float(node.value)!r})"

    def symbol(self, node: Sym) -> str:
        """A local name for a symbol."""
        if node.name not in self._symbols:
            self._symbols[node.name] = f"given_{node.name}"
            self.lines.append(f"given_{node.name} = values[{node.name!r}]")
        return self._symbols[node.name]

    def named(self, node: Let) -> str:
        """A local name for a named value."""
        if node not in self.known:
            words = self.words(node.value)
            self.known[node] = f"named_{len(self.known)}"
            self.lines.append(f"{self.known[node]} = {words}")
        return self.known[node]

    def rows(self, node: Rows) -> str:
        """A name for a table, which stays as it is."""
        name = f"rows_{len(self.names)}"
        self.names[name] = np.array(node.rows)
        return name

    def operator(self, node: Op) -> str:
        """An operator and its operands."""
        return f"({_OPERATORS[node.op].format(*map(self.words, node.args))})"

    def call(self, node: Call) -> str:
        """A function and its arguments."""
        return f"{node.name}_({', '.join(map(self.words, node.args))})"

    def where(self, node: Where) -> str:
        """One of two values."""
        cond, yes, no = map(self.words, (node.cond, node.yes, node.no))
        return f"({yes} if {cond} else {no})"

    def cell(self, node: Cell) -> str:
        """The number of a table in a row and a column."""
        table, row, column = map(self.words, (node.table, node.row, node.column))
        return f"{table}[int({row}), int({column})]"


def _divided(a: float, b: float) -> float:
    try:
        return a / b
    except ZeroDivisionError:
        return float(np.divide(a, b))


def _least(*values: float) -> float:
    return functools.reduce(lambda a, b: b if b < a or b != b else a, values)


def _most(*values: float) -> float:
    return functools.reduce(lambda a, b: b if b > a or b != b else a, values)


def _root(square: float) -> float:
    return math.sqrt(square) if square >= 0 else math.nan


#: Functions of which Python's own gives the same for one number, in less time.
_QUICK: dict[str, Callable[..., Any]] = {"min": _least, "max": _most, "sqrt": _root, "abs": abs}
_FUNCTIONS: dict[str, Any] = {
    "divided": _divided,
    "rest": np.fmod,
    **{f"{name}_": function for name, function in (VALUES | _QUICK).items()},
}
_OPERATORS = {
    **{op: f"{{}} {op} {{}}" for op in ("+", "-", "*", "<", "<=", ">", ">=", "==")},
    "/": "divided({}, {})",
    "%": "rest({}, {})",
    "neg": "-{}",
    "&&": "True if {} and {} else False",
    "||": "True if {} or {} else False",
}
#: The method that writes each kind of expression.
_WRITERS: Mapping[type[Expr], str] = {
    Num: "number",
    Sym: "symbol",
    Let: "named",
    Op: "operator",
    Call: "call",
    Where: "where",
    Rows: "rows",
    Cell: "cell",
}
