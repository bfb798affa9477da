"""A rod in loops: two side loops hold it, the middle loop pulls at it.

``force`` in all (N), ``rod`` diameter, ``middle`` width of the middle loop, ``gap`` between loops,
all mm, above 0 (``gap`` from 0). Moments in N mm, stresses in MPa. Linear, small clearance.
The usual ratios of allowable stresses for steel do not carry over. A rod printed lying down has its
layers along its axis (good in bending, weak in splitting); printed upright it breaks in a layer.

Sources: stresses: J. E. Shigley, R. G. Budynas, J. K. Nisbett, Mechanical Engineering Design,
9th-10th ed., problem 3-40 (looked up; answers from memory); rod built in: H. Wittel et al.,
Roloff/Matek Maschinenelemente, chapter on bolts and pins (from memory). The gap is added by
statics and was confirmed by integrating the load.
"""

from __future__ import annotations

import math

from scadgen.strength.anyform import Value

#: Greatest over mean shear stress in a round section.
ROUND_PEAK = 4 / 3


def moment_held_at_sides(force: Value, middle: Value, gap: Value = 0) -> Value:
    """Greatest moment in a rod that is one with its side loops: F (b + 2c)/8."""
    return force * (middle + 2 * gap) / 8


def moment_between(force: Value, near: Value, far: Value) -> Value:
    """Moment where a force loads a rod between two supports that may turn: F a b/(a + b).

    Source: beam theory. The supports' own grip is left out, on the safe side.
    """
    return force * near * far / (near + far)


def moment_beyond(moment: Value, near: Value, far: Value) -> Value:
    """What a moment M that turns a rod leaves of itself beyond it: M b/(a + b).

    ``near``, ``far``: from where a pair of forces ends by which it enters to either support, which
    may turn. Source: beam theory.
    """
    return moment * far / (near + far)


def bending_stress(moment: Value, rod: Value) -> Value:
    """Bending stress in a round rod: 32 M/(pi d3)."""
    return 32 * moment / (math.pi * rod * rod * rod)


#: What the narrow flat under a rod, an octagon's side, leaves of a full circle's section modulus.
#: Derived: integrated over the outline.
FLAT_LEAVES = 0.932


def flat_bending_stress(moment: Value, rod: Value) -> Value:
    """Bending stress in a rod that is an octagon below: that of the full circle over 0.932."""
    return bending_stress(moment, rod) / FLAT_LEAVES


def tension(force: Value, rod: Value) -> Value:
    """Stress in a rod that is pulled along its axis: 4 F/(pi d2)."""
    return 4 * force / (math.pi * rod * rod)


def double_shear(force: Value, rod: Value) -> Value:
    """Mean shear stress in a rod that two sections hold: F/(2 A). Greatest: 4/3 of it."""
    return 2 * force / (math.pi * rod * rod)


def bearing(force: Value, rod: Value, width: Value) -> Value:
    """Pressure between a rod and a loop of a width: F/(d b)."""
    return force / (rod * width)
