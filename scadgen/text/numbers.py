"""Numbers as a person reads them in a message."""

from __future__ import annotations

from scadgen.trees.to_scad import number


def shown(value: object) -> str:
    """A number as OpenSCAD's ``str()`` shows it (six digits); anything else as Python does."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return f"{value + 0:.6g}"  # a zero without its sign
    return repr(value)


def digits(value: float, places: int = 2) -> str:
    """A number as a person reads it: no more decimals than asked, no useless zeros."""
    return number(round(float(value), places) + 0.0)
