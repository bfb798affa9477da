"""Expression trees: what they refuse, how they print and what they are worth."""

from __future__ import annotations

import math
import re
from typing import Any

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from scadgen.text.quoting import scad_string
from scadgen.trees import expr, to_scad
from scadgen.trees.expr import Let, Num, Sym, as_expr, equal, where
from scadgen.trees.to_numpy import Numbers
from scadgen.trees.to_scad import text
from tests.drawn_expr import names, trees
from tests.scad_expr import evaluate, parse

names_of_symbols: Any = map(Sym, "abc")
a, b, c = names_of_symbols
VALUES = {"a": 7.0, "b": -2.0, "c": 4.0}


@pytest.mark.parametrize(
    ("tree", "printed", "value"),
    [
        (a + b, "a + b", 5),
        (1 + a, "1 + a", 8),
        (a - b, "a - b", 9),
        (1 - a, "1 - a", -6),
        (a * b, "a * b", -14),
        (2 * a, "2 * a", 14),
        (a / c, "a / c", 1.75),
        (1 / c, "1 / c", 0.25),
        (a % c, "a % c", 3),
        (-a % c, "-a % c", -3),
        (-a, "-a", -7),
        (abs(b), "abs(b)", 2),
        (a < b, "a < b", False),
        (a <= 7, "a <= 7", True),
        (a > b, "a > b", True),
        (equal(a, 7), "a == 7", True),
        ((a > 0) & (b > 0), "a > 0 && b > 0", False),
        ((a > 0) | (b > 0), "a > 0 || b > 0", True),
        (where(a > b, a, b), "a > b ? a : b", 7),
        (expr.minimum(a, b, c), "min(a, b, c)", -2),
        (expr.maximum(a, b, c), "max(a, b, c)", 7),
        (expr.floor(a / 2), "floor(a / 2)", 3),
        (expr.ceil(a / 2), "ceil(a / 2)", 4),
        (expr.sqrt(c), "sqrt(c)", 2),
    ],
)
def test_each_operation_prints_and_evaluates(tree: Any, printed: str, value: float) -> None:
    assert text(tree) == printed
    assert Numbers(VALUES)(tree) == value


@pytest.mark.parametrize(
    ("tree", "printed"),
    [
        ((a + b) * c, "(a + b) * c"),
        (a + b * c, "a + b * c"),
        (a - (b - c), "a - (b - c)"),
        (a - (b + c), "a - (b + c)"),
        (a - b - c, "a - b - c"),
        (a + (b - c), "a + b - c"),
        (a * (b / c), "a * b / c"),
        (a / (b * c), "a / (b * c)"),
        (a / b / c, "a / b / c"),
        (a * (b % c), "a * (b % c)"),
        (a * (b % c / 2), "a * (b % c / 2)"),
        (-(a + b), "-(a + b)"),
        (-(0 - a), "a"),
        (a - -b, "a + b"),
        (where(a > 0, 1, 2) + c, "(a > 0 ? 1 : 2) + c"),
        (where(a > 0, 1, where(b > 0, 2, 3)), "a > 0 ? 1 : b > 0 ? 2 : 3"),
        (((a > 0) | (b > 0)) & (c > 0), "(a > 0 || b > 0) && c > 0"),
        ((a > 0) | (b > 0) & (c > 0), "a > 0 || b > 0 && c > 0"),
        (equal(a < b, b < c), "a < b == b < c"),
        (expr.sqrt(a + b) * 2, "sqrt(a + b) * 2"),
    ],
)
def test_brackets_stand_only_where_they_matter(tree: Any, printed: str) -> None:
    assert text(tree) == printed


@given(trees(), names)
@example(-(a * b) % c, VALUES)
def test_printed_text_is_worth_what_the_tree_is(tree: Any, symbols: dict[str, float]) -> None:
    assert evaluate(parse(text(tree)), symbols) == Numbers(symbols)(tree)


