"""An arm: the short bar by which a leaf holds a knuckle, a ring or an ear.

``height`` is its side along the axis, ``thickness`` that across the leaf; mm, N mm, MPa. All stress
runs from the leaf to the axis, in the layers of a hinge that stands and of one that lies; twisting
shears layers against each other.

Source: beam theory of a rectangle; torsion: R. J. Roark's closed form, see below; von Mises. An arm
is shorter than beam theory asks for: both its ends are held, which only makes it stronger.
"""

from __future__ import annotations

from scadgen.strength.anyform import Value, maximum, minimum, sqrt


def bending(
    sideways: Value,
    upright: Value,
    pulled: Value,
    height: Value,
    thickness: Value,
    corner: Value = 1,
) -> Value:
    """Greatest bending stress at the root of an arm, under three moments.

    ``sideways`` bends it across its thickness and ``upright`` along its height: both come from one
    force of unknown direction, so they are never both whole. ``pulled`` comes from a force along
    the axis at the same time, and bends along the height. ``corner``: factor of the corners that
    its upper and lower side make with leaf and knuckle, see :mod:`scadgen.strength.notch`.
    """
    flat = sideways / (height * thickness * thickness)
    edge = corner * upright / (thickness * height * height)
    return 6 * (sqrt(flat * flat + edge * edge) + corner * pulled / (thickness * height * height))


def twisting(torque: Value, side: Value, other: Value) -> Value:
    """Greatest shear stress in a bar under a torque; its sides in either order.

    3 T/(8 a b2) (1 + 0.6095 q + 0.8865 q2 - 1.8023 q3 + 0.9100 q4), half sides a >= b, q = b/a.
    Source: Roark's Formulas for Stress and Strain, 7th ed. 2002, table 10.1 (from memory, within
    0.3 % of the series in :mod:`scadgen.strength.torsion`).
    """
    a, b = maximum(side, other) / 2, minimum(side, other) / 2
    q = b / a
    shape = 1 + q * (0.6095 + q * (0.8865 + q * (-1.8023 + q * 0.9100)))
    return 3 * torque * shape / (8 * a * b * b)


def turned_end(force: Value, length: Value) -> Value:
    """Moment at the end of an arm that a stiff shaft keeps level while a force lifts it: F l/2.

    Source: beam theory, a bar whose ends stay parallel. A shaft that gives way is turned by less.
    """
    return force * length / 2


def torsion_constant(side: Value, other: Value) -> Value:
    """Torsion constant J (mm4) of a bar; its sides in either order.

    a b3 (16/3 - 3.36 q (1 - q4/12)), half sides a >= b, q = b/a.
    Source: Roark's Formulas for Stress and Strain, 7th ed. 2002, table 10.1 (from memory, within
    0.5 % of the series in :mod:`scadgen.strength.torsion`).
    """
    a, b = maximum(side, other) / 2, minimum(side, other) / 2
    q = b / a
    return a * b * b * b * (16 / 3 - 3.36 * q * (1 - q * q * q * q / 12))


def tilted(
    bent: Value,
    sheared: Value,
    moment: Value,
    height: Value,
    thickness: Value,
    weakness: Value,
    corner: Value = 1,
) -> Value:
    """Stress at the root of an arm under what :func:`together` takes and a moment beside it (N mm).

    The moment tilts the bearing about a line square to the axis: as the hinge turns, it bends the
    arm along its height, or twists it. The worse of both.
    """
    along = 6 * corner * moment / (thickness * height * height)
    around = twisting(moment, height, thickness)
    return maximum(
        together(bent + along, sheared, weakness), together(bent, sheared + around, weakness)
    )


def together(tension: Value, shear: Value, weakness: Value) -> Value:
    """Stress that counts where both act at one place: the root of s2 + 3 (weakness tau)2.

    ``weakness``: strength in the layers over that across them, 1 or more. Von Mises with a weaker
    shear between layers: a model, assumed.
    """
    sheared = weakness * shear
    return sqrt(tension * tension + 3 * sheared * sheared)
