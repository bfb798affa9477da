"""Expression trees: what a hinge's formulas become when they are run on symbols.

A family writes plain arithmetic. Run on symbols it leaves a tree behind, and the readings
(:mod:`scadgen.trees.to_scad`, :mod:`scadgen.trees.to_numpy`) print or evaluate that one tree.
To a type checker every expression is a ``float``, so a formula reads the same whichever way it is
used.

Angles are in degrees throughout, as in OpenSCAD.
"""

from __future__ import annotations

import functools
import keyword
import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, NoReturn, cast

RESERVED = {
    *("module", "function", "if", "else", "for", "let", "assert", "echo", "each"),
    *("true", "false", "undef", "include", "use"),
    *keyword.kwlist,
}
_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]*\Z", re.ASCII)


def checked_name(name: str) -> str:
    """Return ``name`` if OpenSCAD and Python both take it as a plain identifier.

    Raises ValueError otherwise (reserved word, leading underscore or digit, non-ASCII).
    """
    if not _NAME.match(name) or name in RESERVED:
        raise ValueError(f"{name!r} cannot name anything in OpenSCAD: use letters, digits, '_'")
    return name


class Expr:
    """A node of the tree. Arithmetic and comparison on it build larger trees."""

    __slots__ = ()

    def __add__(self, other: Any) -> Expr:
        if _is(self, 0):
            return as_expr(other)
        if isinstance(self, Op) and self.op == "-" and _same(self.args[1], other):
            return self.args[0]
        if (opposite := _opposite(other)) is not None:
            return self - opposite
        return self if _is(other, 0) else Op("+", self, as_expr(other))

    def __radd__(self, other: Any) -> Expr:
        return self if _is(other, 0) else Op("+", as_expr(other), self)

    def __sub__(self, other: Any) -> Expr:
        if _same(self, other):
            return Num(0)
        if isinstance(self, Op) and self.op == "+":
            for rest, one in (self.args, self.args[::-1]):
                if _same(one, other):
                    return rest
        if (opposite := _opposite(other)) is not None:
            return self + opposite
        return self if _is(other, 0) else Op("-", self, as_expr(other))

    def __rsub__(self, other: Any) -> Expr:
        return -self if _is(other, 0) else Op("-", as_expr(other), self)

    def __mul__(self, other: Any) -> Expr:
        if _is(other, 0):
            return Num(0)
        return self if _is(other, 1) else Op("*", self, as_expr(other))

    def __rmul__(self, other: Any) -> Expr:
        if _is(other, 0):
            return Num(0)
        return self if _is(other, 1) else Op("*", as_expr(other), self)

    def __truediv__(self, other: Any) -> Expr:
        return self if _is(other, 1) else Op("/", self, as_expr(other))

    def __rtruediv__(self, other: Any) -> Expr:
        return Op("/", as_expr(other), self)

    def __mod__(self, other: Any) -> Expr:
        """Remainder with the sign of the dividend, as OpenSCAD has it (not Python's)."""
        return Op("%", self, as_expr(other))

    def __neg__(self) -> Expr:
        match self:
            case Num(value=value):
                return Num(-value)
            case Op(op="neg", args=(opposite,)):
                return opposite
            case Op(op="*" | "/" as op, args=(left, right)):
                return Op(op, -left, right)
        return Op("neg", self)

    def __abs__(self) -> Expr:
        return Call("abs", (self,))

    def __lt__(self, other: Any) -> Expr:
        return Op("<", self, as_expr(other))

    def __le__(self, other: Any) -> Expr:
        return Op("<=", self, as_expr(other))

    def __gt__(self, other: Any) -> Expr:
        return Op(">", self, as_expr(other))

    def __ge__(self, other: Any) -> Expr:
        return Op(">=", self, as_expr(other))

    def __and__(self, other: Any) -> Expr:
        return Op("&&", self, as_expr(other))

    def __or__(self, other: Any) -> Expr:
        return Op("||", self, as_expr(other))

    def __bool__(self) -> NoReturn:
        raise TypeError(
            "a symbol has no truth value: write where(condition, a, b) instead of if, "
            "and & or | instead of and, or, or a chained comparison"
        )


@dataclass(frozen=True, eq=False, slots=True)
class Num(Expr):
    """A literal number; nan and infinity are refused."""

    value: float

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            raise ValueError(f"{self.value} is no number that OpenSCAD source can hold")


@dataclass(frozen=True, eq=False, slots=True)
class Sym(Expr):
    """A parameter or loop index, known by name only."""

    name: str

    def __post_init__(self) -> None:
        checked_name(self.name)


@dataclass(frozen=True, eq=False, slots=True)
class Let(Expr):
    """A named intermediate value: printed once as an assignment, then by its name."""

    name: str
    value: Expr
    note: str

    def __post_init__(self) -> None:
        checked_name(self.name)


class Op(Expr):
    """An operator and its one or two operands."""

    __slots__ = ("args", "op")

    def __init__(self, op: str, *args: Expr) -> None:
        self.op = op
        self.args = args


@dataclass(frozen=True, eq=False, slots=True)
class Call(Expr):
    """A function that OpenSCAD and numpy share, and its arguments."""

    name: str
    args: tuple[Expr, ...]


@dataclass(frozen=True, eq=False, slots=True)
class Where(Expr):
    """``yes`` where ``cond`` holds, else ``no``."""

    cond: Expr
    yes: Expr
    no: Expr


