"""No rule too many: without it some setting breaks a shape, or it says what else it serves."""

from __future__ import annotations

import functools
from typing import Any

import numpy as np
import pytest

from scadgen.hinge.family import Hinge, all_families, definition
from scadgen.hinge.kinds.half_shut import HalfShut
from scadgen.hinge.rules import Rule, Serves
from scadgen.hinge.validate import validated
from scadgen.trees.to_numpy import Numbers
from tests.settings.obligations import Obligation, obligations
from tests.settings.samples import samples
from tests.support import each_family, refusal

HALF_SHUT = [cls for cls in all_families().values() if issubclass(cls, HalfShut)]
RULES = [(cls, rule) for cls in all_families().values() for rule in definition(cls).rules]
NAMES = [f"{cls.family}: {rule.param} {rule.sense} ..., {rule.why}" for cls, rule in RULES]


@functools.cache
def asked(name: str) -> list[Obligation]:
    return obligations(all_families()[name])


def counterexample(cls: type[Hinge], rule: Rule) -> dict[str, float] | None:
    """A setting that only this rule refuses, and that breaks something."""
    family: Any = cls  # to a type checker a class that is a key has no hash
    return _counterexample(family, rule)


@functools.cache
def _counterexample(cls: Any, rule: Rule) -> dict[str, float] | None:
    others = [each for each in definition(cls).rules if each is not rule]
    found = (samples(cls).breaking(each, others, rule) for each in asked(cls.family))
    return next((setting for setting in found if setting is not None), None)


def as_elsewhere(rule: Rule) -> list[tuple[type[Hinge], Rule]]:
    """The same rule in all families that share it."""
    return [(cls, r) for cls, r in RULES if (r.param, r.why) == (rule.param, rule.why)]


@pytest.mark.parametrize(("cls", "rule"), RULES, ids=NAMES)
def test_without_a_rule_a_setting_breaks_a_shape_unless_it_serves_something_else(
    cls: type[Hinge], rule: Rule
) -> None:
    drawn, others = samples(cls), [each for each in definition(cls).rules if each is not rule]
    assert np.any(drawn.passing(others) & ~drawn.lets[rule]), "the other rules say as much"
    setting = counterexample(cls, rule)
    if setting is not None:
        assert rule.serves is Serves.SHAPE, setting
        assert rule.why in refusal(cls, setting).rule
    elif rule.serves is Serves.SHAPE:
        needed = any(counterexample(*each) for each in as_elsewhere(rule))
        assert needed, "no shape, gap or hold needs it: what does it serve?"


@each_family
def test_no_setting_that_the_rules_let_through_is_seen_to_break_anything(cls: type[Hinge]) -> None:
    drawn, rules = samples(cls), definition(cls).rules
    passing = drawn.passing(rules)
    assert passing.sum() > 1000
    for each in asked(cls.family):
        assert drawn.breaking(each, rules) is None, each.name
    at = int(np.argmax(passing))
    setting = {name: float(column[at]) for name, column in drawn.values.items()}
    assert validated(cls, setting) == pytest.approx(setting)


@pytest.mark.parametrize("cls", HALF_SHUT, ids=lambda cls: cls.family)
def test_no_rule_lets_sides_print_nearer_than_the_clearance(cls: type[HalfShut]) -> None:
    """What gaps of hinges that print half shut are told to be at the least, they are."""
    drawn, family = samples(cls), definition(cls)
    passing = drawn.passing(family.rules)
    numbers = Numbers({name: column[passing] for name, column in drawn.values.items()})
    for way in ("leaf_way", "stop_way", "heel_way"):
        assert np.min(numbers(family.derived[way]) - numbers.symbols["clearance"]) > 0, way
    assert np.sum(numbers.symbols["printed_at"] > 0) > 1000
    assert np.sum(numbers.symbols["opens_to"] > 0) > 30