@given(trees())
def test_no_pair_of_brackets_could_be_left_out(tree: Any) -> None:
    printed = text(tree)
    for opening, closing in grouping_brackets(printed):
        inner = printed[opening + 1 : closing]
        without = f"{printed[:opening]}{inner}{printed[closing + 1 :]}"
        assert parse(without) != parse(printed)


def grouping_brackets(source: str) -> list[tuple[int, int]]:
    """Positions of the pairs that group, not of those that hold arguments."""
    waiting, found = [], []
    for position, character in enumerate(source):
        if character == "(":
            waiting.append(position)
        elif character == ")":
            opening = waiting.pop()
            if not re.search(r"\w\Z", source[:opening]):
                found.append((opening, position))
    return found


@pytest.mark.parametrize("tree", [a + 0, 0 + a, a - 0, a * 1, 1 * a, a / 1])
def test_neutral_numbers_leave_no_trace(tree: Any) -> None:
    assert tree is a


def test_a_symbol_has_no_truth_value_and_says_what_to_write_instead() -> None:
    for ask in (lambda: bool(a), lambda: 0 < a < 1, lambda: a > 0 and b > 0, lambda: not a):
        with pytest.raises(TypeError, match=r"where\(condition, a, b\)"):
            ask()


@pytest.mark.parametrize("wrong", [math.nan, math.inf, -math.inf])
def test_numbers_that_are_not_finite_are_refused(wrong: float) -> None:
    for use in (as_expr, Num, lambda x: a + x, lambda x: x * a, lambda x: where(a > 0, x, 1)):
        with pytest.raises(ValueError, match="no number that OpenSCAD source can hold"):
            use(wrong)


@pytest.mark.parametrize("wrong", ["3", None, True, 1j, [1]])
def test_what_is_neither_number_nor_expression_is_refused(wrong: Any) -> None:
    with pytest.raises(TypeError, match="neither a number nor an expression"):
        as_expr(wrong)


@pytest.mark.parametrize(
    "name", ["", "_a", "2a", "a-b", "a b", "ä", "a\n", "$fn", "module", "undef", "use", "lambda"]
)
def test_names_that_openscad_or_python_would_not_take_are_refused(name: str) -> None:
    with pytest.raises(ValueError, match="cannot name anything in OpenSCAD"):
        Sym(name)
    with pytest.raises(ValueError, match="cannot name anything in OpenSCAD"):
        Let(name, a, "")


def test_every_reserved_word_is_refused() -> None:
    for word in expr.RESERVED:
        with pytest.raises(ValueError, match=word):
            Sym(word)


def test_a_named_value_prints_as_its_name_and_is_worked_out_once() -> None:
    named = Let("area", a * a, "")
    numbers = Numbers({"a": 3.0})
    assert (text(named + named), numbers(named + named)) == ("area + area", 18)
    numbers.symbols["a"] = 5.0
    assert numbers(named) == 9
    assert numbers.replaced(a=5.0)(named) == 25


def test_a_table_is_printed_once_and_looked_up_by_row_and_column() -> None:
    sizes = expr.table("sizes", "what fits", (1, 2.5), (3, 4), (5, 6))
    tree: Any = sizes(a, b + 1)
    assert text(tree) == "sizes[a][b + 1]"
    named = [node for node in expr.walk(tree) if isinstance(node, Let)]
    assert [text(let.value) for let in named] == ["[[1, 2.5], [3, 4], [5, 6]]"]
    assert Numbers({"a": 2, "b": 0})(tree) == 6
    rows = Numbers({"a": np.array([0.0, 1.0, 2.0]), "b": -1.0})(tree)
    assert rows.tolist() == [1, 3, 5]


def test_walk_gives_each_node_once_and_children_first() -> None:
    shared = a * b
    root = as_expr(where(shared > c, shared, c))
    order = list(expr.walk(root, root))
    assert len({id(node) for node in order}) == len(order) == 6
    seen: set[int] = set()
    for node in order:
        assert all(id(child) in seen for child in expr.children(node))
        seen.add(id(node))


