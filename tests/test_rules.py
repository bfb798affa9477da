"""Every set of values is built or refused with a remedy that works; every rule can do both."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from scadgen.hinge.family import Bounds, Hinge, definition
from scadgen.hinge.rules import HingeError, at_least, at_most
from scadgen.trees.to_numpy import Numbers
from tests.support import (
    assert_tells_all,
    each_family,
    first_broken,
    many,
    mended,
    refusal,
    remedied,
    row,
    values,
)


@each_family
@given(data=st.data())
def test_any_values_in_range_build_or_are_refused_with_changes_that_work(
    cls: type[Hinge], data: st.DataObject
) -> None:
    hinge = mended(cls, data.draw(values(cls)))
    margins = definition(cls).margins(Numbers(vars(hinge)))
    assert min(margins) > -1e-6


@each_family
def test_bulk_drawn_values_build_or_are_refused_with_changes_that_work(cls: type[Hinge]) -> None:
    drawn = many(cls, 300, seed=1)
    refused = 0
    for index in range(300):
        given_values = row(drawn, index)
        if index % 2:  # of many fields that are all anywhere hardly any are sound
            given_values = dict([*given_values.items()][index % 3 :: 3])
        hinge = mended(cls, given_values)
        refused += any(getattr(hinge, n) != round(v, 6) for n, v in given_values.items())
    assert 0 < refused < 300


@each_family
def test_each_rule_is_seen_to_hold_and_to_break(cls: type[Hinge]) -> None:
    rules = definition(cls).rules
    for rule, breaking in zip(rules, first_broken(cls), strict=True):
        label = f"{cls.family}: {rule.param} {rule.sense} ..., {rule.why}"
        assert breaking is not None, f"{label}: nothing in the declared ranges breaks it alone"
        error = refusal(cls, breaking)
        assert_tells_all(cls, breaking, error)
        assert (error.param, rule.why in error.rule) == (rule.param, True), label
        good = remedied(cls, breaking, error)
        assert Numbers(vars(good))(rule.holds), label


@each_family
def test_the_remedy_of_a_rule_moves_its_own_field_no_further_than_its_next_step(
    cls: type[Hinge],
) -> None:
    """Where changing the refused field alone is enough, a step less would still be refused."""
    family = definition(cls)
    alone = 0
    for rule, breaking in zip(family.rules, first_broken(cls), strict=True):
        assert breaking is not None
        works = refusal(cls, breaking).works
        if set(works) == {rule.param}:
            alone += 1
            step = family.bounds[rule.param].step
            nearer = round(works[rule.param] + (-step if rule.at_least else step), 6)
            passed = (
                nearer < breaking[rule.param] if rule.at_least else nearer > breaking[rule.param]
            )
            if not passed:
                refusal(cls, {**breaking, rule.param: nearer})
    assert alone > 0


@each_family
@pytest.mark.parametrize("wrong", [math.nan, math.inf, -math.inf, "3", None, True, [1.0], 1j])
def test_what_is_no_finite_number_is_refused_in_every_field(cls: type[Hinge], wrong: Any) -> None:
    for name in definition(cls).bounds:
        error = refusal(cls, {name: wrong})
        assert error.param == name
        assert error.value is wrong
        assert error.rule == definition(cls).bounds[name].words
        assert remedied(cls, {name: wrong}, error) == cls()


def outside(bounds: Bounds) -> list[float]:
    below = bounds.low - bounds.step
    if bounds.automatic and below == 0:  # which stands for something
        below = -bounds.step
    wrong = [below, bounds.high + bounds.step]
    if bounds.whole:
        return [*wrong, bounds.low + bounds.step / 2]
    return [*wrong, math.nextafter(bounds.low, -math.inf), math.nextafter(bounds.high, math.inf)]


@each_family
def test_a_value_outside_its_bounds_is_refused_with_the_bound(cls: type[Hinge]) -> None:
    for name, bounds in definition(cls).bounds.items():
        for wrong in outside(bounds):
            error = refusal(cls, {name: wrong})
            assert_tells_all(cls, {name: wrong}, error)
            assert (error.param, error.rule) == (name, bounds.words)
            remedied(cls, {name: wrong}, error)
        for edge in (bounds.low, bounds.high):
            mended(cls, {name: edge})


@each_family
def test_values_are_kept_to_the_micrometre(cls: type[Hinge]) -> None:
    name = next(n for n, b in definition(cls).bounds.items() if n != "angle" and not b.whole)
    default = definition(cls).bounds[name].default
    given_values: dict[str, Any] = {name: default + 1e-9}
    assert cls(**given_values) == cls()


@each_family
def test_margins_of_arrays_are_those_of_each_hinge(cls: type[Hinge]) -> None:
    drawn = many(cls, 50)
    family = definition(cls)
    together = [np.broadcast_to(m, 50) for m in family.margins(Numbers(drawn))]
    for index in range(50):
        alone = family.margins(Numbers(row(drawn, index)))
        assert [m[index] for m in together] == pytest.approx(alone, abs=1e-12, nan_ok=True)


def test_a_rule_binds_a_field_itself() -> None:
    for rule in (at_least, at_most):
        with pytest.raises(TypeError, match="pass the field itself"):
            rule(3, 1, "or not")


def test_the_error_shows_numbers_as_openscad_does_and_is_a_value_error() -> None:
    error = HingeError(
        family="clip", param="gap", value=0.1 + 0.2, unit=" mm", rule="x.", works={"gap": 2.0}
    )
    assert isinstance(error, ValueError)
    assert str(error) == "clip(): gap = 0.3 mm; x. This works: gap = 2."


@each_family
def test_a_limit_that_is_met_exactly_is_met(cls: type[Hinge]) -> None:
    """Three lines of 0.4 mm make a wall of 1.2 mm, whatever binary fractions make of it."""
    family = definition(cls)
    drawn = many(cls, 20_000, seed=2, stepped=True)
    tried = 0
    for rule in family.rules:
        met = finite(Numbers(drawn)(rule.limit)).round(6)
        there = Numbers({**drawn, rule.param: met})
        limit = np.broadcast_to(there(rule.limit), 20_000)
        exact = np.isclose(limit, met, rtol=0, atol=1e-9)
        assert np.all(there(rule.holds)[exact]), rule.why
        tried += exact.sum()
    assert tried > 1000


@each_family
def test_the_limit_in_the_words_of_a_broken_rule_works_and_none_nearer_does(
    cls: type[Hinge],
) -> None:
    family = definition(cls)
    drawn = many(cls, 20_000, seed=3, stepped=True)
    for rule in family.rules:
        step = family.bounds[rule.param].step
        broken = ~np.broadcast_to(Numbers(drawn)(rule.holds), 20_000)
        named = Numbers(drawn)(rule.nearest(step))
        broken &= np.isfinite(named)
        limit = finite(named).round(6)
        nearer = (limit + (-step if rule.at_least else step)).round(6)
        assert np.all(Numbers({**drawn, rule.param: limit})(rule.holds)[broken]), rule.why
        assert not np.any(Numbers({**drawn, rule.param: nearer})(rule.holds)[broken]), rule.why


def finite(limits: Any) -> Any:
    """20,000 limits, with 0 for those that no values can reach."""
    return np.nan_to_num(np.broadcast_to(limits, 20_000), posinf=0, neginf=0)
