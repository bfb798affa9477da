"""The range that a refusal tells is the true one: all in it works, and a step beyond does not."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from scadgen.families.rod_loops import RodLoops
from scadgen.hinge.automatic import given_values, resolved
from scadgen.hinge.ends import ends, words
from scadgen.hinge.family import Hinge, bounds, definition
from scadgen.hinge.free import LISTED, Free, free
from scadgen.hinge.rules import HingeError
from scadgen.trees.to_numpy import Numbers
from tests.support import each_family, many, refusal, row, some_hinges, some_refused, thorough

DRAWN = 150 if thorough() else 60


def works(cls: type[Hinge], given: dict[str, Any]) -> bool:
    try:
        cls(**given)
    except HingeError:
        return False
    return True


def assert_free(cls: type[Hinge], given: dict[str, Any], name: str, found: Free) -> None:
    """Both ends and what lies between them works, and a step beyond does not."""
    limits = bounds(cls)[name]
    for low, high in found.ranges:
        inside = {low, high, limits.on_step((low + high) / 2)}
        assert all(works(cls, given | {name: value}) for value in inside), (name, low, high)
        for beyond in (low - found.step, high + found.step):
            value = round(beyond, 6)
            stands = limits.automatic and value == 0  # for as much as is needed
            assert stands or not works(cls, given | {name: value}), (name, value)


@each_family
def test_the_free_range_of_a_refused_value_is_true(cls: type[Hinge]) -> None:
    some = none = 0
    for given, error in some_refused(cls, DRAWN):
        found = error.free
        assert found is not None
        assert_free(cls, given, error.param, found)
        some, none = some + bool(found.values), none + (not found.values)
        if " here, " in error.rule:
            values = resolved(definition(cls), given)
            low, high = ends(definition(cls), error.param, Numbers(values))
            assert all(low.at - 1e-6 <= value <= high.at + 1e-6 for value in found.values)
        if set(error.works) == {error.param}:
            assert np.isclose(error.works[error.param], found.values, atol=1e-6).any()
    assert some > DRAWN / 10
    assert none > 0


@each_family
def test_the_free_ranges_of_a_hinge_are_true(cls: type[Hinge]) -> None:
    """Of every field, with what is automatic left open and given."""
    for hinge in some_hinges(cls, 4 if thorough() else 2):
        for given in (given_values(hinge), {n: getattr(hinge, n) for n in bounds(cls)}):
            for name in bounds(cls):
                found = free(cls, given, name)
                assert found is not None
                assert_free(cls, given, name, found)
                own = np.isclose(getattr(hinge, name) % found.step, (0, found.step)).any()
                assert (
                    not own
                    or np.isclose(getattr(hinge, name), found.values).any()
                    or (name in hinge.left_open)
                )


@each_family
def test_a_message_tells_the_free_range(cls: type[Hinge]) -> None:
    """As the rule's own range where that is all, or after it."""
    told = {True: 0, False: 0}
    for _, error in some_refused(cls, DRAWN):
        assert error.free is not None
        wanted = f"{error.free}{error.unit}" if error.free.values else "nothing"
        after = re.search(r" With the rest as it is: (.*?)\. This works: ", str(error))
        told[after is None] += 1
        if after:
            assert after[1] == wanted
        else:
            assert f"; it must be {wanted} here, " in str(error) or error.rule.startswith(
                bounds(cls)[error.param].words
            )
    assert min(told.values()) > 0


@each_family
def test_the_ends_of_its_own_rules_are_those_of_a_field(cls: type[Hinge]) -> None:
    """At both ends all direct rules on the field hold, and a step beyond one or its bound fails."""
    family, drawn, narrowed = definition(cls), many(cls, DRAWN, seed=5), 0
    for index in range(DRAWN):
        values = resolved(family, row(drawn, index))
        for name, limits in family.bounds.items():
            low, high = ends(family, name, Numbers(values))
            if low.at > high.at:
                continue
            tried = (low.at - limits.step, low.at, high.at, high.at + limits.step)
            kept = [own_rules_hold(cls, values, name, round(value, 6)) for value in tried]
            stands = limits.automatic and low.at == limits.step  # 0, for as much as is needed
            assert kept == [stands and kept[0], True, True, False], (name, tried)
            narrowed += low.rule is not None or high.rule is not None
    assert narrowed > DRAWN