def test_a_symbol_without_a_value_is_an_error() -> None:
    with pytest.raises(KeyError, match="nowhere"):
        Numbers({})(Sym("nowhere"))


@pytest.mark.parametrize(
    ("call", "degrees", "exact"),
    [
        (expr.sin, 30, 0.5),
        (expr.sin, 45, math.sqrt(0.5)),
        (expr.sin, 60, math.sqrt(0.75)),
        (expr.sin, 180, 0),
        (expr.sin, 210, -0.5),
        (expr.sin, -90, -1),
        (expr.cos, 60, 0.5),
        (expr.cos, 90, 0),
        (expr.cos, 120, -0.5),
        (expr.cos, 135, -math.sqrt(0.5)),
        (expr.cos, 360, 1),
        (expr.cos, -60, 0.5),
        (expr.tan, 45, 1),
        (expr.tan, 135, -1),
        (expr.tan, 180, 0),
    ],
)
def test_trigonometry_is_exact_where_openscad_is(call: Any, degrees: float, exact: float) -> None:
    assert Numbers({})(call(degrees)) == exact


@given(st.floats(-3600, 3600))
def test_trigonometry_is_that_of_radians(degrees: float) -> None:
    numbers = Numbers({})
    assert numbers(expr.sin(degrees)) == pytest.approx(math.sin(math.radians(degrees)), abs=1e-12)
    assert numbers(expr.cos(degrees)) == pytest.approx(math.cos(math.radians(degrees)), abs=1e-12)


@given(st.floats(-1, 1))
def test_inverse_functions_give_the_angle_back(ratio: float) -> None:
    numbers = Numbers({})
    assert numbers(expr.sin(expr.asin(ratio))) == pytest.approx(ratio, abs=1e-12)
    assert numbers(expr.cos(expr.acos(ratio))) == pytest.approx(ratio, abs=1e-12)
    assert numbers(expr.tan(expr.atan(ratio))) == pytest.approx(ratio, abs=1e-12)


def test_arrays_give_what_each_of_their_numbers_gives() -> None:
    tree = where(a > b, expr.sin(a * 10), expr.minimum(a, b, 3) % 2) / c
    columns = {"a": np.arange(-20.0, 20), "b": np.linspace(9, -9, 40), "c": np.full(40, 4.0)}
    together = Numbers(columns)(tree)
    for index in range(40):
        alone = Numbers({n: float(column[index]) for n, column in columns.items()})(tree)
        assert together[index] == alone


@given(st.floats(allow_nan=False, allow_infinity=False) | st.integers(-(10**18), 10**18))
def test_a_literal_reads_back_as_the_same_number(value: float) -> None:
    literal = to_scad.number(value)
    assert float(literal) == float(value)
    assert re.fullmatch(r"-?\d+(\.\d+)?(e[+-]\d+)?", literal)


@given(st.text())
def test_a_string_literal_stays_on_its_line_and_ends_where_it_should(words: str) -> None:
    literal = scad_string(words)
    assert literal.isprintable()
    assert re.fullmatch(r'"(?:[^"\\]|\\["\\ntr])*"', literal)
    printable = "".join(ch if ch.isprintable() or ch in "\n\t\r" else " " for ch in words)
    escapes = {"\\n": "\n", "\\t": "\t", "\\r": "\r", '\\"': '"', "\\\\": "\\"}
    assert re.sub(r"\\.", lambda found: escapes[found[0]], literal[1:-1]) == printable


def test_what_takes_itself_off_again_is_not_written() -> None:
    a, b, play = Sym("a"), Sym("b"), Let("play", Sym("p") * 2, "")
    gap = Let("gap", play, "")
    assert text(a + gap - play - b) == "a - b"
    assert text(gap + a - play) == "a"
    assert text(a - gap + play) == "a"
    assert text(gap - play) == "0"
    assert text(a - (b - a)) == "a - (b - a)"
    assert text(Let("other", Sym("p") * 2, "") - play) == "other - play"
