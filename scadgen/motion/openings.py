"""Gaps between edges that turn away from each other: where a finger may be caught."""

from __future__ import annotations

from typing import Any

from scadgen.strength.anyform import cos, sin


def edge_gap(reach: float, face: float, degrees: Any) -> Any:
    """Distance (mm) of two leaves' edges that lie ``reach`` from the axis, at a turn in degrees.

    ``face``: from the axis to the edges, square to the leaves, towards the side that closes. The
    edges mirror each other in a plane through the axis, half-way between the leaves (derived).
    """
    import numpy as np

    half = np.asarray(degrees, float) / 2
    return 2 * np.maximum(reach * cos(half) - face * sin(half), 0)
