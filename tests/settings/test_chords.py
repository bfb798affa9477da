"""The lemma on chords: true in numbers up to its own limit, told where it holds only, and used."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scadgen.hinge.fields import Bounds
from scadgen.hinge.rules import GRAIN, Rule, at_least, at_most
from scadgen.trees.expr import Expr, maximum, sqrt
from scadgen.trees.to_numpy import Numbers
from tests.samples import symbol
from tests.settings.chords import chords
from tests.settings.obligations import Obligation
from tests.settings.search import Search

x, s, c = map(symbol, "xsc")
ROOT: Any = sqrt(s * s - x / 2 * x / 2)
CHORD = at_most(x, 2 * sqrt(maximum(s * s - c * c, 0)), "or it is too near")
GRAINS = float(Numbers({})(GRAIN))


def field(low: float) -> Bounds:
    return Bounds("mm", low, 30, default=low, step=0.1, group="Size", sentence="")


FIELDS = {"x": field(0.5), "s": field(0), "c": field(0)}


def told(*rules: Rule, nodes: tuple[Expr, ...] = (ROOT,), least: float = 0.5) -> list[Expr]:
    return [*chords(rules, nodes, FIELDS | {"x": field(least)})]


@given(st.floats(0.01, 30), st.floats(-1, 1), st.floats(0, 1))
def test_the_lemma_is_true_up_to_the_grain(size: float, near: float, share: float) -> None:
    (fact,) = told(CHORD)
    away = near * size
    most = float(Numbers({"s": size, "c": away})(CHORD.edge))
    for length in (GRAINS * 2 + share * most, most):
        values = {"x": length, "s": size, "c": away}
        if bool(Numbers(values)(CHORD.holds)) and length > GRAINS and length <= 2 * size:
            assert float(Numbers(values)(fact)) >= -1e-9


def test_the_lemma_tells_no_more_than_the_grain_takes() -> None:
    (fact,) = told(CHORD)
    for size, away in ((10, 8), (3, 0.1), (25, 24.9)):
        most = float(Numbers({"s": size, "c": away})(CHORD.limit))
        found = float(Numbers({"x": most, "s": size, "c": away})(fact))
        assert 0 <= found <= 1.1 * (size * GRAINS) ** 0.5


@pytest.mark.parametrize(
    ("rule", "nodes", "least"),
    [
        (CHORD, (ROOT,), 0.0),  # a chord of no length may lie anywhere
        (at_least(x, 2 * sqrt(maximum(s * s - c * c, 0)), "or"), (ROOT,), 0.5),
        (at_most(x, 2 * sqrt(maximum(s * s - c, 0)), "or"), (ROOT,), 0.5),
        (at_most(x, 3 * sqrt(maximum(s * s - c * c, 0)), "or"), (ROOT,), 0.5),
        (at_most(x, 2 * sqrt(maximum(s * s - c * c, 1)), "or"), (ROOT,), 0.5),
        (CHORD, (sqrt(s * s - x * x),), 0.5),
        (CHORD, (sqrt(c * c - x / 2 * x / 2),), 0.5),
    ],
)
def test_of_anything_else_it_tells_nothing(rule: Rule, nodes: Any, least: float) -> None:
    assert told(rule, nodes=nodes, least=least) == []


class Circles:
    """As much of a family as a search reads."""

    bounds: Any = FIELDS


def test_what_stays_out_of_a_bore_is_proven_with_it() -> None:
    family: Any = Circles()
    asked = Obligation("it", ((ROOT - c,),), -0.01)
    found = [Search(family, rules, asked, ()).run(2_000) for rules in ([CHORD], [])]
    assert [each.proven for each in found] == [True, False]
    longer = dataclasses.replace(asked, claims=((ROOT - c - 0.1,),))
    assert not Search(family, [CHORD], longer, ()).run(2_000).proven
