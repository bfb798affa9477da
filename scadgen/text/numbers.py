"""Numbers as a person reads them in a message."""

from __future__ import annotations


def shown(value: object) -> str:
    """A number as OpenSCAD's ``str()`` shows it (six digits); anything else as Python does."""
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        return f"{value + 0:.6g}"  # a zero without its sign
    return repr(value)
