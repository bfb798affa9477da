"""How parts lie on the bed, and which families suit them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from scadgen.hinge.family import Hinge, all_families
from scadgen.sizing.wanted import Refused

Posture = Literal["standing", "lying"]

#: How the part lies on the bed, and how the families that suit it stand on theirs.
POSTURES: Mapping[Posture, tuple[str, ...]] = {
    "standing": ("standing",),
    "lying": ("lying", "flat"),
}
_AXIS: Mapping[Posture, str] = {"standing": "upright", "lying": "parallel to the bed"}


def suits(family: str, posture: Posture) -> bool:
    """Whether a family prints as a part of that posture lies."""
    return all_families()[family].stance() in POSTURES[posture]


def posture_of(cls: type[Hinge]) -> Posture:
    """How a part must lie for the family; lying where it says nothing known, or is still open."""
    if cls is not Hinge:
        for posture, stances in POSTURES.items():
            if cls.stance() in stances:
                return posture
    return "lying"


def wrong_way(family: str, posture: Posture) -> Refused:
    """The refusal of a family that prints another way than the part lies."""
    printed = all_families()[family].posture
    why = f"it prints {printed}; the part has its axis {_AXIS[posture]}."
    return Refused(family, why, "Turn it.")


def other_way(posture: Posture) -> str:
    """How the axis of the turned part is, in words."""
    return _AXIS["lying" if posture == "standing" else "standing"]
