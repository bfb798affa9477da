"""Functions that a formula can use on symbols, on floats and on arrays alike.

A formula of plain arithmetic and of these is written once: a family's rule runs it on its fields
and gets a tree, a check runs it on numbers. Angles are in degrees, as in :mod:`scadgen.trees.expr`.

Source: elementary functions, by their definitions.
"""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import Any

import scadgen.trees.expr as expr
from scadgen.trees.expr import PI, Call, Expr, Sym, Where

Value = Any  # a symbol, a float, or an array that broadcasts with the other values


def _read(tree: Callable[..., Any], *values: Value) -> Value:
    """``tree`` of the values: as it is if one is a symbol, else its number or array."""
    for value in values:
        if isinstance(value, Expr):
            return tree(*values)
    if tree in _CALM:
        return _reader(tree, len(values))(*values)[()]
    import numpy as np

    with np.errstate(all="ignore"):
        return _reader(tree, len(values))(*values)[()]


#: What numpy never warns of, so that it need not be told to be silent: that takes as long as these.
_CALM = frozenset((expr.minimum, expr.maximum, expr.where))


@functools.cache
def _reader(tree: Callable[..., Any], count: int) -> Callable[..., Any]:
    """What reads ``tree`` of so many numbers: a function of them alone is called as it is."""
    from scadgen.trees.to_numpy import VALUES, Numbers, chosen

    names = tuple(f"value{k}" for k in range(count))
    symbols = tuple(map(Sym, names))
    formula = tree(*symbols)
    if isinstance(formula, Call) and formula.args == symbols:
        return VALUES[formula.name]
    if isinstance(formula, Where) and (formula.cond, formula.yes, formula.no) == symbols:
        return chosen
    return lambda *values: Numbers(dict(zip(names, values, strict=True))).value(formula)


def sin(degrees: Value) -> Value:
    """Sine of an angle in degrees."""
    return _read(expr.sin, degrees)


def cos(degrees: Value) -> Value:
    """Cosine of an angle in degrees."""
    return _read(expr.cos, degrees)


def tan(degrees: Value) -> Value:
    """Tangent of an angle in degrees."""
    return _read(expr.tan, degrees)


def atan(ratio: Value) -> Value:
    """Angle in degrees, -90 to 90, whose tangent is ``ratio``."""
    return _read(expr.atan, ratio)


def sqrt(value: Value) -> Value:
    """Square root; nan below 0."""
    return _read(expr.sqrt, value)


def minimum(*values: Value) -> Value:
    """The least of the values."""
    return _read(expr.minimum, *values)


def maximum(*values: Value) -> Value:
    """The greatest of the values."""
    return _read(expr.maximum, *values)


def where(cond: Value, yes: Value, no: Value) -> Value:
    """``yes`` where ``cond`` holds, else ``no``."""
    return _read(expr.where, cond, yes, no)


def radians(degrees: Value) -> Value:
    """An angle in radians, from one in degrees."""
    if isinstance(degrees, Expr):
        return _in_radians(degrees)
    return _read(_in_radians, degrees)


def _in_radians(degrees: Value) -> Value:
    return degrees * PI / 180
