"""How the bodies of a joint lie on each other when they are shut: rim on rim, and nowhere else."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.findings.finding import Finding, Place
from scadgen.findings.on_motion import ROUNDING, SEARCHED
from scadgen.motion.contact import overlap
from scadgen.motion.meeting import CONTACT, closing

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.product.fitting import Fitted
    from scadgen.product.joints import MergedTurn

    Array = np.ndarray[Any, Any]

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


@dataclass(frozen=True)
class _Shut:
    """Two bodies that lie on each other, seen so that the plane in which they do is level.

    fixed, there: both of them, mm, the moving one where it is shut. rim: height of the plane, mm.
    back: the motion to a good way before, and home: what carries a place back to where it is.
    where: how a sentence names the plane.
    """

    fixed: Manifold
    there: Manifold
    rim: float
    back: Array
    home: Array
    where: str


def shut(fitted: Fitted, turn: MergedTurn, whole: Mechanism) -> Iterator[Finding]:
    """Findings on two bodies that close; none for others.

    The contact that is meant is in the plane of the fixed body's rim, or, of bodies on edge, in
    that of the axis. There they must touch, and hover nowhere; elsewhere they must keep the
    clearance.
    """
    if not fitted.joint.closes or turn.asked is None:
        return
    end = turn.asked[1]
    seen, told = _seen(fitted, turn, whole, end), end + turn.printed_at
    yield _on_the_rim(seen, turn, told)
    yield _elsewhere(seen, turn, told)


def _seen(fitted: Fitted, turn: MergedTurn, whole: Mechanism, end: float) -> _Shut:
    """Both bodies shut; those on edge laid down, the plane of the axis level, the fixed one low."""
    import numpy as np

    fixed, moving = (whole.body(name).solid for name in turn.pair)
    fixed, there = turn.stiff(fixed, whole), turn.moved(moving, end)
    back = turn.about.matrix(-BACK)
    if fitted.rim is not None:
        where = f"the rim at {fitted.rim.value:g} mm"
        return _Shut(fixed, there, fitted.rim.value, back, np.eye(4)[:3], where)
    axis = np.array(turn.about.unit)
    heading = math.radians(turn.heading)
    way = np.array([math.cos(heading), math.sin(heading), 0.0])
    first = np.cross(axis, way)  # the way that the moving body turns first
    up = first / np.linalg.norm(first)
    rotation = np.array([np.cross(axis, up), axis, up])
    laid = np.column_stack([rotation, np.zeros(3)])
    home = np.column_stack([rotation.T, np.zeros(3)])
    turned = np.column_stack([rotation @ back[:, :3] @ rotation.T, rotation @ back[:, 3]])
    rim = float(rotation[2] @ np.array(turn.about.origin))
    return _Shut(
        fixed.transform(laid), there.transform(laid), rim, turned, home, "the plane of the axis"
    )


def _on_the_rim(seen: _Shut, turn: MergedTurn, end: float) -> Finding:
    found = closing(seen.fixed, seen.there, seen.back)
    shared = overlap(seen.fixed, seen.there)
    name = f"shut at {end:g} deg"
    if found is None or not found.contact:
        hovers = f"{found.gap:.2f} mm over it" if found else f"more than {SEARCHED:g} mm from it"
        words = f"{seen.where} is not touched: {turn.moving} hovers {hovers}."
        change = "heights that are together twice the axis'; on edge, faces in its plane"
        return Finding(name, False, words, change=change)
    facing = _across(seen.fixed, seen.there, seen.rim)
    words = (
        f"{found.contact:.0f} mm2 touch (within {CONTACT:g} mm), where about {facing:.0f} mm2 look "
        f"at each other across {seen.where}"
        f"{f'; {shared:.3f} mm3 overlap' if shared > SHARED else ''}."
    )
    good = found.contact >= LIES * facing and shared <= SHARED
    x, y, z = seen.home[:, :3] @ found.middle
    return Finding(name, good, words, place=Place((float(x), float(y), float(z)), end))


def _across(fixed: Manifold, there: Manifold, rim: float) -> float:
    """Area where one body stands right over the other, as seen from above, mm2."""
    return float((fixed.slice(rim - LOOK) ^ there.slice(rim + LOOK)).area())


def _elsewhere(seen: _Shut, turn: MergedTurn, end: float) -> Finding:
    """Both bodies without a slab around the rim's plane, as thick as the clearance each way."""
    from manifold3d import Manifold

    clearance = turn.clearance or 0.0
    slab = Manifold.cube((2 * ENDLESS, 2 * ENDLESS, 2 * clearance), True)
    slab = slab.translate((0, 0, seen.rim))
    gap = float((seen.fixed - slab).min_gap(seen.there - slab, SEARCHED))
    more = " or more" if gap >= SEARCHED else ""
    plane = "the rim's plane" if seen.where.startswith("the rim") else seen.where
    words = (
        f"{gap:.3f} mm{more} between them, further than {clearance:g} mm from {plane}; "
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
