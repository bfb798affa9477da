"""A finding on a relief: what is left between its side's body and the other side."""

from __future__ import annotations

from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.findings.on_motion import ROUNDING
from scadgen.text.numbers import shown

if TYPE_CHECKING:
    from scadgen.motion.relief import Left

#: What to do where a relief falls short; its rooms are the family's own.
ROOM = "Cut more off your own body there: the relief itself falls short, so tell us, with the job."


def relieved(name: str, left: Left, clearance: float) -> Finding:
    """Whether a relief leaves the clearance (mm) around the other side, all the way."""
    passed = left.gap >= clearance - ROUNDING
    where = ""
    if left.place:
        x, y, z = (shown(round(value, 1)) for value in left.place)
        where = f", near x = {x}, y = {y}, z = {z} mm"
    left_at = f"{left.gap:.3f} mm left at {left.angle:.1f} deg"
    return Finding(
        name,
        passed,
        f"{left_at}{where}; the clearance is {clearance:g} mm.",
        measured=left.gap,
        needed=clearance,
        unit="mm",
        change="" if passed else ROOM,
    )
