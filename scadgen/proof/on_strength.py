"""What a hinge does not answer of its duty, and every way in which it may give way, as findings."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.strength.asked import unanswered
from scadgen.strength.bearing import borne, needed
from scadgen.strength.lasting import untold

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic
    from scadgen.strength.place import Strength

#: A place that bears this much more than is asked, or less, is marginal (assumed).
MARGINAL = 0.25
#: What follows a change that sizing finds.
SIZED = "; scadgen size finds how much."


def strength(hinge: Hinge, duty: Duty, plastic: Plastic | None) -> Iterator[Finding]:
    """A failed finding for each quantity that is asked and that the family does not answer, or of
    which nobody knows what the plastic bears; then one for each place that could give way, printed
    in the plastic, if that is known. A duty needs a plastic.
    """
    for left in unanswered(type(hinge), duty, plastic):
        yield Finding(
            left.name, False, left.words, left.value, left.idle, left.unit, at_least=False
        )
    if plastic is None:
        yield Finding("plastic", False, "a duty is asked, and no plastic is named that bears it.")
        return
    if any(untold(plastic, duty)):
        return
    for place in hinge.strengths(duty, plastic):
        factor = float(place.factor)
        yield Finding(
            place.name,
            bool(borne(place, duty)),
            f"{place.words}{_against(place, plastic)}.",
            measured=factor if math.isfinite(factor) else None,
            needed=None if place.caution else needed(place, duty),
            unit="times",
            slack=0.0 if place.limit else MARGINAL,
            change=f"{place.change}{SIZED if place.sized else '.'}",
        )


def _against(place: Strength, plastic: Plastic) -> str:
    """How what is borne compares with what acts, as the end of a sentence; nothing for a limit."""
    if place.limit:
        return ""
    if not place.acts:
        return f" in {plastic.name}: nothing acts here"
    return f", {float(place.factor):.3g} times what is asked in {plastic.name}"
