"""Every way in which a hinge may give way under its duty, as findings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.strength.bearing import borne, needed

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic

#: A place that bears this much more than is asked, or less, is marginal (assumed).
MARGINAL = 0.25


def strength(hinge: Hinge, duty: Duty, plastic: Plastic) -> Iterator[Finding]:
    """One finding for each place that could give way, printed in the plastic."""
    for place in hinge.strengths(duty, plastic):
        factor = float(place.factor)
        asked = "" if place.limit else f", {factor:.3g} times what is asked in {plastic.name}"
        yield Finding(
            place.name,
            bool(borne(place, duty)),
            f"{place.words}{asked}.",
            measured=factor if math.isfinite(factor) else None,
            needed=None if place.caution else needed(place, duty),
            unit="times",
            slack=0.0 if place.limit else MARGINAL,
            change=f"{place.change}; scadgen size finds how much.",
        )
