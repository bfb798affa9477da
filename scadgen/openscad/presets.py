"""Presets: ready-made sets of values, as the parameter-set file that OpenSCAD's Customizer reads.

One rule makes them for every family: a set multiplies some of the default lengths by a factor, each
rounded to its slider's step. Where that makes no sound hinge, the nearest that does is taken.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from scadgen.hinge.automatic import given_values
from scadgen.hinge.family import Bounds, Hinge, bounds
from scadgen.hinge.rules import HingeError
from scadgen.keeping.fingerprint import sealed_json
from scadgen.trees.to_scad import number


@dataclass(frozen=True)
class Preset:
    """``factor`` times the default of each length for which ``applies`` to its name and bounds."""

    factor: float
    applies: Callable[[str, Bounds], bool]


def _fit(name: str, limits: Bounds) -> bool:
    """Gaps and grips, and the thickest layer: a close fit takes thin layers."""
    return limits.group == "Fit" or name == "layer"


def _size(_: str, limits: Bounds) -> bool:
    return limits.group in ("Size", "Leaves")


#: Factors are common practice, no source: 0.2, 0.3 and 0.45 mm of air; two thirds and half as large
#: again in size.
PRESETS = {
    "snug": Preset(2 / 3, _fit),
    "standard": Preset(1, _fit),
    "rough printer": Preset(3 / 2, _fit),
    "small": Preset(2 / 3, _size),
    "medium": Preset(1, _size),
    "large": Preset(3 / 2, _size),
}


def preset(cls: type[Hinge], name: str) -> Hinge:
    """The family's hinge of one of the ``PRESETS``. Raises KeyError for any other name."""
    chosen = PRESETS[name]
    given: dict[str, Any] = {
        field: limits.on_step(limits.default * chosen.factor)
        for field, limits in bounds(cls).items()
        if chosen.factor != 1 and limits.unit == "mm" and chosen.applies(field, limits)
    }
    try:
        return cls(**given)
    except HingeError as error:
        return cls(**{**given, **error.works})


def preset_file(cls: type[Hinge]) -> str:
    """The file to put beside the family's Customizer file; OpenSCAD offers the sets in there.

    Each set has every value of the family, so that nothing is left of a set chosen before. The
    first key holds the fingerprint by which an edit is noticed; OpenSCAD passes over it.
    """
    sets = {name: _strings(preset(cls, name)) for name in PRESETS}
    return sealed_json({"parameterSets": sets, "fileFormatVersion": "1"})


def _strings(hinge: Hinge) -> dict[str, str]:
    return {f"{hinge.family}_{name}": number(value) for name, value in given_values(hinge).items()}
