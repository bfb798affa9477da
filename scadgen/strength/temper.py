"""What a maker says of a plastic before any sum: brittle, tough or soft.

The limits are judgements (common practice, no source); the figures are those of the plastic.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from scadgen.strength.materials import Use

if TYPE_CHECKING:
    from scadgen.strength.materials import Plastic

#: Strain at break (%), along the layers or across them, whichever says less for a solid of both,
#: below which a plastic snaps, and from which on it gives.
SNAPS, GIVES = 4.0, 20.0
#: Modulus (MPa) of what is as soft as rubber, and of what keeps its shape in a bearing.
RUBBERY, STIFF = 30.0, 1000.0
#: Strain at break (%) from which on a thin web tears by stretching instead of snapping, and up to
#: which it snaps clean.
STRETCHES, CLEAN = 150.0, 40.0


def share(value: Any, nothing: float, all_of_it: float) -> Any:
    """Where a value above 0 lies between two others on a logarithmic scale, 0 to 1."""
    import numpy as np

    with np.errstate(divide="ignore"):
        way = np.log(np.asarray(value) / nothing) / math.log(all_of_it / nothing)
    return np.clip(way, 0.0, 1.0)


def toughness(plastic: Plastic) -> float:
    """From 0, it snaps, to 1: it gives before it breaks. By the middle of what was measured."""
    middle = math.sqrt(plastic.break_strain.low * plastic.break_strain.high)
    return float(share(middle, SNAPS, GIVES))


def stiffness(plastic: Plastic) -> float:
    """From 0, like rubber, to 1: it keeps its shape in a bearing."""
    return float(share(plastic.weak_end("modulus", Use.CARRY), RUBBERY, STIFF))


def snapping(plastic: Plastic) -> float:
    """From 0, a web tears by stretching, to 1: it snaps clean."""
    return float(share(plastic.break_strain.low, STRETCHES, CLEAN))


def temper(plastic: Plastic) -> str:
    """The plastic in a word."""
    if stiffness(plastic) < 0.5:
        return "soft"
    return "brittle" if toughness(plastic) < 0.5 else "tough"
