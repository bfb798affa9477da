"""How the rims of two bodies that close lie on each other, on a fleet of printers.

A printer makes of each height whole layers: those whose middle lies below it. So the rims of a box
and its lid come out too high together, or too low, by up to a layer, and bodies on edge, which meet
by upright faces, by the growth of both. What the bearing has of play evens that out: shut, the lid
lies on its rim nevertheless. Where the axis comes out in its own layers is left out: its bearing is
round, and no edge of it is at that height.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from scadgen.proof.fleet.findings import COUNT, percent, share_finding

if TYPE_CHECKING:
    from scadgen.findings.finding import Finding
    from scadgen.product.fitting import Fitted
    from scadgen.product.joints import MergedTurn
    from scadgen.proof.fleet.population import Population
    from scadgen.proof.fleet.printer import Printer, Value

#: What of a height of layers is rounding, mm.
GRAIN = 1e-9


def rims(fitted: Fitted, turn: MergedTurn, population: Population, seed: int = 0) -> Finding:
    """Whether on enough of the printers a lid lies on its rim within the play of its bearing."""
    printers = population.sample(COUNT, np.random.default_rng(seed))
    off = apart(fitted, turn, printers.limited(float(fitted.hinge.layer)))
    share = float(np.mean(lie(fitted, turn, printers)))
    how = "heights in whole layers" if fitted.rim is not None else "growth of both faces"
    return share_finding(
        f"rims on the {population.name} fleet",
        share,
        population,
        f"{percent(share)} of the printers make them lie on each other: {how} leaves them "
        f"off by {np.abs(off).mean():.2f} mm on the average, and the bearing has that play.",
        weak=lambda: "heights that are whole layers of all printers, or more clearance",
    )


def lie(fitted: Fitted, turn: MergedTurn, printers: Printer) -> Value:
    """On which printers a lid lies on its rim."""
    printers = printers.limited(float(fitted.hinge.layer))
    play = float(getattr(fitted.hinge, "side_play", 0.0)) - printers.loss(bore=True)
    return np.abs(apart(fitted, turn, printers)) <= np.maximum(play, 0) + GRAIN


def apart(fitted: Fitted, turn: MergedTurn, printers: Printer) -> Value:
    """By how much both rims together come out too high on each printer, mm; below 0 too low."""
    if fitted.rim is None:
        return 2 * printers.growth
    top = float(fitted.rim.value)
    other = 2 * float(turn.about.origin[2]) - top
    return printed(printers, top) + printed(printers, other) - top - other


def printed(printers: Printer, height: float) -> Value:
    """A height in whole layers, mm."""
    return printers.whole_layers(0.0, height) * printers.layer
