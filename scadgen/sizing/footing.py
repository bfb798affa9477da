"""A sized hinge that stands tall stands on enough, too: its foot grows until its proof passes.

What a foot bears is found on the solid, so it is no part of what candidates are sorted by.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

import numpy as np

from scadgen.hinge.family import Hinge, bounds
from scadgen.proof.heights import usual_heights

if TYPE_CHECKING:
    from scadgen.findings.finding import Finding
    from scadgen.sizing.size import Sized
    from scadgen.sizing.wanted import Refused

    Sizing = Callable[[Mapping[str, float]], Sized | Refused]


def falling(hinge: Hinge) -> Finding | None:
    """The finding that a body of the hinge stands on too little; None where all stand."""
    from scadgen.findings.on_standing import feet
    from scadgen.printing.cuts import Cuts

    pieces = hinge.mechanism().pieces
    made = Cuts(tuple(piece.solid for piece in pieces))
    found = feet(made, usual_heights(hinge.layer), lambda place: pieces[place].said)
    return next((one for one in found if not one.passed), None)


def on_its_feet(found: Sized, given: Mapping[str, float], again: Sizing) -> Sized | Refused:
    """What was found, or what is found with the least of its ``broadens`` on which it stands.

    ``again`` sizes once more with more fields given. Refused where none is enough, or where that
    field is given already. A wider foot is taken to bear more.
    """
    from scadgen.sizing.wanted import Refused

    cls = type(found.hinge)
    name = cls.broadens
    if not name or not (fallen := falling(found.hinge)):
        return found
    limits = bounds(cls)[name]
    refused = Refused(cls.family, f"{fallen.name}: {fallen.words}", _help(fallen))
    if name in given:
        return refused
    first = float(getattr(found.hinge, name))
    steps = np.arange(1, round((limits.high - first) / limits.step) + 1)
    values = [limits.on_step(first + step * limits.step) for step in steps]
    best: Sized | None = None
    low, high = 0, len(values)
    while low < high:
        middle = (low + high) // 2 if best else min(2 * low + 1, high - 1)
        wider = again({name: values[middle]})
        if isinstance(wider, Refused) or falling(wider.hinge):
            low = middle + 1
        else:
            best, high = wider, middle
    return best or refused


def _help(fallen: Finding) -> str:
    change = fallen.change
    return f"It would take {change}." if change else ""
