"""The mesh reading of loops, all of whose turns are read at once, against closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest

from scadgen.trees.expr import Let, as_expr, cos, let, sin
from scadgen.trees.solid import Shape, choose, each, extrude, part, polygon, rectangle
from scadgen.trees.to_mesh import to_mesh
from scadgen.trees.to_numpy import Numbers
from tests.samples import box, symbol

NUMBERS = Numbers({"facets": 16, "n": 4.0})


def volume(shape: Shape) -> float:
    return float(to_mesh(shape, NUMBERS).volume())


def test_each_turn_has_measures_of_its_own() -> None:
    row = each("i", symbol("n"), lambda i: box(1, 1, i + 1).at(x=2 * i))
    assert volume(row) == pytest.approx(1 + 2 + 3 + 4)


def test_a_body_without_the_index_is_the_same_in_all_turns() -> None:
    assert volume(each("i", symbol("n"), lambda i: box(2, 3, 4))) == pytest.approx(24)


def test_an_inner_loop_may_turn_as_often_as_the_outer_one_says() -> None:
    def column(i: float) -> Shape:
        return each("j", i + 1, lambda j: box(1, 1, 1 + i + j).at(2 * i, 2 * j))

    wanted = sum(1 + i + j for i in range(4) for j in range(i + 1))
    assert volume(each("i", symbol("n"), column)) == pytest.approx(wanted)


def test_a_choice_is_made_in_each_turn() -> None:
    def chosen(i: float) -> Shape:
        return choose(i < 2, box(1, 1, i + 1), box(1, 1, 10 * i)).at(x=2 * i)

    def here_or_not(i: float) -> Shape:
        return choose(i % 2 > 0, box(1, 1, i)).at(x=2 * i) + box(1, 1, 1).at(2 * i, 5)

    assert volume(each("i", symbol("n"), chosen)) == pytest.approx(1 + 2 + 20 + 30)
    assert volume(each("i", symbol("n"), here_or_not)) == pytest.approx(1 + 3 + 4)


def test_measures_of_the_branch_not_taken_need_no_value() -> None:
    safe = each(
        "i", symbol("n"), lambda i: choose(i > 0, box(1, 1, 1 / i).at(x=2 * i), box(1, 1, 1))
    )
    assert volume(safe) == pytest.approx(1 + 1 + 1 / 2 + 1 / 3)
    with pytest.raises(ValueError, match="not a finite number"):
        volume(each("i", symbol("n"), lambda i: box(1, 1, 1 / i)))


def test_an_outline_may_have_other_corners_in_each_turn() -> None:
    """Regular polygons of 3 to 6 corners: n / 2 sin(360 / n) is the area."""

    def prism(i: float) -> Shape:
        step = 360 / (i + 3)
        ring = each("k", i + 3, lambda k: (cos(k * step), sin(k * step)))
        return extrude(polygon(ring), 1).at(x=3 * i)

    wanted = sum(n / 2 * math.sin(2 * math.pi / n) for n in range(3, 7))
    assert volume(each("i", symbol("n"), prism)) == pytest.approx(wanted, rel=1e-6)


@part
def doubled(outline: Shape, height: float) -> Shape:
    """Outline, twice as high as said."""
    return extrude(outline, let("twice", 2 * height))


def test_a_part_is_applied_to_the_child_of_its_turn() -> None:
    row = each("i", symbol("n"), lambda i: doubled(rectangle(1, i + 1), i + 1).at(x=2 * i))
    assert volume(row) == pytest.approx(sum(2 * h * h for h in (1, 2, 3, 4)))
    assert volume(doubled(rectangle(1, 1), 1) + doubled(rectangle(1, 1), 5)) == pytest.approx(10)


def test_named_values_hold_where_their_symbols_do() -> None:
    outside = Let("outside", as_expr(symbol("a")) * 2, "")
    inside = Let("inside", as_expr(outside) + symbol("b"), "")
    numbers = Numbers({"a": 3.0})
    assert [float(numbers.within(b=b)(inside)) for b in (1.0, 2.0)] == [7, 8]
    assert float(numbers.within(a=5.0)(outside)) == 10
    assert float(numbers(outside)) == 6


def test_numbers_are_picked_by_turn() -> None:
    double = Let("double", as_expr(symbol("a")) * 2, "")
    numbers = Numbers({"a": np.arange(4.0), "b": 7.0})
    assert numbers(double).tolist() == [0, 2, 4, 6]
    picked = numbers.picked(np.array([3, 3, 1]))
    assert picked(double).tolist() == [6, 6, 2]
    assert picked(as_expr(symbol("b"))) == 7
