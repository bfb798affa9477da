"""What a maker must know of a hinge to build around it; in OpenSCAD a function tells it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, eq=False)
class Export:
    """A value that a function of the module's file tells: FAMILY_size(NAME, ...).

    ``value`` is an expression of the fields; ``meaning`` a sentence without its full stop, with
    the unit in brackets. The function takes the parameters of the module, and its automatic values.
    """

    name: str
    value: float
    meaning: str
