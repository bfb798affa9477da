"""Heights of printed layers: the usual ones, and what one may be."""

from __future__ import annotations

import math
from collections.abc import Iterable

from scadgen.hinge.family import Hinge, bounds
from scadgen.printing.lines import TOO_HIGH, thickest_layer
from scadgen.tables.documents import JobError
from scadgen.tables.kinds import Number
from scadgen.tables.limits import Limits, is_number
from scadgen.text.numbers import shown

LAYER_HEIGHTS = (0.1, 0.2, 0.3)
#: What one printed layer may be; a job lists several, and the thickest is the hinge's own.
LAYER = bounds(Hinge)["layer"]
#: What the width of a printed line may be.
LINE = bounds(Hinge)["line_width"]
#: A height that is missed by less, mm, is met: rounding.
ROUNDING = 1e-6


def usual_heights(thickest: float) -> list[float]:
    """The usual heights (mm) of layers that are thinner than the thickest, and that one."""
    return [*(height for height in LAYER_HEIGHTS if height < thickest), thickest]


def layer_height(key: str, value: object, line_width: float = LINE.high) -> float:
    """One layer height, mm. Raises JobError, naming ``key``, for what is none.

    The height that it offers is one that lines so wide (mm) print.
    """
    if is_number(value) and LAYER.accepts(value):
        return float(value)
    most = min(LAYER.high, highest_step(line_width))
    return Number(Limits(LAYER.unit, LAYER.low, most, LAYER.default)).read(key, value)


def highest_step(line_width: float) -> float:
    """The highest layer, mm, in the steps of its slider, that lines so wide (mm) print."""
    steps = math.floor((thickest_layer(line_width) + ROUNDING) / LAYER.step)
    return round(steps * LAYER.step, 6)


def line_of(key: str, value: object) -> float:
    """One line width, mm. Raises JobError, naming ``key``, for what is none."""
    return Number(LINE).read(key, value)


def refuse_too_high(key: str, heights: Iterable[float], line_width: float) -> None:
    """Raise JobError, naming ``key``, for the first height (mm) that lines so wide do not print."""
    for height in heights:
        if height > thickest_layer(line_width) + ROUNDING:
            works = shown(highest_step(line_width))
            rule = f"with lines of {shown(line_width)} mm it must be at most {works} mm, {TOO_HIGH}"
            raise JobError(f"{key} = {shown(height)} mm; {rule}. This works: {works}.", key)
