"""Findings on solids, wherever they come from: measures held against what is asked of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from .finding import Finding
from .holding import holding as holding
from .layers import layers

if TYPE_CHECKING:
    from manifold3d import Manifold

    from .rest import Body, Rest
    from .swing import Swing

Tell = Callable[[str], None]

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


def printing(
    bodies: Sequence[Manifold], heights: Sequence[float], longest_bridge: float, tell: Tell
) -> Iterator[Finding]:
    """Whether bodies print in layers of each of the heights (mm) with bridges up to so long."""
    for height in heights:
        tell(f"layers of {height:g} mm")
        cut = layers(bodies, height)
        hanging = f"{cut.droop:.2f} mm2 droop, {cut.islands} islands"
        spans = f"bridges up to {cut.span:.1f} of {longest_bridge:g} mm"
        fused = f"{cut.fused:.2f} mm2 fused"
        yield Finding(
            f"layers of {height:g} mm",
            cut.droop == 0 and cut.fused == 0 and cut.span <= longest_bridge and min(cut.bed) > 0,
            f"{hanging}; {spans}; {fused}; {min(cut.bed):.0f} mm2 or more of each body on the bed.",
        )
