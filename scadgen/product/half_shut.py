"""Bodies that print half shut: how near they come beside the hinge, and on how many printers."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from scadgen.findings.on_motion import SEARCHED
from scadgen.hinge.family import definition, numbers
from scadgen.hinge.gaps import Gap
from scadgen.proof.fleet.findings import COUNT, percent, share_finding
from scadgen.proof.fleet.room_left import GRAIN, gap_margin
from scadgen.proof.fleet.shares import drawn, works

if TYPE_CHECKING:
    from scadgen.findings.finding import Finding
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.product.fitting import Fitted
    from scadgen.product.joints import MergedTurn
    from scadgen.proof.fleet.population import Population
    from scadgen.proof.fleet.printer import Printer, Value

NAME = "between the bodies, as they print"


def gap_between_bodies(fitted: Fitted, turn: MergedTurn, whole: Mechanism) -> Gap | None:
    """The gap of two bodies beside their hinge, mm; None of those that print flat.

    Of what stands nearer to the axis than its leaves begin the hinge itself tells.
    """
    if not turn.printed_at:
        return None
    fixed, moving = (whole.body(name).solid for name in turn.pair)
    _, low, high = turn.about.reach(fixed + moving)
    bearing = turn.about.cylinder(fitted.off, low - 1, high + 1, turn.facets)
    return Gap(NAME, float((fixed - bearing).min_gap(moving - bearing, SEARCHED)), bed=(0, 0))


def apart_on(fitted: Fitted, gap: Gap, printers: Printer) -> Value:
    """On which printers the bodies of a joint stay apart as they print."""
    left = gap_margin(gap, numbers(fitted.hinge), printers.limited(fitted.hinge.layer))
    return left >= -GRAIN


def on_fleet(fitted: Fitted, gap: Gap, population: Population, seed: int = 0) -> Finding:
    """Whether enough printers make the hinge work and keep the bodies apart as they print."""
    family, values = definition(type(fitted.hinge)), numbers(fitted.hinge)
    made = 0
    for printers in drawn(population, COUNT, seed):
        free, hold = works(family, values, printers)
        made += int(np.sum(free & hold & apart_on(fitted, gap, printers)))
    share = made / COUNT
    more = " or more" * (gap.size >= SEARCHED)
    return share_finding(
        f"{population.name} fleet, {NAME}",
        share,
        population,
        f"{gap.size:.2f} mm{more} beside the hinge; {percent(share)} of the printers keep "
        "them apart and make the hinge work.",
        change="print it at a smaller turn",
    )
