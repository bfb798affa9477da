"""Whether a family tells what a curve is drawn of; where it does not, pages say so instead."""

from __future__ import annotations

from collections.abc import Callable

from scadgen.gallery.deciding import decides
from scadgen.gallery.strength_sweep import sweeps
from scadgen.hinge.family import Hinge, definition


def _fleet(cls: type[Hinge]) -> bool:
    """Whether what sets its fit changes on how many printers it works: else its curve is flat."""
    declared = definition(cls)
    return bool(declared.gaps or declared.grips or declared.webs) and decides(cls)


def _strength(cls: type[Hinge]) -> bool:
    """Whether it tells of a strength that changes with one of its sizes."""
    return any(found.factors or found.strains or found.efforts for found in sweeps(cls))


#: By the label of the curve's link.
TOLD: dict[str, Callable[[type[Hinge]], bool]] = {"Fleet": _fleet, "Strength": _strength}
