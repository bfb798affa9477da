"""Numbers as a person reads them in a message."""

from __future__ import annotations

import math

from scadgen.trees.to_scad import number

#: From here on a whole number is told by its power of ten.
_LONG = 1e15


def shown(value: object) -> str:
    """A number as OpenSCAD's ``str()`` shows it (six digits); anything else as Python does."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return f"{value + 0:.6g}"  # a zero without its sign
    return repr(value)


def digits(value: float, places: int = 2) -> str:
    """A number as a person reads it: no more decimals than asked, no useless zeros."""
    return number(round(float(value), places) + 0.0)


def exact(value: float) -> str:
    """A number in as few digits as tell it from all others; a whole one without a point.

    >>> exact(10_000_000.0), exact(0.3), exact(100.0000001)
    ('10000000', '0.3', '100.0000001')
    """
    if math.isfinite(value) and value == int(value) and abs(value) < _LONG:
        return str(int(value))
    return str(float(value))
