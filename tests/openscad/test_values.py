"""OpenSCAD reckons from the text what numpy reckons from the trees: compared inside OpenSCAD."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scadgen.hinge.family import Hinge, definition
from scadgen.text.quoting import scad_string
from scadgen.trees import expr
from scadgen.trees.expr import Expr, Let, Rows
from scadgen.trees.to_numpy import Numbers
from scadgen.trees.to_scad import number, text
from tests.drawn_expr import names, trees
from tests.engine import run
from tests.support import each_family, many, row

pytestmark = pytest.mark.openscad

SETS = 60

# Within 1e-9: relative to values above 1, absolute below. Nothing else equals nan or infinity.
SAME = """
function same(a, b) = a == b || (a != a && b != b) || abs(a - b) <= 1e-9 * max(1, abs(b));
cube(1);
"""


def full(value: float) -> str:
    """A value as a literal of full precision; nan and infinity as what gives them."""
    if math.isfinite(value):
        return number(value)
    return "0 / 0" if math.isnan(value) else f"{'-' if value < 0 else ''}1 / 0"


def named_values(cls: type[Hinge]) -> list[Let]:
    """All derived values and limits of a family, in an order in which each can be reckoned."""
    family = definition(cls)
    limits = (rule.limit for rule in family.rules)
    return [node for node in expr.walk(*family.derived.values(), *limits) if isinstance(node, Let)]


@each_family
def test_named_values_and_limits_are_the_same(cls: type[Hinge], tmp_path: Path) -> None:
    """At values drawn over the whole declared ranges, sound or not, in one run."""
    named = named_values(cls)
    lets = [let for let in named if not isinstance(let.value, Rows)]
    fields = list(definition(cls).bounds)
    source = [
        SAME,
        f"module check(drawn, wanted, {', '.join(fields)}) {{",
        *(f"{let.name} = {text(let.value)};" for let in named),
        f"found = [{', '.join(let.name for let in lets)}];",
        f"names = [{', '.join(scad_string(let.name) for let in lets)}];",
        "for (k = [0 : len(names) - 1]) assert(same(found[k], wanted[k]),",
        '  str("set ", drawn, ": ", names[k], " = ", found[k], ", not ", wanted[k]));',
        "}",
    ]
    sets = many(cls, SETS)
    for index in range(SETS):
        drawn = row(sets, index)
        numbers = Numbers(drawn)
        wanted = ", ".join(full(float(numbers(let))) for let in lets)
        given_values = ", ".join(f"{n} = {full(v)}" for n, v in drawn.items())
        source.append(f"check(drawn = {index}, wanted = [{wanted}], {given_values});")
    assert len(lets) >= len(definition(cls).derived)
    assert run("\n".join(source), tmp_path).mesh.volume == pytest.approx(1)


def assert_equal_in_openscad(pairs: Sequence[tuple[str, str]], equal: str, folder: Path) -> None:
    """Each pair of sources has ``equal`` values."""
    checks = [f"assert({equal.format(a, b)}, {number(k)});" for k, (a, b) in enumerate(pairs)]
    assert run(SAME + "\n".join(checks), folder).mesh.volume == pytest.approx(1)


def turns(step: int) -> list[int]:
    return list(range(-720, 721, step))


def test_trigonometry_is_exact_at_the_same_angles(tmp_path: Path) -> None:
    trees = [call(x) for call in (expr.sin, expr.cos) for x in {*turns(30), *turns(45)}]
    trees += [expr.tan(x) for x in turns(45) if x % 180 != 90]
    pairs = [(text(tree), full(float(Numbers({})(tree)))) for tree in trees]
    assert_equal_in_openscad(pairs, "{} == {}", tmp_path)


def test_the_sine_of_an_angle_next_to_nothing_is_zero_in_both_or_in_none(tmp_path: Path) -> None:
    """A formula that divides by it gives nan in both: OpenSCAD loses tiny negative angles."""
    trees = [expr.sin(sign * 10.0**-power) for power in range(5, 30) for sign in (1, -1)]
    pairs = [(text(tree), full(float(Numbers({})(tree)))) for tree in trees]
    assert_equal_in_openscad(pairs, "({0} == 0) == ({1} == 0) && same({0}, {1})", tmp_path)


@settings(max_examples=5)
@given(st.lists(st.floats(-1000, 1000), min_size=40, max_size=40))
def test_trigonometry_is_the_same_at_any_angle(
    tmp_path_factory: pytest.TempPathFactory, drawn: list[float]
) -> None:
    trees = [call(x) for x in drawn for call in (expr.sin, expr.cos, expr.atan)]
    trees += [call(x / 1000) for x in drawn for call in (expr.asin, expr.acos)]
    trees += [expr.tan(x) for x in drawn if abs(math.cos(math.radians(x))) > 1e-3]
    pairs = [(text(tree), full(float(Numbers({})(tree)))) for tree in trees]
    assert_equal_in_openscad(pairs, "same({}, {})", tmp_path_factory.mktemp("angles"))


@settings(max_examples=5)
@given(st.lists(st.tuples(trees(), names), min_size=20))
def test_any_expression_is_worth_the_same(
    tmp_path_factory: pytest.TempPathFactory, drawn: list[tuple[Expr, dict[str, Any]]]
) -> None:
    pairs = []
    for tree, symbols in drawn:
        bound = ", ".join(f"{name} = {full(value)}" for name, value in symbols.items())
        pairs.append((f"(let({bound}) {text(tree)})", full(float(Numbers(symbols)(tree)))))
    assert_equal_in_openscad(pairs, "{} == {}", tmp_path_factory.mktemp("trees"))
