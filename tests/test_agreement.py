"""Trees drawn at random mean the same to every reader: Python, both OpenSCADs, the page's scripts.

A batch of trees goes through each program at once. Bounds and forms of the same trees are in
``test_intervals.py``, the text read by a reader of its own in ``test_expr.py``.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, cast

import numpy as np
import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from scadgen.hinge.automatic import resolved
from scadgen.hinge.family import Hinge, definition
from scadgen.trees.expr import Expr, Let, Num, Op, Sym, table, where
from scadgen.trees.solid import Drawn, Shape, choose, inside
from scadgen.trees.to_arrays import all_hold
from scadgen.trees.to_data import Tables
from scadgen.trees.to_mesh import to_mesh
from scadgen.trees.to_numpy import Numbers
from scadgen.trees.to_python import value
from scadgen.trees.to_scad import lines, module, number
from tests import drawn_expr
from tests.drawn_solid import REACH, names, solids
from tests.engine import run
from tests.openscad.newer import run as run_newer
from tests.samples import post
from tests.support import each_family, many, row, thorough
from tests.test_intervals import any_trees
from tests.workshop.answers import answers

#: Trees in a batch, batches, and how often programs are run to find a smaller one that fails.
MANY, SOLIDS, TIMES = 60, 10, 20 if thorough() else 2
#: How far volumes may differ: files round corners to six digits.
SHARE, LEAST = 2e-3, 0.05

batches = settings(
    max_examples=TIMES,
    suppress_health_check=[HealthCheck.too_slow],
    phases=[Phase.explicit, Phase.generate, *([Phase.shrink] if thorough() else [])],
)
Tree = tuple[Expr, dict[str, Any]]
Solid = tuple[Shape, dict[str, Any]]


@st.composite
def looked_up(draw: st.DrawFn) -> Any:
    """A tree that names a value and looks another up in a table."""
    rows = draw(st.lists(st.tuples(*[st.integers(-9, 9).map(float)] * 2), min_size=2, max_size=4))
    of = table("known", "some numbers", *rows)
    inner: Any = Let("inner", draw(drawn_expr.trees(depth=2)), "a part of it")
    return inner + where(inner > 0, of(draw(st.integers(0, len(rows) - 1)), 1), inner * 2)


@batches
@given(
    st.lists(
        st.tuples(drawn_expr.trees() | any_trees() | looked_up(), drawn_expr.names), min_size=MANY
    )
)
@pytest.mark.node
def test_the_page_reckons_as_python_does(trees: list[Tree]) -> None:
    questions = []
    for tree, symbols in trees:
        tables = Tables()
        row = tables.expr(tree)
        questions.append(("value", "", tables.data(), symbols, row))
    for (tree, symbols), (found,) in zip(trees, answers(*questions), strict=True):
        assert float(found) == pytest.approx(
            reckoned(tree, symbols), rel=1e-9, abs=1e-9, nan_ok=True
        )


@given(drawn_expr.trees() | any_trees() | looked_up(), drawn_expr.names)
def test_what_is_compiled_reckons_bit_for_bit_as_arrays_do(
    tree: Expr, symbols: dict[str, Any]
) -> None:
    with np.errstate(all="ignore"):
        assert np.array_equal(value(tree)(symbols), reckoned(tree, symbols), equal_nan=True)


@given(drawn_expr.trees() | any_trees() | looked_up(), drawn_expr.names, drawn_expr.names)
def test_what_is_compiled_for_arrays_is_the_same_bit_for_bit(
    tree: Expr, one: dict[str, Any], other: dict[str, Any]
) -> None:
    symbols = {name: np.array([value, other[name]]) for name, value in one.items()}
    told, every = Let("told", tree, "a tree"), np.ones(2, bool)
    positive: Any = Op(">", told, Num(0))
    with np.errstate(all="ignore"):
        named = all_hold([positive])(symbols, every)
    wanted = Numbers(symbols)(tree)
    assert np.array_equal(named[told], wanted, equal_nan=True)
    assert np.array_equal(every, np.broadcast_to(np.greater(wanted, 0), 2))


@each_family
def test_where_all_rules_hold_and_what_they_name_are_as_read_one_by_one(cls: type[Hinge]) -> None:
    family, drawn, every = definition(cls), many(cls, 500), np.ones(500, bool)
    symbols, numbers = resolved(family, drawn), Numbers(resolved(family, drawn))
    with np.errstate(all="ignore"):
        named = family.kept(symbols, every)
    held = [np.broadcast_to(numbers(rule.holds), 500) for rule in family.rules]
    assert np.array_equal(every, np.all(held, axis=0))
    assert named
    for let, worth in named.items():
        assert np.array_equal(worth, numbers(let), equal_nan=True), let.name


@each_family
def test_the_first_rule_that_is_broken_is_that_of_arrays(cls: type[Hinge]) -> None:
    family, drawn = definition(cls), many(cls, 100)
    off = np.random.default_rng(1).random((len(drawn), 100)) < 0.1  # few values off the usual ones
    drawn = {
        name: np.where(few, drawn[name], family.bounds[name].initial)
        for name, few in zip(drawn, off, strict=True)
    }
    values = resolved(family, drawn)
    holds = np.array([np.broadcast_to(Numbers(values)(r.holds), 100) for r in family.rules])
    assert 0 < np.all(holds, axis=0).sum() < 100
    for index in range(100):
        with np.errstate(all="ignore"):
            place = family.first_broken(resolved(family, row(drawn, index)))
        broken = np.flatnonzero(~holds[:, index])
        assert place == (broken[0] if len(broken) else None)


@batches
@given(st.lists(st.tuples(solids(), names), min_size=SOLIDS, max_size=SOLIDS))
@pytest.mark.node
def test_the_page_draws_as_python_does(trees: list[Solid]) -> None:
    questions = []
    for shape, symbols in trees:
        tables = Tables()
        row = tables.shape(shape)
        questions.append(("drawn", "", tables.data(), symbols, row))
    for solid, (found,) in zip(trees, answers(*questions), strict=True):
        assert found == pytest.approx(built(*solid), rel=1e-6, abs=1e-6)


@batches
@given(drawn=st.lists(st.tuples(solids(), names), min_size=SOLIDS, max_size=SOLIDS))
@pytest.mark.openscad
def test_openscad_draws_as_python_does(
    drawn: list[Solid], tmp_path_factory: pytest.TempPathFactory
) -> None:
    made = run(source(drawn), tmp_path_factory.mktemp("solids"), strict=False)
    assert_volumes(made.output, drawn)


#: A part that is not drawn where b is not above 0, met with one, less one, and taken off one.
_PART = choose(cast("Any", Sym("b") > 0), post(cast("Any", Sym("a")), 1))
ABSENT = (_PART & post(1, 1), post(1, 1) & _PART, _PART - post(1, 1), post(1, 1) - _PART)


@pytest.mark.parametrize("b", [-1.0, 1.0])
@pytest.mark.openscad
def test_what_is_not_drawn_is_an_operand_all_the_same(b: float, tmp_path: Path) -> None:
    drawn = [(shape, {"a": 2.0, "b": b, "n": 1.0, "facets": 6.0}) for shape in ABSENT]
    volumes = [built(*one) for one in drawn]
    assert (volumes[0] == volumes[2] == 0) == (b < 0)
    assert_volumes(run(source(drawn), tmp_path).output, drawn)


@batches
@given(drawn=st.lists(st.tuples(solids(), names), min_size=SOLIDS, max_size=SOLIDS))
@pytest.mark.newer
def test_the_newer_openscad_draws_as_python_does(
    drawn: list[Solid], tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("solids")
    (folder / "main.scad").write_text(source(drawn), encoding="utf-8")
    assert_volumes(run_newer(folder / "main.scad", folder, "--backend=manifold").output, drawn)


def reckoned(tree: Expr, symbols: dict[str, Any]) -> float:
    with np.errstate(all="ignore"):
        return float(Numbers(symbols)(tree))


def built(shape: Shape, symbols: dict[str, Any]) -> float:
    solid = to_mesh(shape, Numbers(symbols))
    assert solid.status().name == "NoError"
    return float(solid.volume())


def source(trees: Sequence[Solid]) -> str:
    """A file that draws all of them, one beside the other, each with its own symbols."""
    return "\n".join(_source(trees))


def _source(trees: Sequence[Solid]) -> Iterator[str]:
    used = {
        node.module: None
        for shape, _ in trees
        for node in inside(shape, bodies=True)
        if isinstance(node, Drawn)
    }
    for each in used:
        yield from module(each)
    yield "cube(1);"  # so that there is something to draw, at least
    for place, (shape, symbols) in enumerate(trees, 1):
        yield f"module tree_{place}() {{"
        yield from (f"{name} = {number(value)};" for name, value in symbols.items())
        yield from lines(shape)
        yield f"}}\ntranslate([{2 * REACH * place}, 0, 0]) tree_{place}();"


def assert_volumes(stl: Path, trees: Sequence[Solid]) -> None:
    """Each tree's volume, of the triangles that stand in its place."""
    import trimesh

    corners = np.asarray(trimesh.load_mesh(stl, process=False).triangles)
    places = np.rint(corners.mean(axis=1)[:, 0] / (2 * REACH)).astype(int)
    for place, tree in enumerate(trees, 1):
        own = corners[places == place] - (2 * REACH * place, 0, 0)
        volume = math.fsum(np.linalg.det(own)) / 6
        assert volume == pytest.approx(built(*tree), rel=SHARE, abs=LEAST), lines(tree[0])
