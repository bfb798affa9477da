"""How far the parts of a bearing give way under a load: what a grip loses by it.

mm, N, N mm, MPa; ``modulus`` of elasticity, take its weak (low) end. Elastic, small. What a maker's
part gives way, to which the leaves are joined, is not in it.

Sources: S. P. Timoshenko, beam theory with shear (a cantilever); torsion as in
:mod:`scadgen.strength.torsion`; Roark's Formulas for Stress and Strain, ring case 1 (from memory);
Lame's thick cylinder.
"""

from __future__ import annotations

import math

from scadgen.strength.anyform import Value
from scadgen.strength.arm import torsion_constant

#: Shear factor of a rectangle, 6/5, over G = E/2.8 (a Poisson's ratio of 0.4, assumed).
_SHEAR = 1.2 * 2.8
#: Change of a thin ring's diameter along a pull across it, over F R3/(E I): pi/4 - 2/pi.
_RING = math.pi / 4 - 2 / math.pi


def bar_end(force: Value, length: Value, side: Value, other: Value, modulus: Value) -> Value:
    """How far the end of a bar gives way that is held at its root: F l3/(3 E I) + 1.2 F l/(G A).

    ``side`` of its section along the force, ``other`` across it.
    """
    bent = 4 * length * length * length / (other * side * side * side)
    sheared = _SHEAR * length / (side * other)
    return force * (bent + sheared) / modulus


def bar_twist(torque: Value, length: Value, side: Value, other: Value, modulus: Value) -> Value:
    """Angle (rad) by which a torque twists a bar, G = E/2.8."""
    return 2.8 * torque * length / (modulus * torsion_constant(side, other))


def bore_opens(pull: Value, outer: Value, bore: Value, height: Value, modulus: Value) -> Value:
    """How far a bore's radius grows, in which a cone of 45 degrees is pulled along the axis.

    Lame's ring under the cone's push as a pressure over a height: p r/E ((D2 + d2)/(D2 - d2) + nu).
    """
    pressure = pull / (math.pi * bore * height)
    ratio = (outer * outer + bore * bore) / (outer * outer - bore * bore)
    return pressure * bore / 2 / modulus * (ratio + 0.4)


def ring_stretches(force: Value, outer: Value, bore: Value, width: Value, modulus: Value) -> Value:
    """How far a ring gives way that a force pulls across a diameter: 0.149 F R3/(E I)."""
    radius, wall = (outer + bore) / 4, (outer - bore) / 2
    inertia = width * wall * wall * wall / 12
    return _RING * force * radius * radius * radius / (modulus * inertia)


def rod_sags(force: Value, span: Value, rod: Value, modulus: Value) -> Value:
    """How far a round rod gives way in the middle, held at both ends: F l3/(192 E I).

    Source: beam theory, built in at both ends.
    """
    inertia = math.pi / 64 * rod * rod * rod * rod
    return force * span * span * span / (192 * modulus * inertia)
