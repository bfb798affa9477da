"""What the rules on a field leave of its range, given the other values: both ends, in words.

Only direct rules end a range: their limits stay as they are whatever the field is. What other
fields' rules ask of it besides is found by trying: see ``scadgen/hinge/free.py``.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.hinge.rules import Rule
from scadgen.text.numbers import shown

if TYPE_CHECKING:
    from scadgen.hinge.family import Definition
    from scadgen.trees.to_numpy import Numbers


@dataclass(frozen=True)
class End:
    """An end of a range, on the field's steps; without a rule it is the field's own bound."""

    at: float
    rule: Rule | None = None

    def told(self, sense: str, suffix: str) -> str:
        """What is asked there, and what goes wrong beyond."""
        why = f", {self.rule.why}" if self.rule else ""
        return f"{sense} {shown(self.at)}{suffix}{why}"


def ends(family: Definition, param: str, numbers: Numbers) -> tuple[End, End]:
    """The ends that the bounds of a field and its direct rules make; they may have crossed."""
    limits = family.bounds[param]
    low, high = End(limits.low), End(limits.high)
    for rule in family.rules:
        if rule.param == param and rule.direct:
            end = End(float(numbers(rule.nearest(limits.step))), rule)
            if rule.at_least and end.at > low.at:
                low = end
            elif not rule.at_least and end.at < high.at:
                high = end
    return low, high


def words(family: Definition, rule: Rule, numbers: Numbers) -> str:
    """What a broken rule asks of its field, given the other values; the text of its assertion."""
    limits = family.bounds[rule.param]
    if not rule.direct:
        limit = float(numbers(rule.nearest(limits.step)))
        return f"it must be {End(limit, rule).told(rule.sense, limits.suffix)}."
    low, high = ends(family, rule.param, numbers)
    if low.at <= high.at:
        return f"it must be {shown(low.at)} to {shown(high.at)}{limits.suffix} here, {rule.why}."
    both = (low.told("at least", limits.suffix), high.told("at most", limits.suffix))
    step = f"{shown(limits.step)}{limits.suffix}"
    return f"it must be {', and '.join(both)}; no multiple of {step} works here."
