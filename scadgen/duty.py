"""What a hinge has to do and to bear, beyond turning."""

from __future__ import annotations

from dataclasses import dataclass

#: What each value is, for a job's comments.
SENTENCES = {
    "load": "Force on the moving part, square to the axis, in any direction (N)",
    "lever": "From the axis to where that force acts (mm)",
    "pull": "Force along the axis, either way (N)",
    "cycles": "Times that it is opened and closed in its life",
    "margin": "Times stronger than this that it has to be",
}


@dataclass(frozen=True)
class Duty:
    """What the moving part asks of a hinge. The turn is the hinge's own ``swing``.

    load: force on the moving part, square to the axis, in any direction, N, 0 or more.
    lever: from the axis to where that force acts, mm, 0 or more. At the end of its turn the moving
        part leans on a stop, or on the other leaf, and pries at the axis with this lever.
    pull: force along the axis, either way, N, 0 or more.
    cycles: how often it is opened and closed in its life, 1 or more.
    margin: how many times stronger it has to be than the duty asks, 1 or more.

    The usual values: a light lid that a hand opens (assumed).
    """

    load: float = 3.0
    lever: float = 20.0
    pull: float = 5.0
    cycles: float = 1000.0
    margin: float = 1.5
