"""Gaps that open and close as leaves turn, and whether a finger can be caught in one.

The rule: a gap that lets a thin rod in must let a thick one in too, in every position; so it stays
below the one, or at or above the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.hinge.kinds.flexure import Flexure
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.strength.anyform import cos, sin

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge

#: Positions of a pivot that are looked at; of a flexure, whose solids are measured.
_TURNS, _BENDS = 361, 13


@dataclass(frozen=True)
class GapRule:
    """Rods of a test (mm): where the ``thin`` one enters, the ``thick`` one must; its source."""

    name: str
    thin: float
    thick: float
    source: str


RULES = (
    GapRule("EN 71-1 and ISO 8124-1, hinge line", 5.0, 12.0, "a test-rod maker's procedure"),
    GapRule("ASTM F963, 4.18.1", 4.76, 12.7, "looked up: rods of 3/16 in and 1/2 in"),
)


@dataclass(frozen=True)
class Opening:
    """A gap between the leaves, as ``low`` to ``high`` (mm) over the whole turn."""

    low: float
    high: float

    def catches(self, rule: GapRule) -> bool:
        """Whether some position lets the thin rod in but not the thick one."""
        return self.high >= rule.thin and self.low < rule.thick

    @property
    def caught(self) -> bool:
        """Whether any of the rules finds it dangerous."""
        return any(self.catches(rule) for rule in RULES)


def openings(hinge: Hinge) -> tuple[Opening, ...]:
    """The gaps between the leaves' near edges, over the whole turn; none for an unknown kind.

    Knuckles stand in a part of a pivot's gaps; that is left out, on the safe side. A flexure's are
    measured between its borders, up to just above the thick rods.
    """
    import numpy as np

    low, high = hinge.lowest(), hinge.swing
    if isinstance(hinge, Pivot):
        angles = np.linspace(low, high, _TURNS)
        faces = (hinge.face, hinge.face - hinge.leaf_thickness)
        every = [edge_gap(hinge.reach, face, angles) for face in faces]
    elif isinstance(hinge, Flexure):
        every = [_borders_apart(hinge, np.linspace(low, high, _BENDS))]
    else:
        every = []
    return tuple(Opening(float(np.min(gaps)), float(np.max(gaps))) for gaps in every)


def edge_gap(reach: float, face: float, degrees: Any) -> Any:
    """Distance (mm) of two leaves' edges that lie ``reach`` from the axis, at a turn in degrees.

    ``face``: from the axis to the edges, square to the leaves, towards the side that closes. The
    edges mirror each other in a plane through the axis, half-way between the leaves (derived).
    """
    import numpy as np

    half = np.asarray(degrees, float) / 2
    return 2 * np.maximum(reach * cos(half) - face * sin(half), 0)


def _borders_apart(hinge: Flexure, angles: Any) -> list[float]:
    from scadgen.hinge.meshing import mesh

    search = max(rule.thick for rule in RULES) + 1
    fixed = mesh(hinge, "fixed", 0)
    return [float(fixed.min_gap(mesh(hinge, "moving", float(a)), search)) for a in angles]
