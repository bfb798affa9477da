"""The share of a fleet that works at every clearance, and the clearance that does best."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.hinge.family import bounds, definition, numbers
from scadgen.proof.fleet.population import Population
from scadgen.proof.fleet.shares import works

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge

#: Clearances that are tried, mm.
LOWEST, HIGHEST, STEP = 0.15, 0.8, 0.05
#: Shares nearer to each other than this are alike; the closest fit of them is taken.
ALIKE = 0.002


@dataclass(frozen=True, eq=False)
class Curve:
    """Shares of a fleet, 0 to 1, against the clearance or what else sets a family's fit.

    field: what is varied. values: mm, rising. free, hold, both: shares. refused: where a bound or a
    rule of the family refuses the value beside the hinge's other values; the shares there are those
    of the formulas. best: the value not refused that most printers manage, mm, and its share; None
    where all are refused.
    """

    field: str
    values: Any
    free: Any
    hold: Any
    both: Any
    refused: Any

    @property
    def best(self) -> tuple[float, float] | None:
        """The best value and its share; of those alike the smallest, which fits most closely."""
        shares = np.where(self.refused, -1, self.both)
        if self.refused.all():
            return None
        index = int(np.argmax(shares >= shares.max() - ALIKE))
        return float(self.values[index]), float(shares[index])


def best_clearance(
    hinge: Hinge,
    population: Population,
    count: int = 100_000,
    seed: int = 0,
    *,
    step: float = STEP,
) -> Curve:
    """The hinge at every clearance from 0.15 to 0.8 mm by ``step``, all else being as it is.

    A family whose fit is set by another field has that one varied. All values are tried on the
    same printers: ``count`` of them, at least 1.
    """
    field = hinge.fit
    values = np.linspace(LOWEST, HIGHEST, round((HIGHEST - LOWEST) / step) + 1).round(6)
    printers = population.sample(count, np.random.default_rng(seed))
    rows = [_shares(hinge, field, float(value), printers) for value in values]
    free, hold, both, refused = (np.array(column) for column in zip(*rows, strict=True))
    return Curve(field, values, free, hold, both, refused)


def _shares(hinge: Hinge, field: str, value: float, printers: Any) -> tuple[Any, ...]:
    family, changed = definition(type(hinge)), numbers(hinge).replaced(**{field: value})
    turns, holds = works(family, changed, printers)
    limits = bounds(type(hinge))[field]
    allowed = limits.low <= value <= limits.high
    sound = allowed and all(bool(changed(rule.holds)) for rule in family.rules)
    return turns.mean(), holds.mean(), (turns & holds).mean(), not sound
