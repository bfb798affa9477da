"""Settings drawn from all the sliders: what the rules let through, and what nearly so."""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from scadgen.hinge.family import Hinge, all_families, definition
from scadgen.hinge.rules import Rule
from scadgen.trees.intervals import Array, Bools
from scadgen.trees.to_numpy import Numbers
from tests.settings.conditions import Margins, rule_margin
from tests.settings.obligations import Obligation
from tests.support import many

#: Settings that are drawn, how often those that break fewest rules are drawn on from, and how many.
DRAWN, ROUNDS, KEPT = 8_000, 12, 800
#: How many are taken of each round.
TAKEN = 4_000
#: So many settings tell which way an outline runs.
SOME = 1_000
#: Rounds towards breaking one rule alone; the share of values that are drawn anew each time.
AIMED, AGAIN = 24, 0.12


@dataclass(frozen=True, eq=False)
class Samples:
    """Settings of a family as arrays, with whether each rule lets them through."""

    values: Mapping[str, Array]
    lets: Mapping[Rule, Bools]
    _usual: dict[tuple[object, ...], int] = field(default_factory=dict)
    _passing: dict[frozenset[Rule], Bools] = field(default_factory=dict)
    _refused: dict[tuple[frozenset[Rule], Rule], Bools] = field(default_factory=dict)

    @property
    def count(self) -> int:
        return len(next(iter(self.values.values())))

    def passing(self, rules: Sequence[Rule]) -> Bools:
        """Which settings all these rules let through."""
        asked = frozenset(rules)
        if asked not in self._passing:
            lets = (self.lets[rule] for rule in rules)
            self._passing[asked] = functools.reduce(np.logical_and, lets, np.ones(self.count, bool))
            self._passing[asked].flags.writeable = False
        return self._passing[asked]

    def refused(self, rules: Sequence[Rule], by: Rule) -> Bools:
        """Some of the settings that all these rules let through and that one more does not."""
        asked = frozenset(rules), by
        if asked not in self._refused:
            found = self.passing(rules) & ~self.lets[by]
            self._refused[asked] = found & (np.cumsum(found) <= SOME)
            self._refused[asked].flags.writeable = False
        return self._refused[asked]

    def told(
        self, asked: Obligation, passing: Bools, given: Margins = ()
    ) -> tuple[list[Bools], Bools]:
        """Which of the settings meet each claim, and where the obligation is one."""
        rng, count = np.random.default_rng(1), int(passing.sum())
        asks, numbers = np.ones(count, bool), _numbers(self, passing.tobytes())
        for counter in asked.counters:
            counts = np.broadcast_to(numbers(counter.count), count)
            asks &= counts >= 1
            turn = np.floor(rng.random(count) * np.maximum(counts, 1))
            numbers = numbers.within(**{counter.name: turn})
        for each in asked.given:
            asks &= np.asarray(numbers(each.node), bool) == each.holds
        for margin in given:
            asks &= numbers(margin) >= 0
        held = [np.ones(count, bool) for _ in asked.claims]
        for where, claim in zip(held, asked.claims, strict=True):
            for margin in claim:
                where &= numbers(margin) >= asked.least
        return held, asks

    def held(self, asked: Obligation, given: Margins, rules: Sequence[Rule]) -> list[Margins]:
        """The claims that hold in all settings that are let through, in one case."""
        held, asks = self.told(asked, self.passing(rules), given)
        pairs = zip(asked.claims, held, strict=True)
        return [claim for claim, where in pairs if np.all(where | ~asks)]

    def completed(
        self, given: Mapping[str, float], rules: Sequence[Rule]
    ) -> dict[str, float] | None:
        """A setting with the given values that all the rules let through, if some sample has it."""
        others = {name: column[self.passing(rules)] for name, column in self.values.items()}
        count = len(next(iter(others.values())))
        tried = others | {n: np.full(count, v) for n, v in given.items() if n in others}
        passes = ~_broken(rules, tried).any(axis=0)
        if not np.any(passes):
            return None
        at = int(np.argmax(passes))
        return {name: float(column[at]) for name, column in tried.items()}

    def breaking(
        self, asked: Obligation, rules: Sequence[Rule], refused_by: Rule | None = None
    ) -> dict[str, float] | None:
        """A setting that the rules let through and that breaks the obligation.

        With ``refused_by`` of those that this rule does not let through.
        """
        passing = self.refused(rules, refused_by) if refused_by else self.passing(rules)
        held, asks = self.told(asked, passing)
        met = held[self.usual(asked)] if asked.fixed else np.any(held, axis=0)
        breaks = asks & ~met
        if not np.any(breaks):
            return None
        at = np.flatnonzero(passing)[int(np.argmax(breaks))]
        return {name: float(column[at]) for name, column in self.values.items()}

    def usual(self, asked: Obligation) -> int:
        """Which claim of an obligation holds in most settings that every rule lets through.

        Where it is none in any of those, in most of all settings.
        """
        if asked.key not in self._usual:
            passing = self.passing(list(self.lets))
            held, asks = self.told(asked, passing & (np.cumsum(passing) <= SOME))
            for wider in (passing, np.ones(self.count, bool)):
                if not np.any(asks):
                    held, asks = self.told(asked, wider)
            self._usual[asked.key] = int(np.argmax([where[asks].sum() for where in held]))
        return self._usual[asked.key]


