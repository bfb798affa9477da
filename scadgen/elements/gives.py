"""How far both links of a bearing give way, held against what that takes: as findings.

Lengths in mm. What a maker's part gives way, and a leaf beyond its root, is not in it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding

if TYPE_CHECKING:
    from scadgen.elements.judged import Asked
    from scadgen.elements.turning import Cut, Load


def gives_way(cuts: Sequence[Cut], load: Load, asked: Asked) -> float:
    """How far both links together give way at the bearing, with what two sizes of cubes differ."""
    coarse, fine = (cut.gives_way(load) for cut in cuts)
    return (fine + abs(fine - coarse)) / asked.stiff


def give(
    title: str, cuts: Sequence[Cut], load: Load, asked: Asked, clearance: float | None
) -> Finding:
    """How far the links give way, held against the grip that must be left and the clearance."""
    most, grip = gives_way(cuts, load, asked), asked.grip
    against = [] if clearance is None else [f"the clearance is {clearance:.2g} mm"]
    if grip is not None:
        against.append(f"the grip that is left after all play is {grip:.2g} mm")
    if load.tilt:
        against.append("how far it tilts is not in it")
    words = "; ".join((f"both links together give way by {most:.3f} mm", *against))
    elsewhere = clearance is not None and most > clearance
    return Finding(
        title,
        grip is None or most * asked.margin <= grip,
        f"{words}.",
        measured=None if grip is None else most * asked.margin,
        needed=grip,
        unit="mm",
        at_least=False,
        change="" if grip is None else "thicken what holds the bearing, or deepen the grip",
        leaves_open="is more than the clearance: the links bear elsewhere, too"
        if elsewhere
        else "",
    )


def past_stop(
    title: str, cuts: Sequence[Cut], load: Load, asked: Asked, clearance: float
) -> Finding:
    """How far past its stop a moving link turns that pries at a bearing, which gives way.

    It turns about where it leans; its far end comes so much nearer to what stands beyond the stop,
    from which it keeps the clearance.
    """
    assert asked.leans is not None
    heel, end = asked.leans
    turned = gives_way(cuts, replace(load, along=0.0), asked) / heel
    way = turned * (end - heel)
    return Finding(
        title,
        way * asked.margin <= clearance,
        f"it leans {heel:.3g} mm from the axis, and as the bearing gives way it turns"
        f" {math.degrees(turned):.2g} degrees further: its end, {end:.3g} mm from the axis, by"
        f" {way:.3f} mm; it keeps {clearance:.2g} mm from what stands there. What leaves bend by"
        " beyond their roots is not in it.",
        measured=way * asked.margin,
        needed=clearance,
        unit="mm",
        at_least=False,
        change="thicken what holds the bearing, or have it lean further out",
    )
