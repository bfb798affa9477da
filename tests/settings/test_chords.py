"""The lemma on chords: true in numbers up to its own limit, told where it holds only, and used."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scadgen.hinge.fields import Bounds
from scadgen.hinge.rules import GRAIN, Rule, at_least, at_most
from scadgen.trees.expr import Expr, maximum, minimum, sqrt
from scadgen.trees.to_numpy import Numbers
from tests.samples import symbol
from tests.settings.chords import chords
from tests.settings.obligations import Obligation
from tests.settings.search import Search

x, s, c, a, b = map(symbol, "xscab")
FLANK: Any = x / 2 + minimum(a, x / 2 + b)
ROOT: Any = sqrt(maximum(s * s - FLANK * FLANK, 0))
DEEP: Any = sqrt(maximum(s * s - c * c, 0))
CHORD = at_most(x, maximum(2 * DEEP - 2 * a, DEEP - b), "or it is too near")
GRAINS = float(Numbers({})(GRAIN))


def field(low: float) -> Bounds:
    return Bounds("mm", low, 30, default=low, step=0.1, group="Size", sentence="")


FIELDS = {"x": field(0.5), **{name: field(0) for name in "scab"}}


def told(*rules: Rule, nodes: tuple[Expr, ...] = (ROOT,), least: float = 0.5) -> list[Expr]:
    return [*chords(rules, nodes, FIELDS | {"x": field(least)})]


SHARE = st.floats(0, 1)


@given(st.floats(0.01, 30), st.floats(-1, 1), SHARE, SHARE, SHARE)
def test_the_lemma_is_true_up_to_the_grain(
    size: float, near: float, share: float, aside: float, off: float
) -> None:
    (fact,) = told(CHORD)
    values = {"s": size, "c": near * size, "a": aside * size, "b": off * size}
    most = float(Numbers(values)(CHORD.edge))
    for length in (GRAINS * 2 + share * most, most):
        values["x"] = length
        if bool(Numbers(values)(CHORD.holds)) and length > GRAINS:
            assert float(Numbers(values)(fact)) >= -1e-9


def test_the_lemma_tells_no_more_than_the_grain_takes() -> None:
    (fact,) = told(CHORD)
    for size, away in ((10, 8), (3, 0.1), (25, 24.9)):
        values = {"s": size, "c": away, "a": 0.0, "b": 1.0}
        values["x"] = float(Numbers(values)(CHORD.limit))
        found = float(Numbers(values)(fact))
        assert 0 <= found <= 1.1 * (2 * size * GRAINS) ** 0.5


ASIDE: Any = x / 2 + minimum(a - 1, x / 2 + b)  # may lie across the middle, on either side


def limited(deep: Any, times: float = 2, aside: Any = a, other: Any = None) -> Rule:
    """The rule with other parts."""
    limit = maximum(times * deep - 2 * aside, (deep if other is None else other) - b)
    return at_most(x, limit, "or it is too near")


@pytest.mark.parametrize(
    ("rule", "nodes", "least"),
    [
        (CHORD, (ROOT,), 0.0),  # a chord of no length may lie anywhere
        (at_least(x, CHORD.limit, "or"), (ROOT,), 0.5),  # type: ignore[arg-type]
        (limited(sqrt(maximum(s * s - c, 0))), (ROOT,), 0.5),
        (limited(sqrt(maximum(s * s - c * c, 1))), (ROOT,), 0.5),
        (limited(DEEP, times=3), (ROOT,), 0.5),
        (limited(DEEP, other=s), (ROOT,), 0.5),
        (limited(DEEP, aside=a - 1), (sqrt(maximum(s * s - ASIDE * ASIDE, 0)),), 0.5),
        (CHORD, (sqrt(maximum(s * s - x * x, 0)),), 0.5),
        (CHORD, (sqrt(maximum(c * c - FLANK * FLANK, 0)),), 0.5),
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
