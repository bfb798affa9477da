"""Findings on solids, wherever they come from: measures held against what is asked of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.findings.on_hold import holding as holding
from scadgen.findings.on_printing import Tell as Tell
from scadgen.findings.on_printing import printing as printing

if TYPE_CHECKING:
    from scadgen.motion.rest import Body, Rest
    from scadgen.motion.swing import Swing

__all__ = (
    "Tell",
    "free_turn",
    "gap_at_rest",
    "gap_on_the_way",
    "holding",
    "printing",
    "sound",
)

#: How far a gap may fall short of the clearance, mm: rounding of coordinates, no allowance.
ROUNDING = 1e-4
#: How closely a stop must come to the end of the swing that is asked, degrees.
REACHED = 0.05


def sound(name: str, found: Body) -> Finding:
    """Whether a body is one closed piece."""
    tight = "watertight" if found.watertight else "not watertight"
    pieces = f"{found.pieces} piece{'s' * (found.pieces != 1)}"
    words = f"{pieces}, {found.voids} closed hollows, {tight}, {found.volume:.0f} mm3."
    return Finding(name, found.pieces == 1 and found.voids == 0 and found.watertight, words)


def gap_at_rest(still: Rest, clearance: float) -> Finding:
    """Whether two bodies stand as far apart as the clearance (mm)."""
    return Finding(
        "gap at rest",
        still.overlap == 0 and still.gap >= clearance - ROUNDING,
        f"{still.gap:.3f} mm at rest; the clearance is {clearance:g} mm.",
        measured=still.gap,
        needed=clearance,
        unit="mm",
    )


def free_turn(turn: Swing, low: float, high: float) -> Finding:
    """Whether a body turns freely from ``low`` to ``high`` (degrees)."""
    return Finding(
        "swing",
        turn.low <= low + REACHED and turn.high >= high - REACHED,
        f"free from {turn.low:.1f} to {turn.high:.1f} deg; {low:g} to {high:g} deg are asked.",
        measured=min(low - turn.low, turn.high - high),
        needed=0.0,
        unit="deg",
    )


def gap_on_the_way(turn: Swing, clearance: float) -> Finding:
    """Whether two bodies stay as far apart as the clearance (mm) while one turns."""
    return Finding(
        "gap on the way",
        turn.gap >= clearance - ROUNDING,
        f"{turn.gap:.3f} mm at {turn.gap_at:.0f} deg; the clearance is {clearance:g} mm.",
        measured=turn.gap,
        needed=clearance,
        unit="mm",
    )