@dataclass(frozen=True, eq=False, slots=True)
class Rows(Expr):
    """A table of literal numbers, row by row."""

    rows: tuple[tuple[float, ...], ...]


@dataclass(frozen=True, eq=False, slots=True)
class Cell(Expr):
    """The number of a table in a row and a column, both counted from 0."""

    table: Expr
    row: Expr
    column: Expr


def _is(value: Any, literal: Any) -> bool:
    """Whether ``value`` is that very number: neutral ones would only clutter the text."""
    number = value.value if isinstance(value, Num) else value
    return (
        isinstance(number, (int, float)) and isinstance(literal, (int, float)) and number == literal
    )


def _same(one: Any, other: Any) -> bool:
    """Whether two values are the same number, or the same value under whatever names."""
    if _is(one, other):
        return True
    one, other = _named(one), _named(other)
    return isinstance(one, (Sym, Let)) and isinstance(other, (Sym, Let)) and one == other


def _named(value: Any) -> Any:
    """What a value that is just another's is another name of."""
    while isinstance(value, Let) and isinstance(value.value, (Sym, Let)):
        value = value.value
    return value


def _opposite(value: Any) -> Expr | None:
    """What ``value`` is the negative of, if it is written with a minus in front."""
    match value:
        case Num(value=number) if number < 0:
            return Num(-number)
        case Op(op="neg", args=(positive,)):
            return positive
        case Op(op="*" | "/" as op, args=(left, right)):
            factor = _opposite(left)
            return None if factor is None else Op(op, factor, right)
    return None


def as_expr(value: Any) -> Expr:
    """Wrap a finite real number as a literal; pass an expression through.

    Raises TypeError for anything else and ValueError for nan or infinity.
    """
    if isinstance(value, Expr):
        return value
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise TypeError(f"{value!r} is neither a number nor an expression")
    return Num(float(value))


def _call(name: str, *args: Any) -> float:
    return cast(float, Call(name, tuple(map(as_expr, args))))


#: The ratio of a circle's circumference to its diameter, under OpenSCAD's own name for it.
PI: float = cast(float, Sym("PI"))


def let(name: str, value: float, note: str = "") -> float:
    """A named intermediate value within a part: an assignment at the top of its module."""
    return cast(float, Let(name, as_expr(value), note))


def table(name: str, note: str, *rows: tuple[float, ...]) -> Callable[[float, float], float]:
    """A named table; called with a row and a column, counted from 0, it gives that number."""
    named = Let(name, Rows(rows), note)
    return lambda row, column: cast(float, Cell(named, as_expr(row), as_expr(column)))


def sin(degrees: float) -> float:
    """Sine of an angle in degrees; exact at multiples of 30."""
    return _call("sin", degrees)


def cos(degrees: float) -> float:
    """Cosine of an angle in degrees; exact at multiples of 30."""
    return _call("cos", degrees)


def tan(degrees: float) -> float:
    """Tangent of an angle in degrees; exact at multiples of 45."""
    return _call("tan", degrees)


def asin(ratio: float) -> float:
    """Angle in degrees whose sine is ``ratio`` (-1 to 1)."""
    return _call("asin", ratio)


def acos(ratio: float) -> float:
    """Angle in degrees whose cosine is ``ratio`` (-1 to 1)."""
    return _call("acos", ratio)


def atan(ratio: float) -> float:
    """Angle in degrees, -90 to 90, whose tangent is ``ratio``."""
    return _call("atan", ratio)


def sqrt(value: float) -> float:
    """Square root of a value that is not negative."""
    return _call("sqrt", value)


def floor(value: float | Expr) -> float:
    """Largest whole number not above ``value``."""
    return _call("floor", value)


def ceil(value: float | Expr) -> float:
    """Smallest whole number not below ``value``."""
    return _call("ceil", value)


def minimum(*values: float) -> float:
    """The least of the values."""
    return _call("min", *values)


def maximum(*values: float) -> float:
    """The greatest of the values."""
    return _call("max", *values)


def equal(left: float, right: float) -> bool:
    """Whether the two values are the same (``==`` itself compares trees, not values)."""
    return cast(bool, Op("==", as_expr(left), as_expr(right)))


def where(cond: bool, yes: float, no: float) -> float:
    """``yes`` where the comparison ``cond`` holds, else ``no`` (OpenSCAD's ``? :``)."""
    return cast(float, Where(as_expr(cond), as_expr(yes), as_expr(no)))


def children(node: Expr) -> tuple[Expr, ...]:
    """The nodes directly below ``node``."""
    match node:
        case Let(value=value):
            return (value,)
        case Op(args=args) | Call(args=args):
            return args
        case Where(cond=cond, yes=yes, no=no):
            return (cond, yes, no)
        case Cell(table=named, row=row, column=column):
            return (named, row, column)
    return ()


@functools.cache
def free(node: Expr) -> frozenset[str]:
    """The names of all symbols in ``node`` that need a value."""
    own = {node.name} - {"PI"} if isinstance(node, Sym) else ()
    return frozenset(own).union(*map(free, children(node)))


def walk(*roots: Expr) -> Iterator[Expr]:
    """Every node below and including ``roots`` once, children before parents."""
    seen: set[int] = set()
    waiting = [(root, False) for root in reversed(roots)]
    while waiting:
        node, children_done = waiting.pop()
        if children_done:
            yield node
        elif id(node) not in seen:
            seen.add(id(node))
            waiting.append((node, True))
            waiting.extend((child, False) for child in reversed(children(node)))
