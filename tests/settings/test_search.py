"""The search over settings, on small families whose answer is known; and on every real one."""

from __future__ import annotations

from typing import Any, ClassVar

import numpy as np
import pytest

from scadgen.families.slit_lattice import SlitLattice
from scadgen.hinge.family import Hinge, definition
from scadgen.hinge.fields import Bounds
from scadgen.hinge.rules import Rule, at_least
from scadgen.trees.expr import Expr, maximum, sqrt, where
from tests.samples import symbol
from tests.settings import search
from tests.settings.boxes import Boxes, side, whole_box
from tests.settings.obligations import Obligation, obligations
from tests.settings.prover import Prover
from tests.settings.search import Search
from tests.support import each_family

x, y, n = map(symbol, "xyn")
EVERYTHING, BRIEFLY = 4_000, 500


def field(high: float, step: float, *, whole: bool = False) -> Bounds:
    return Bounds("mm", 0, high, default=0, step=step, group="Size", sentence="", whole=whole)


class Small:
    """As much of a family as a search reads."""

    bounds: ClassVar = {"x": field(8, 0.1), "y": field(8, 0.1), "n": field(6, 1, whole=True)}


def searched(value: Any, *rules: Rule, least: float = 0.0) -> Any:
    family: Any = Small()
    return Search(family, rules, Obligation("it", ((value,),), least), ()).run(EVERYTHING)


@pytest.mark.parametrize(
    ("value", "rules"),
    [
        (x * y, ()),
        (maximum(x, y) - y, ()),
        (x - y, (at_least(x, y, "or not"),)),
        (x * n - y * n, (at_least(x, y, "or not"),)),
        (sqrt(x * x + 1) - 1, ()),
        (x / (1 + y) - 0.9, (at_least(x, 1 + y, "or not"),)),
        (where(x > 4, x - 4, 4 - x), ()),
    ],
)
def test_what_holds_in_all_settings_is_proven(value: Expr, rules: tuple[Rule, ...]) -> None:
    found = searched(value, *rules, least=-1e-5)
    assert found.proven
    assert found.boxes > 0


@pytest.mark.parametrize(
    ("value", "rules"),
    [
        (x - y, ()),
        (x - y - 0.1, (at_least(x, y, "or not"),)),
        (x * y - 63.5, (at_least(x, y, "or not"),)),
        (1 - (x - 4) * (x - 4) * n, (at_least(n, 1, "or not"),)),
    ],
)
def test_what_some_setting_breaks_is_seen_with_the_setting(
    value: Expr, rules: tuple[Rule, ...]
) -> None:
    found = searched(value, *rules)
    assert not found.proven
    assert found.broken is not None


def test_what_is_broken_between_the_steps_only_is_left_open_and_told_with_its_share() -> None:
    found = searched(abs(x - 0.05) - 0.01)
    assert found.broken is None
    assert 0 < found.share < 0.05
    assert all(np.all(boxes.high - boxes.low <= 0.1 + 1e-9) for boxes in found.open)


def test_halves_of_boxes_are_the_whole_and_counts_are_shared_out() -> None:
    sides = {name: side(bounds) for name, bounds in Small.bounds.items()}
    box = whole_box(sides, ())
    for number, name in enumerate(sides):
        weights = np.array([[float(k == number) for k in range(len(sides))]])
        halves, small = box.halved(weights)
        assert (len(halves), len(small)) == (2, 0)
        low, high = halves.ranges[name].low, halves.ranges[name].high
        assert (low.min(), high.max()) == (box.low[0, number], box.high[0, number])
        gap = low.max() - high.min()
        assert gap == (1 if sides[name].whole else 0)


def test_a_whole_box_is_cut_where_a_comparison_turns() -> None:
    sides = {"x": side(Small.bounds["x"])}
    boxes: Boxes = whole_box(sides, [where(x > 0, 1, 2)])  # type: ignore[list-item]
    assert boxes.high[:, 0].tolist() == [0, 8]
    assert 0 < boxes.low[1, 0] < 1e-300


def is_fit(asked: Obligation) -> bool:
    """Whether it is one of the gaps, holds and webs that a family declares, or of its play."""
    return any(words in asked.name for words in ("as wide as", "left after", "some", "bends or"))


@each_family
def test_gaps_and_holds_are_kept_in_all_settings(
    cls: type[Hinge], monkeypatch: pytest.MonkeyPatch
) -> None:
    """So few boxes are done with sooner if fewer of them get the best weights."""
    monkeypatch.setattr(search, "EXACTLY", 4)
    prover = Prover(cls, definition(cls).rules, EVERYTHING, BRIEFLY)
    for asked in filter(is_fit, obligations(cls)):
        found = prover.decided(asked)
        assert found.broken is None, (asked.name, found.broken)
        assert found.share < LEFT_OPEN, asked.name


#: Of all settings the part that may be left open, near the limits of the rules.
LEFT_OPEN = 0.01


def test_an_outline_that_runs_both_ways_is_not_proven() -> None:
    prover = Prover(SlitLattice, definition(SlitLattice).rules)
    wrong = symbol("slit_length") - 12 * symbol("bridge")
    asked = Obligation("it", ((wrong,), (-wrong,)), 0.0, fixed=True)
    assert prover.decided(asked).broken is not None
    assert not prover.decided(asked).proven
