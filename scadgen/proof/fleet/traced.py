"""What a printer leaves of a family, as expressions: the formulas of ``room_left`` on symbols.

They are run once on a hinge and a printer that are not known yet. What they do to numbers and
arrays they then do to trees, so that a program in another language reads the very same formulas.
"""

from __future__ import annotations

import dataclasses
import functools
import math
import operator
from collections.abc import Callable, Mapping
from typing import Any, cast

import numpy as np
from numpy.lib.mixins import NDArrayOperatorsMixin

from scadgen.hinge.definition import Definition
from scadgen.proof.fleet.printer import Printer
from scadgen.proof.fleet.room_left import Margin, margins
from scadgen.trees import expr
from scadgen.trees.expr import Call, Cell, Expr, Let, Op, Sym, Where, as_expr, free
from scadgen.trees.to_numpy import Numbers

#: The symbol of each of a printer's errors.
SYMBOLS = {field.name: f"printer_{field.name}" for field in dataclasses.fields(Printer)}
_DEGREES = 180 / math.pi


def traced(family: Definition) -> list[Margin]:
    """All that must work of the family, its values expressions of its fields and of ``SYMBOLS``.

    Layers are taken to be above 0. Raises KeyError where a formula asks for a function of numpy
    that no tree has.
    """
    printer = Printer(**{name: Traced(Sym(symbol)) for name, symbol in SYMBOLS.items()})
    numbers = cast(Numbers, _Symbols({}))
    told = margins(family, numbers, printer)
    return [dataclasses.replace(one, values=_plain(one.values)) for one in told]


class Traced(NDArrayOperatorsMixin):
    """An expression that numpy takes for a number."""

    def __init__(self, value: Expr) -> None:
        self.value = value

    def __array_ufunc__(self, ufunc: Any, method: str, *inputs: Any) -> Any:
        return (
            Traced(as_expr(_UFUNCS[ufunc](*map(_plain, inputs)))) if method == "__call__" else None
        )

    def __array_function__(self, function: Any, types: Any, args: Any, kwargs: Any) -> Any:
        return _FUNCTIONS[function](*args, **kwargs)


def _plain(value: Any) -> Any:
    return value.value if isinstance(value, Traced) else float(value)


class _Symbols:
    """Reads expressions as themselves, but for some symbols in them that stand for others."""

    def __init__(self, others: Mapping[str, Expr]) -> None:
        self.symbols = _Named(others)
        self._others = others

    def __call__(self, node: Any) -> Any:
        found = _exchanged(as_expr(node), self._others)
        return Traced(found) if free(found) else Numbers({})(found)

    def replaced(self, **symbols: Traced) -> _Symbols:
        return _Symbols({name: _plain(value) for name, value in symbols.items()})


class _Named(dict[str, Traced]):
    """By its name each symbol, or what stands for it."""

    def __init__(self, others: Mapping[str, Expr]) -> None:
        super().__init__({name: Traced(value) for name, value in others.items()})

    def __missing__(self, name: str) -> Traced:
        return Traced(Sym(name))


def _exchanged(root: Expr, others: Mapping[str, Expr]) -> Expr:
    """The tree with symbols exchanged for what stands for them; what has none stays as it is."""

    @functools.cache
    def read(node: Expr) -> Expr:
        if free(node).isdisjoint(others):
            return node
        match node:
            case Sym(name=name):
                return others[name]
            case Let(name=name, value=value, note=note):
                return Let(name, read(value), note)
            case Op(op=op, args=args):
                return Op(op, *map(read, args))
            case Call(name=name, args=args):
                return Call(name, tuple(map(read, args)))
            case Where(cond=cond, yes=yes, no=no):
                return Where(read(cond), read(yes), read(no))
            case Cell(table=table, row=row, column=column):
                return Cell(read(table), read(row), read(column))
        raise TypeError(f"nothing in {node!r} can be exchanged")

    return read(root)


def _arctan2(up: Any, along: Any) -> Any:
    """Radians; ``up`` is above 0."""
    return (90 - expr.atan(along / up)) / _DEGREES


#: What numpy's functions are on trees, whose angles are in degrees.
_UFUNCS: dict[Any, Callable[..., Any]] = {
    np.add: operator.add,
    np.subtract: operator.sub,
    np.multiply: operator.mul,
    np.true_divide: operator.truediv,
    np.negative: operator.neg,
    np.less: operator.lt,
    np.less_equal: operator.le,
    np.greater: operator.gt,
    np.greater_equal: operator.ge,
    np.logical_and: operator.and_,
    np.logical_or: operator.or_,
    np.minimum: expr.minimum,
    np.maximum: expr.maximum,
    np.floor: expr.floor,
    np.ceil: expr.ceil,
    np.abs: abs,
    np.sqrt: expr.sqrt,
    np.radians: lambda degrees: degrees / _DEGREES,
    np.cos: lambda radians: expr.cos(radians * _DEGREES),
    np.sin: lambda radians: expr.sin(radians * _DEGREES),
    np.arctan2: _arctan2,
}
_FUNCTIONS: dict[Any, Callable[..., Any]] = {
    np.any: lambda _: True,  # whether any printer is such: the formulas are for all
    np.where: lambda cond, yes, no: Traced(
        as_expr(expr.where(*(cast(Any, _plain(one)) for one in (cond, yes, no))))
    ),
    np.clip: lambda value, low, high: np.minimum(np.maximum(value, low), high),
}
