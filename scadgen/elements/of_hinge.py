"""A hinge under its duty, in finite elements on its solids."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from scadgen.elements.judged import Asked, Judged, Point, judged
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.strength.place import often

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic


class NotLoaded(ValueError):  # noqa: N818 - says what is wrong
    """A hinge for which finite elements know no load."""


def solved(
    hinge: Hinge, duty: Duty, plastic: Plastic, tell: Callable[[str], None] = lambda _: None
) -> Judged:
    """The links' own shape under the duty, printed in the plastic.

    The moving part leans on its end and pries at the bearing, as the formulas have it; the leaves
    are held beside their roots. Raises NotLoaded for a hinge that does not turn about an axis, or
    where the extra's libraries are missing.
    """
    if why := refusal(hinge):
        raise NotLoaded(why)
    assert isinstance(hinge, Pivot)
    (found,) = judged(hinge.mechanism(), asked_of(hinge, duty, plastic), tell)
    return found


def refusal(hinge: Hinge) -> str:
    """Why the solid of a hinge cannot be loaded; empty where it can."""
    from importlib.util import find_spec

    from scadgen.elements.solver import EXTRA

    if not isinstance(hinge, Pivot):
        return f"{hinge.family}: it has no bearing, which is what is loaded; ask without it."
    missing = [name for name in ("pyamg", "scipy") if find_spec(name) is None]
    return EXTRA if missing else ""


def asked_of(hinge: Pivot, duty: Duty, plastic: Plastic) -> Asked:
    """What a duty asks of the bearing of a pivot."""
    grips = [float(grip.left) for grip in hinge.grips()]
    root = hinge.reach + hinge.leaf_thickness
    return Asked(
        aside=float(hinge.pried(duty)),
        along=float(duty.pull),
        plastic=plastic,
        share=float(often(duty)),
        margin=float(duty.margin),
        hold=float(min(root, (hinge.reach + hinge.leaf_end) / 2)),
        grip=min(grips, default=None),
        places=_places(hinge),
    )


def _places(hinge: Hinge) -> dict[str, list[tuple[str, Point]]]:
    """The places that the family names, and where their sections are, by body."""
    found: dict[str, list[tuple[str, Point]]] = {}
    for carrier in hinge.carriers():
        for cut in carrier.cuts:
            found.setdefault(cut.part, []).append((carrier.place, cut.at))
    return found
