"""A sheet folded double and pressed between two parallel plates: no circle, but an elastica.

mm, N, MPa; strain as a fraction. Frictionless plates; ``distance`` is that between the plates, and
between the middle surfaces it is less by the thickness. The fold needs 2.188 of that as free
length; a shorter web clamped to stiff leaves bends otherwise. Pressing a fold flat costs 20 % more
strain than the circle of the same width.

Source: closed form, confirmed by shooting (derived). Published use: M. J. Matthewson, C. R.
Kurkjian, S. T. Gulati, J. Am. Ceram. Soc. 69 (1986) 815 (looked up; its 1.198 from memory).
"""

from __future__ import annotations

import math

from scadgen.strength.anyform import Value

#: Half the greatest curvature times the distance of the middles: integral of sqrt(cos) to 90 deg.
SHARPEST = (2 * math.pi) ** 1.5 / math.gamma(0.25) ** 2


def folded_strain(thickness: Value, distance: Value) -> Value:
    """Outer strain of a sheet (mm) folded between plates (mm, above the thickness)."""
    return SHARPEST * thickness / (distance - thickness)


def pressed_flat(thickness: Value, heel: Value) -> Value:
    """Outer strain of a web (mm) whose leaves are pressed on each other, ``heel`` from its middle.

    Of a web that is longer than a half circle and shorter than the free fold it is an upper bound.
    """
    return folded_strain(thickness, 2 * heel + thickness)
