"""The interval reading: no value of an expression lies outside its bounds."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scadgen.trees import expr
from scadgen.trees.expr import Call, Expr, Num, Sym, where
from scadgen.trees.intervals import Interval
from scadgen.trees.to_intervals import FUNCTIONS, Intervals
from scadgen.trees.to_linear import Linear
from scadgen.trees.to_numpy import VALUES, Numbers
from tests import drawn_expr
from tests.samples import symbol

SYMBOLS = ("a", "b", "q")
SHARES = np.array([0, 1, 0.5, 1e-9, 1 - 1e-9, 0.3, 0.71])
smooth = st.sampled_from(["sin", "cos", "tan", "asin", "acos", "atan", "sqrt"])


@st.composite
def any_trees(draw: st.DrawFn) -> Any:
    """A tree with functions in it that are not exact in floating point."""
    left, right = draw(drawn_expr.trees(depth=3)), draw(drawn_expr.trees(depth=2))
    inner = Call(draw(smooth), (left * 0.37,))
    joined = draw(st.sampled_from([inner + right, inner * right, right / inner, right % inner]))
    return draw(
        st.sampled_from([joined, Call(draw(smooth), (joined,)), where(inner < right, 1, joined)])
    )


@st.composite
def boxes(draw: st.DrawFn) -> dict[str, Interval]:
    """Ranges of the symbols, two boxes at once; some are single values."""
    found = {}
    for name in SYMBOLS:
        ends = draw(
            st.lists(st.floats(-9, 9) | st.integers(-8, 8).map(float), min_size=4, max_size=4)
        )
        one, other = sorted(ends[:2]), sorted(ends[2:])
        found[name] = Interval(np.array([one[0], other[0]]), np.array([one[1], other[1]]))
    return found


def points(box: dict[str, Interval], data: st.DataObject) -> dict[str, Any]:
    """Values in both boxes: corners, middles and places between, a row for each draw."""
    picked = {}
    for name, each in box.items():
        shares = np.array(data.draw(st.permutations(list(SHARES))))[:, None]
        inside = each.low + shares * (each.high - each.low)
        picked[name] = np.clip(inside, each.low, each.high)
    return picked


def assert_inside(values: Any, bounds: Interval) -> None:
    values = np.broadcast_to(values, (len(SHARES), 2))
    defined = np.isfinite(values)
    inside = (bounds.low <= values) & (values <= bounds.high)
    assert np.all(inside | ~defined), (values, bounds)


@given(tree=drawn_expr.trees() | any_trees(), box=boxes(), data=st.data())
def test_a_value_anywhere_in_a_box_lies_within_its_bounds(
    tree: Expr, box: dict[str, Interval], data: st.DataObject
) -> None:
    assert_inside(Numbers(points(box, data))(tree), Intervals(box)(tree))


@given(tree=drawn_expr.trees() | any_trees(), box=boxes(), data=st.data())
def test_what_is_total_has_a_value_everywhere(
    tree: Expr, box: dict[str, Interval], data: st.DataObject
) -> None:
    defined = np.isfinite(np.broadcast_to(Numbers(points(box, data))(tree), (len(SHARES), 2)))
    assert np.all(defined | ~Intervals(box).total(tree))


@given(left=any_trees(), right=drawn_expr.trees(), box=boxes(), data=st.data())
def test_what_is_sure_holds_everywhere_and_what_is_not_possible_nowhere(
    left: Any, right: Any, box: dict[str, Interval], data: st.DataObject
) -> None:
    numbers, intervals = Numbers(points(box, data)), Intervals(box)
    for comparison in (left < right, left <= right, left > right, left >= right):
        truth, holds = intervals.truth(comparison), numbers(comparison)
        assert np.all(holds | ~truth.sure)
        assert not np.any(holds & ~truth.possible)


@given(drawn_expr.trees(), drawn_expr.names)
def test_at_a_point_an_exact_value_is_its_own_bounds(tree: Expr, values: dict[str, float]) -> None:
    point = {name: Interval(np.array([v]), np.array([v])) for name, v in values.items()}
    found, value = Intervals(point)(tree), Numbers(values)(tree)
    assert (found.low, found.high) == (value, value)


# Values in closed form: Abramowitz and Stegun, Handbook of Mathematical Functions, 4.3.46 and
# 4.4.1 to 4.4.3 (from memory), and by hand.
KNOWN = [
    ("sin", 18, (math.sqrt(5) - 1) / 4),
    ("cos", 36, (math.sqrt(5) + 1) / 4),
    ("tan", 15, 2 - math.sqrt(3)),
    ("asin", 0.5, 30),
    ("acos", -0.5, 120),
    ("atan", 1, 45),
    ("sqrt", 2, math.sqrt(2)),
    ("abs", -3, 3),
    ("floor", -2.5, -3),
    ("ceil", -2.5, -2),
]


@pytest.mark.parametrize(("name", "argument", "value"), KNOWN)
def test_bounds_at_a_point_are_as_close_as_floats_around_the_closed_form(
    name: str, argument: float, value: float
) -> None:
    found = Intervals({})(Call(name, (Num(argument),)))
    assert found.low - 1e-13 <= value <= found.high + 1e-13
    assert found.high - found.low <= 1e-12


@pytest.mark.parametrize(
    ("name", "low", "high", "bounds"),
    [
        ("sin", 30, 150, (0.5, 1)),
        ("sin", 200, 340, (-1, -0.34202014332566)),
        ("cos", -60, 60, (0.5, 1)),
        ("cos", 90, 270, (-1, 0)),
        ("tan", -45, 45, (-1, 1)),
        ("tan", 45, 135, (-math.inf, math.inf)),
        ("asin", -2, 0.5, (-90, 30)),
        ("acos", 0, 7, (0, 90)),
        ("atan", -1, 1, (-45, 45)),
        ("sqrt", -4, 9, (0, 3)),
        ("abs", -2, 1, (0, 2)),
        ("floor", 0.5, 2.5, (0, 2)),
        ("ceil", 0.5, 2.5, (1, 3)),
    ],
)
def test_bounds_over_a_box_are_those_of_the_function(
    name: str, low: float, high: float, bounds: tuple[float, float]
) -> None:
    box = {"x": Interval(np.array(low, float), np.array(high, float))}
    found = Intervals(box)(Call(name, (Sym("x"),)))
    assert (found.low, found.high) == pytest.approx(bounds, abs=1e-12)


def test_every_function_of_a_tree_has_bounds() -> None:
    assert set(FUNCTIONS) == set(VALUES)
    assert {name for name, *_ in KNOWN} | {"min", "max"} == set(FUNCTIONS)


numbers = st.floats(-1e6, 1e6).filter(lambda x: x == 0 or abs(x) > 1e-6)


@given(numbers, numbers)
def test_a_sum_a_product_and_a_quotient_lie_between_floats_next_to_them(x: float, y: float) -> None:
    a, b = Fraction(x), Fraction(y)
    exact = {"+": a + b, "-": a - b, "*": a * b} | ({"/": a / b} if b else {})
    for op, value in exact.items():
        found = Intervals({})(expr.Op(op, Num(x), Num(y)))
        assert Fraction(float(found.low)) <= value <= Fraction(float(found.high))
        assert found.high - found.low <= 2 * np.spacing(abs(float(value)))


def test_a_root_of_a_negative_number_holds_no_comparison() -> None:
    x: Any = Sym("x")
    read = Intervals({"x": Interval(np.array([-2.0, -1.0]), np.array([-1.0, 4.0]))})
    truth = read.truth(expr.sqrt(x) >= 0)
    assert truth.possible.tolist() == [False, True]
    assert truth.sure.tolist() == [False, False]


def form_at(found: Any, box: dict[str, Interval], values: dict[str, Any]) -> tuple[Any, Any]:
    """The straight part of a form in the symbols at some values, and how far it may be off."""
    straight, off = found.centre, found.rest
    for key, share in found.shares.items():
        if key in box:
            each = box[str(key)]
            radius = np.where(each.radius > 0, each.radius, 1)
            straight = straight + share * (values[str(key)] - each.middle) / radius
        else:
            off = off + abs(share)
    return straight, off


@given(tree=drawn_expr.trees() | any_trees(), box=boxes(), data=st.data())
def test_a_value_anywhere_in_a_box_lies_within_its_linear_form(
    tree: Expr, box: dict[str, Interval], data: st.DataObject
) -> None:
    values, read = points(box, data), Linear(box)
    found, value = read.form(tree), Numbers(values)(tree)
    assert_inside(value, read(tree))
    straight, off = form_at(found, box, values)
    finite = np.isfinite(value) & np.isfinite(straight) & np.isfinite(off)
    with np.errstate(invalid="ignore"):
        outside = abs(value - straight) > off + 1e-9 * (1 + abs(value))
    assert not np.any(finite & outside)


def test_a_form_is_the_same_function_whichever_way_its_tree_is_written() -> None:
    x, y, box = symbol("x"), symbol("y"), {n: Interval(np.zeros(1), np.full(1, 4.0)) for n in "xy"}
    curved = [expr.sqrt(x) * y, expr.sqrt(x) * y]
    difference = Linear(box)(3 * curved[0] + x - (curved[1] + x + 2 * curved[0]))
    assert max(abs(difference.low), abs(difference.high)) < 1e-12
    assert Intervals(box)(curved[0] - curved[1]).high >= 8


def test_products_of_the_same_factors_are_one_form() -> None:
    x, y, z = map(symbol, "xyz")
    box = {n: Interval(np.ones(1), np.full(1, 4.0)) for n in "xyz"}
    difference = Linear(box)(x * (y / z) - y * x / z)
    assert max(abs(difference.low), abs(difference.high)) < 1e-12
    assert Linear(box)(x * (y / z) - y / (x * z)).high > 1
