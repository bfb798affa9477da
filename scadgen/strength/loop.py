"""A loop that a rod pulls at.

``outer`` and ``bore`` diameters, ``width`` along the axis (mm, the outer above the bore); ``force``
in N, stresses in MPa. Where the pull crosses layers take the strength across them: a loop that
lies has layers square to the pull somewhere around it.

Sources: failure modes (shear in two planes, bearing, hoop): a public page on lugs, MechaniCalc,
"Lug Analysis" (looked up); the ring: see below; Lame's cylinder.
"""

from __future__ import annotations

import math
from typing import Any

from scadgen.strength.anyform import Value


def edge(outer: Value, bore: Value) -> Value:
    """Length (mm) of a shear plane from bore to rim, the short way: (D - d)/2, on the safe side."""
    return (outer - bore) / 2


def tear_out(force: Value, edge: Value, width: Value) -> Value:
    """Mean shear stress in the two planes in which a rod tears out: F/(2 b e)."""
    return force / (2 * width * edge)


def thick_ring_stress(force: Any, outer: Any, bore: Any, width: Any) -> Any:
    """Greatest tension in a ring of any wall, pulled across a diameter. Numbers only.

    Either outside at the load, where the ring is bent sharper by F Rn/pi, or in the bore a quarter
    turn on, where it is straightened by F (R/2 - Rn/pi) and pulled by F/2. Rn = wall/ln(outer/bore)
    is the neutral radius, stresses are Winkler's of a curved bar. For a thin wall the first is that
    of a moment F R/pi. A rod that fits presses over an arc, not on a line: over 45 degrees either
    way it strains the ring less than this.

    Source: Roark's Formulas for Stress and Strain, ring case 1 with its factor for thick rings,
    and curved bars of rectangular section (from memory; confirmed by plane finite elements).
    Outer to bore from 1.02 to 2.5.
    """
    import numpy as np

    wall, inside, middle = (outer - bore) / 2, bore / 2, (outer + bore) / 4
    neutral = wall / np.log(outer / bore)
    stiff = width * wall * (middle - neutral)
    at_load = force * neutral / math.pi
    sharper = at_load * (outer / 2 - neutral) / (stiff * outer / 2)
    straightened = (force * middle / 2 - at_load) * (neutral - inside) / (stiff * inside)
    return np.maximum(sharper, straightened + force / (2 * width * wall))


def hoop_at_bore(pressure: Value, outer: Value, bore: Value) -> Value:
    """Hoop tension at the bore of a thick ring under pressure (MPa) from inside (Lame)."""
    return pressure * (outer * outer + bore * bore) / (outer * outer - bore * bore)
