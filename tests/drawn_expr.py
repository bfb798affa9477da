"""Expression trees drawn at random whose values are exact in floating point.

All numbers are small whole ones and divisors are powers of two, so that a tree that is printed
in another order of the same value cannot hide behind rounding.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from scadgen.trees.expr import Sym, as_expr, ceil, equal, floor, maximum, minimum, where

_whole = st.integers(-8, 8)
_power_of_two = st.sampled_from([Sym("q"), 2, 4])
names = st.fixed_dictionaries(
    {"a": _whole.map(float), "b": _whole.map(float), "q": st.sampled_from([1.0, 2.0, 4.0])}
)

_UNARY = (lambda x: -x, abs, floor, ceil)
_BINARY = (
    lambda x, y: x + y,
    lambda x, y: x - y,
    lambda x, y: x * y,
    lambda x, y: x * (y / 2),
    minimum,
    maximum,
)
_BY_POWER_OF_TWO = (lambda x, y: x / y, lambda x, y: x % y)
_COMPARISONS = (
    lambda x, y: x < y,
    lambda x, y: x <= y,
    lambda x, y: x > y,
    lambda x, y: x >= y,
    equal,
)


@st.composite
def trees(draw: st.DrawFn, depth: int = 4) -> Any:
    """A tree over the symbols a, b and q."""
    form = draw(st.integers(0, 5)) if depth else 0
    if form == 0:
        leaf: Any = draw(st.sampled_from([Sym("a"), Sym("b"), Sym("q")]) | _whole)
        return as_expr(leaf)
    below = trees(depth=depth - 1)
    if form == 1:
        return draw(st.sampled_from(_UNARY))(draw(below))
    if form == 2:
        return draw(st.sampled_from(_BY_POWER_OF_TWO))(draw(below), draw(_power_of_two))
    if form == 3:
        return where(draw(_conditions(depth - 1)), draw(below), draw(below))
    return draw(st.sampled_from(_BINARY))(draw(below), draw(below))


@st.composite
def _conditions(draw: st.DrawFn, depth: int) -> Any:
    if depth and draw(st.booleans()):
        left, right = draw(_conditions(depth - 1)), draw(_conditions(depth - 1))
        return left & right if draw(st.booleans()) else left | right
    below = trees(depth=depth)
    return draw(st.sampled_from(_COMPARISONS))(draw(below), draw(below))
