"""How far a certificate of hold reaches: under the load that is asked, and on a fleet of printers.

It is one for rigid bodies, and it stands while no face of either body has moved, or lost, as much
as half of what blocks the worst way.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.findings.finding import Finding
from scadgen.findings.on_hold import HOLD

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.proof.fleet.population import Population
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic

Array = np.ndarray[Any, Any]

#: Unit of a strength that says how far a bearing gives way.
GIVES = "mm"
#: Printers that are asked: their share is then known within 0.2 %.
COUNT = 100_000


def depth_of(findings: Iterable[Finding]) -> float | None:
    """How much blocks the worst way, mm, where a hold is certified; None where it is not."""
    certain = (f for f in findings if f.name == HOLD and f.passed and not f.leaves_open)
    return next((f.measured for f in certain), None)


def under_load(hinge: Hinge, depth: float, duty: Duty, plastic: Plastic) -> Iterator[Finding]:
    """Whether the bearing gives way so little under the duty that the certificate stands.

    Where it gives more, what the grips have left is one of the strengths, and decided there.
    """
    name, most = "hold under load", depth / 2
    ways = [float(s.actual) for s in hinge.strengths(duty, plastic) if s.unit == GIVES]
    if not ways:
        words = "its family does not tell how far its bearing gives way under a load."
        yield Finding(name, True, words, leaves_open="is certified for rigid bodies only")
        return
    way = max(ways) * duty.margin
    given = f"the bearing gives way by {way:.3g} mm under the duty with its margin, as reckoned in"
    reach = (
        "so that no motion takes it apart under the load either."
        if way < most
        else "beyond it only what the grips lose is reckoned."
    )
    words = f"{given} {plastic.name}; the certificate stands below {most:.2f} mm: {reach}"
    yield Finding(name, True, words)


@functools.lru_cache(maxsize=2)
def _lost(population: Population, seed: int) -> Array:
    """What each of the printers takes off all around, mm: the same are asked of every hinge."""
    printers = population.sample(COUNT, np.random.default_rng(seed))
    lost: Array = np.maximum(-np.asarray(printers.growth), 0)
    lost.setflags(write=False)
    return lost


def on_fleet(depth: float, population: Population, seed: int = 0) -> Finding:
    """On how many printers both bodies lose so little that the certificate stands.

    A printer that prints lean takes its growth from every outline, all around.
    """
    share = 100 * float(np.mean(_lost(population, seed) < depth / 2))
    others = " Of the others only the grips that its family declares are asked."
    words = (
        f"{depth / 2:.2f} mm may be missing all around either body; {share:.4g} % of the printers"
        " take off less, so that no motion whatever takes apart what they print."
    ) + (others if share < 100 else "")
    return Finding(f"hold on the {population.name} fleet", True, words)