def test_a_limit_that_follows_its_own_field_through_an_open_value_ends_no_range() -> None:
    """A longer rod gets more loops, which ask for more length."""
    error = refusal(RodLoops, {"rod": 16, "length": 60})
    assert error.rule.startswith("it must be at least 64 mm, or the loops")
    assert error.free is not None
    assert error.free.ranges[0][1] < 60 < 64 == error.free.ranges[1][0]


@each_family
def test_what_is_free_lies_within_the_ends_of_the_own_rules(cls: type[Hinge]) -> None:
    """Where all values are given: what is open may follow, and take the ends along."""
    for hinge in some_hinges(cls, 8 if thorough() else 4):
        values = {name: getattr(hinge, name) for name in bounds(cls)}
        for name in bounds(cls):
            found = free(cls, values, name)
            low, high = ends(definition(cls), name, Numbers(values))
            assert found is not None
            assert all(low.at - 1e-6 <= value <= high.at + 1e-6 for value in found.values)


def own_rules_hold(cls: type[Hinge], values: dict[str, Any], name: str, value: float) -> bool:
    """Whether a value keeps its bounds and the direct rules on its field, the others as given."""
    numbers = Numbers(values | {name: value})
    rules = (rule for rule in definition(cls).rules if rule.param == name and rule.direct)
    return bounds(cls)[name].accepts(value) and all(numbers(rule.holds) for rule in rules)


def crossed(cls: type[Hinge]) -> Iterator[tuple[dict[str, Any], str]]:
    """Values with which two direct rules on one field leave it nothing, and the field."""
    drawn = many(cls, 4000, seed=6)
    for name in bounds(cls):
        for index in range(0, 4000, 7 if thorough() else 14):
            values = resolved(definition(cls), row(drawn, index))
            low, high = ends(definition(cls), name, Numbers(values))
            if low.at > high.at and low.rule and high.rule:
                yield values, name
                break


@each_family
def test_rules_that_leave_nothing_are_named(cls: type[Hinge]) -> None:
    family = definition(cls)
    for values, name in crossed(cls):
        limits, numbers = bounds(cls)[name], Numbers(values)
        low, high = ends(family, name, numbers)
        broken = [r for r in family.rules if r.param == name and r.direct and not numbers(r.holds)]
        assert low.rule
        assert high.rule
        assert broken
        for rule in broken:
            told = words(family, rule, numbers)
            both = (low.rule.why, high.rule.why)
            assert re.search(rf"at least .*, {both[0]}, and at most .*, {both[1]}; no ", told)
        found = free(cls, values, name)
        assert found is not None
        assert found.values == ()
        assert not any(
            works(cls, values | {name: limits.on_step(limits.low + k * limits.step)})
            for k in range(0, 40)
        )


def test_some_rules_leave_nothing() -> None:
    from scadgen.families.captive_cone import CaptiveCone

    assert [name for _, name in crossed(CaptiveCone)] != []


@pytest.mark.parametrize(
    ("values", "text"),
    [
        ((), ""),
        ((3,), "3"),
        ((0, 2.5, 3, 3.5), "0, 2.5 to 3.5"),
        (tuple(range(2 * LISTED)), "0, 1, 2, 3, 4, 5, 6, 7 and more up to 15"),
    ],
)
def test_ranges_in_words(values: tuple[float, ...], text: str) -> None:
    assert str(Free(values, 0.5)) == text


def test_nothing_is_told_beside_values_that_are_none() -> None:
    from scadgen.families.captive_cone import CaptiveCone

    usual = given_values(CaptiveCone())
    assert free(CaptiveCone, usual | {"shaft": 99.0}, "waist") is None
    with pytest.raises(HingeError) as caught:
        CaptiveCone(shaft=99, wall=99)
    assert caught.value.free is None
    assert "With the rest" not in str(caught.value)
