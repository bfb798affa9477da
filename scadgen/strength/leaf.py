"""Leaves: a plate held at one edge, and screws through it.

mm, N, MPa. Small deflection, up to about a tenth of the length. Across layers take the strength
across them.

Source: beam theory of a rectangle; shear around a head: statics.
"""

from __future__ import annotations

import math

from scadgen.strength.anyform import Value

#: For every page that shows a screw figure.
SCREW_CAUTION = (
    "A screw through printed plastic is a caution, not a rating: plastic creeps under a tight "
    "screw, splits between layers, and the figure leaves both out. Test it with your own load."
)


def bending_stress(force: Value, length: Value, width: Value, thickness: Value) -> Value:
    """Stress at the root of a leaf loaded at its far edge: 6 F L/(b t2)."""
    return 6 * force * length / (width * thickness * thickness)


def root_stress(moment: Value, width: Value, thickness: Value) -> Value:
    """Stress at the root of a leaf under a moment (N mm): 6 M/(b t2)."""
    return 6 * moment / (width * thickness * thickness)


def edgewise_stress(moment: Value, width: Value, left: Value, thickness: Value) -> Value:
    """Stress under a moment (N mm) in the plane of the leaf: 6 M/(t b l).

    ``left`` is what holes leave of the width: those in a row take as much of the modulus (assumed).
    """
    return 6 * moment / (thickness * width * left)


def pull_through_shear(force: Value, head: Value, thickness: Value) -> Value:
    """Mean shear stress around a screw head that pulls through a leaf: F/(pi D t). A caution."""
    return force / (math.pi * head * thickness)
