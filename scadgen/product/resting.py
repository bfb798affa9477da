"""How the bodies of a joint lie on each other when they are shut: rim on rim, and nowhere else."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding, Place
from scadgen.findings.on_motion import ROUNDING, SEARCHED
from scadgen.motion.contact import overlap
from scadgen.motion.meeting import CONTACT, closing

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.mechanism.turn import Turn
    from scadgen.product.fitting import Fitted

#: A lid lies on its rim where so much of what could touch does (assumed): reliefs take the rest.
LIES = 0.9
#: So far from the rim's plane, mm, is looked what could touch.
LOOK = 0.2
#: Shut bodies share no more than this, mm3: what rounding makes of faces in one plane.
SHARED = 1e-3
#: So far before it is shut, degrees, is looked which faces close in.
BACK = 20.0
#: Half of the side of a block that is as good as endless, mm.
ENDLESS = 1e4


def shut(fitted: Fitted, turn: Turn, whole: Mechanism) -> Iterator[Finding]:
    """Findings on two bodies that close; none for others.

    The contact that is meant is in the plane of the fixed body's rim. There they must touch, and
    hover nowhere; elsewhere they must keep the clearance.
    """
    if fitted.rim is None or turn.asked is None:
        return
    end = turn.asked[1]
    fixed, moving = (whole.body(name).solid for name in turn.pair)
    there = turn.moved(moving, end)
    yield _on_the_rim(fixed, there, turn, end, fitted.rim.value)
    yield _elsewhere(fixed, there, turn, end, fitted.rim.value)


def _on_the_rim(fixed: Manifold, there: Manifold, turn: Turn, end: float, rim: float) -> Finding:
    found = closing(fixed, there, turn.about.matrix(-BACK))
    shared = overlap(fixed, there)
    name = f"shut at {end:g} deg"
    if found is None or not found.contact:
        hovers = f"{found.gap:.2f} mm over it" if found else f"more than {SEARCHED:g} mm from it"
        words = f"the rim at {rim:g} mm is not touched: {turn.moving} hovers {hovers}."
        return Finding(name, False, words, change="heights that are together twice the axis'")
    facing = _across(fixed, there, rim)
    words = (
        f"{found.contact:.0f} mm2 touch (within {CONTACT:g} mm), where about {facing:.0f} mm2 look "
        f"at each other across the rim at {rim:g} mm"
        f"{f'; {shared:.3f} mm3 overlap' if shared > SHARED else ''}."
    )
    good = found.contact >= LIES * facing and shared <= SHARED
    return Finding(name, good, words, place=Place(found.middle, end))


def _across(fixed: Manifold, there: Manifold, rim: float) -> float:
    """Area where one body stands right over the other, as seen from above, mm2."""
    return float((fixed.slice(rim - LOOK) ^ there.slice(rim + LOOK)).area())


def _elsewhere(fixed: Manifold, there: Manifold, turn: Turn, end: float, rim: float) -> Finding:
    """Both bodies without a slab around the rim's plane, as thick as the clearance each way."""
    from manifold3d import Manifold

    clearance = turn.clearance or 0.0
    slab = Manifold.cube((2 * ENDLESS, 2 * ENDLESS, 2 * clearance), True).translate((0, 0, rim))
    gap = float((fixed - slab).min_gap(there - slab, SEARCHED))
    more = " or more" if gap >= SEARCHED else ""
    words = (
        f"{gap:.3f} mm{more} between them, further than {clearance:g} mm from the rim's plane; "
        f"the clearance is {clearance:g} mm."
    )
    return Finding(
        f"nowhere else at {end:g} deg",
        gap >= clearance - ROUNDING,
        words,
        measured=gap,
        needed=clearance,
        unit="mm",
    )
