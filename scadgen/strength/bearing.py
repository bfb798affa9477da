"""Whether a place of a hinge bears its duty, and which plastics do."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from scadgen.strength.asked import unanswered

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic
    from scadgen.strength.place import Strength

#: A factor short by no more than this is rounding.
GRAIN = 1e-9


def needed(strength: Strength, duty: Duty) -> float:
    """The factor that the duty asks of a place: its margin, or 1 of a limit."""
    return 1.0 if strength.limit else duty.margin


def borne(strength: Strength, duty: Duty) -> Any:
    """Whether the place bears the duty with its margin; a truth value, or an array of them.

    Nothing is decided on a caution: it counts as borne.
    """
    enough = strength.factor >= needed(strength, duty) - GRAIN
    return enough | strength.caution


def bears(hinge: Hinge, duty: Duty, plastic: Plastic) -> bool:
    """Whether one hinge, printed in the plastic, answers all that is asked, and bears it."""
    told = not any(unanswered(type(hinge), duty, plastic))
    return told and all(bool(borne(s, duty)) for s in hinge.strengths(duty, plastic))


def weakest_first(strengths: Iterable[Strength], duty: Duty) -> list[Strength]:
    """The places of one hinge by how much of what is asked they bear, the least first.

    Cautions, on which nothing is decided, come last.
    """
    return sorted(strengths, key=lambda s: (s.caution, float(s.factor) / needed(s, duty)))
