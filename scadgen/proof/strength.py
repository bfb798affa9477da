"""Every way in which a hinge may give way under its duty, as findings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from .finding import Finding

if TYPE_CHECKING:
    from scadgen.duty import Duty
    from scadgen.family import Hinge
    from scadgen.strength.materials import Plastic

#: A place that bears this much more than is asked, or less, is marginal (assumed).
MARGINAL = 0.25


def strength(hinge: Hinge, duty: Duty, plastic: Plastic) -> Iterator[Finding]:
    """One finding for each place that could give way, printed in the plastic."""
    for place in hinge.strengths(duty, plastic):
        factor, needed = float(place.factor), 1.0 if place.limit else duty.margin
        borne = f"{float(place.actual):.3g} of {float(place.permissible):.3g} {place.unit}"
        asked = "" if place.limit else f", {factor:.3g} times what is asked in {plastic.name}"
        yield Finding(
            place.name,
            factor >= needed or place.caution,
            f"{borne}{asked}.",
            measured=factor if math.isfinite(factor) else None,
            needed=None if place.caution else needed,
            unit="times",
            slack=0.0 if place.limit else MARGINAL,
            change=f"{place.change}.",
        )
