"""Settings drawn from all the sliders: what the rules let through, and what nearly so."""

from __future__ import annotations

import functools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from scadgen.hinge.family import Hinge, definition
from scadgen.hinge.rules import Rule
from scadgen.trees.intervals import Array, Bools
from scadgen.trees.to_numpy import Numbers
from tests.settings.conditions import Margins, rule_margin
from tests.settings.obligations import Obligation
from tests.support import many

#: Settings that are drawn, how often those that break fewest rules are drawn on from, and how many.
DRAWN, ROUNDS, KEPT = 8_000, 12, 800


@dataclass(frozen=True, eq=False)
class Samples:
    """Settings of a family as arrays, with whether each rule lets them through."""

    values: Mapping[str, Array]
    lets: Mapping[Rule, Bools]

    @property
    def count(self) -> int:
        return len(next(iter(self.values.values())))

    def passing(self, rules: Sequence[Rule]) -> Bools:
        """Which settings all these rules let through."""
        return np.all([np.ones(self.count, bool), *(self.lets[rule] for rule in rules)], axis=0)

    def told(
        self, asked: Obligation, passing: Bools, given: Margins = ()
    ) -> tuple[list[Bools], Bools]:
        """Which of the settings meet each claim, and where the obligation is one."""
        rng, count = np.random.default_rng(1), int(passing.sum())
        values: dict[str, Any] = {name: column[passing] for name, column in self.values.items()}
        asks = np.ones(count, bool)
        for counter in asked.counters:
            counts = np.broadcast_to(Numbers(values)(counter.count), count)
            asks &= counts >= 1
            values[counter.name] = np.floor(rng.random(count) * np.maximum(counts, 1))
        numbers = Numbers(values)
        for each in asked.given:
            asks &= np.asarray(numbers(each.node), bool) == each.holds
        for margin in given:
            asks &= numbers(margin) >= 0
        held = [
            np.all([np.broadcast_to(numbers(e) >= asked.least, count) for e in claim], axis=0)
            for claim in asked.claims
        ]
        return held, asks

    def held(self, asked: Obligation, given: Margins, rules: Sequence[Rule]) -> list[Margins]:
        """The claims that hold in all settings that are let through, in one case."""
        held, asks = self.told(asked, self.passing(rules), given)
        pairs = zip(asked.claims, held, strict=True)
        return [claim for claim, where in pairs if np.all(where | ~asks)]

    def breaking(self, asked: Obligation, rules: Sequence[Rule]) -> dict[str, float] | None:
        """A setting that all the rules let through and that breaks the obligation."""
        passing = self.passing(rules)
        held, asks = self.told(asked, passing)
        met = np.any(held, axis=0)
        if asked.fixed and held:  # one of them in all settings: that of most
            met = max(held, key=lambda where: int(where[asks].sum()))
        breaks = asks & ~met
        if not np.any(breaks):
            return None
        at = np.flatnonzero(passing)[int(np.argmax(breaks))]
        return {name: float(column[at]) for name, column in self.values.items()}


@functools.cache
def samples(cls: type[Hinge]) -> Samples:
    """Settings over the whole ranges, drawn on from those that break the fewest rules."""
    rules = definition(cls).rules
    rng = np.random.default_rng(7)
    drawn = many(cls, DRAWN, stepped=True)
    kept: list[dict[str, Array]] = []
    for turn in range(ROUNDS):
        broken = _broken(rules, drawn)
        best = np.argsort(broken.sum(axis=0), kind="stable")[:KEPT]
        few = np.flatnonzero(broken.sum(axis=0) <= 1)
        kept.append({name: column[few] for name, column in drawn.items()})
        fresh = many(cls, DRAWN, turn + 1, stepped=True)
        for name, column in drawn.items():
            again = rng.random(DRAWN) < 0.12
            drawn[name] = np.where(again, fresh[name], np.resize(column[best], DRAWN))
    values = {n: np.concatenate([each[n] for each in kept]) for n in drawn}
    return Samples(values, dict(zip(rules, ~_broken(rules, values), strict=True)))


def _broken(rules: Sequence[Rule], values: Mapping[str, Any]) -> Any:
    numbers: Any = Numbers(values)
    count = len(next(iter(values.values())))
    return np.stack([~np.broadcast_to(numbers(rule_margin(rule)) >= 0, count) for rule in rules])