@functools.lru_cache(maxsize=1)
def _numbers(drawn: Samples, passing: bytes) -> Numbers:
    """Some of the settings; one obligation after the other is asked of the same ones."""
    some = np.frombuffer(passing, bool)
    return Numbers({name: column[some] for name, column in drawn.values.items()})


@functools.cache
def _samples(name: str) -> Samples:
    rules = definition(all_families()[name]).rules
    kept = _bred(name, lambda broken, margins: (broken.sum(axis=0),), ROUNDS)
    found = Samples(kept, dict(zip(rules, ~_broken(rules, kept), strict=True)))
    for number, rule in enumerate(rules):
        if not np.any(found.passing([r for r in rules if r is not rule]) & ~found.lets[rule]):
            aimed = _pushed(name, kept, rule)
            broken = _broken(rules, aimed)
            alone = np.flatnonzero(broken[number] & (broken.sum(axis=0) == 1))
            if not alone.size:
                aimed = _bred(name, functools.partial(_only, number), AIMED)
                alone = np.flatnonzero(_broken(rules, aimed)[number])
            alone = alone[-TAKEN:]
            kept = {n: np.concatenate([column, aimed[n][alone]]) for n, column in kept.items()}
    return Samples(kept, dict(zip(rules, ~_broken(rules, kept), strict=True)))


def samples(cls: type[Hinge]) -> Samples:
    """Settings over the whole ranges, drawn on from those that break the fewest rules.

    Of a rule that none of them breaks alone some are drawn on towards that.
    """
    return _samples(cls.family)


def _pushed(name: str, kept: Mapping[str, Array], rule: Rule) -> dict[str, Array]:
    """Each of the settings with one value a step past the limit that a rule sets for it."""
    limits = definition(all_families()[name]).bounds[rule.param]
    at = np.broadcast_to(Numbers(kept)(rule.limit), len(kept[rule.param]))
    past = np.ceil(at / limits.step) - 1 if rule.at_least else np.floor(at / limits.step) + 1
    return {**kept, rule.param: np.clip(past * limits.step, limits.low, limits.high)}


def _only(number: int, broken: Any, margins: Any) -> tuple[Any, Any]:
    """The order in which settings come near to breaking one rule alone."""
    others = np.delete(broken, number, axis=0).sum(axis=0)
    return margins[number], others


def _bred(name: str, order: Callable[[Any, Any], tuple[Any, ...]], rounds: int) -> dict[str, Array]:
    """Settings that break one rule at most, drawn on from the first in an order."""
    cls = all_families()[name]
    rules, rng = definition(cls).rules, np.random.default_rng(7)
    drawn = many(cls, DRAWN, stepped=True)
    kept: list[dict[str, Array]] = []
    for turn in range(rounds):
        margins = _margins(rules, drawn)
        broken = ~(margins >= 0)
        best = np.lexsort(order(broken, margins))[:KEPT]
        few = rng.permutation(np.flatnonzero(broken.sum(axis=0) <= 1))[:TAKEN]
        kept.append({each: column[few] for each, column in drawn.items()})
        fresh = many(cls, DRAWN, turn + 1, stepped=True)
        for each, column in drawn.items():
            again = rng.random(DRAWN) < AGAIN
            drawn[each] = np.where(again, fresh[each], np.resize(column[best], DRAWN))
    return {each: np.concatenate([some[each] for some in kept]) for each in drawn}


def _margins(rules: Sequence[Rule], values: Mapping[str, Any]) -> Any:
    numbers: Any = Numbers(values)
    count = len(next(iter(values.values())))
    return np.stack([np.broadcast_to(numbers(rule_margin(rule)), count) for rule in rules])


def _broken(rules: Sequence[Rule], values: Mapping[str, Any]) -> Any:
    return ~(_margins(rules, values) >= 0)
