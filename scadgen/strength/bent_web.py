"""Bending a thin sheet that was printed flat.

mm, N, MPa, degrees; strain as a fraction. Plane sections, neutral surface at mid thickness (equal
behaviour in tension and compression), pure bending: then the strain formula holds at any ratio of
radius to thickness. Curved-beam formulas do not apply: the sheet starts straight. Above about 10 %
say which strain is meant (this one is elongation over first length); a plastic that yields later
in compression moves the neutral surface inwards and raises the outer strain.

Source of the strain formula: derived from fibre lengths. Usual ranges: thickness 0.2 to 3 mm,
radius up to some 100 mm. All functions take floats, arrays or symbols.
"""

from __future__ import annotations

import math

from scadgen.strength.anyform import Value, maximum, radians, sqrt

#: A deep cantilever tips at this many times k/L2, by a force at its end.
_TIPPED_BY_FORCE = 4.013
#: What one fillet of a web's own thickness adds to its strain, and by which power a sharper one
#: adds more; fitted to finite elements, no other authority.
_AT_FILLET, _BY_SHARPNESS = 0.22, 0.8
#: Stress where a web runs into a leaf that lies beside its line, over that of the web.
AT_A_LEAF = 1.25


def bend_radius(length: Value, degrees: Value) -> Value:
    """Radius of the middle surface (mm) of a web that bends evenly by an angle (above 0)."""
    return length / radians(degrees)


def web_strain(thickness: Value, length: Value, degrees: Value) -> Value:
    """Outer strain in a web (mm) that bends evenly by an angle: theta t/(2L)."""
    return radians(degrees) * thickness / (2 * length)


def torque(
    modulus: Value, thickness: Value, width: Value, radius: Value, stiffening: Value = 1
) -> Value:
    """Torque (N mm) that holds a sheet at a radius of its middle (mm): E I/R times stiffening.

    It is also the elastic spring-back torque. ``stiffening`` is 1 for a narrow strip, or what
    :func:`scadgen.strength.plate.stiffening` gives. Elastic: valid up to about the yield strain,
    above which it is an upper bound.
    """
    return stiffening * modulus * width * thickness * thickness * thickness / (12 * radius)


def pull_stress(force: Value, width: Value, thickness: Value) -> Value:
    """Tension in a web under a pull across the fold: F/(b t)."""
    return force / (width * thickness)


def sideways_stress(force: Value, length: Value, width: Value, thickness: Value) -> Value:
    """Bending stress in a web pulled along the fold, ``length`` from its root: 6 F L/(t b2).

    A cantilever in the plane of the sheet, nothing else guiding the leaf. In wide webs, L < b/4 or
    so, :func:`sideways_shear` is more.
    """
    return 6 * force * length / (thickness * width * width)


def from_root(lever: Value, length: Value) -> Value:
    """From a web's root to a force at a lever from its middle (mm); past its end at least."""
    return length / 2 + maximum(lever, length / 2)


def uneven(offset: Value, width: Value) -> Value:
    """Tension at the edge of a web over its mean, pulled so far beside its middle: 1 + 6 e/b.

    Source: beam theory of a rectangle.
    """
    return 1 + 6 * offset / width


def buckling_force(modulus: Value, thickness: Value, width: Value, length: Value) -> Value:
    """Push (N) along the sheet at which a web gives way to the side: pi2 E I/L2, I = b t3/12.

    Source: L. Euler's column; both leaves keep their direction, and one may move to the side.
    """
    inertia = width * thickness * thickness * thickness / 12
    return math.pi * math.pi * modulus * inertia / (length * length)


def sideways_shear(force: Value, width: Value, thickness: Value) -> Value:
    """Greatest shear stress in a web whose moving end is pulled along the fold: 3 F/(2 b t).

    Source: beam theory of a rectangle, 3/2 of the mean in its middle.
    """
    return 3 * force / (2 * width * thickness)


def tipping_force(
    modulus: Value,
    shear_modulus: Value,
    thickness: Value,
    width: Value,
    length: Value,
    lever: Value,
) -> Value:
    """Pull (N) along the fold, ``lever`` from the root, at which a web tips out of its plane.

    A deep cantilever tips under a force at its end of 4.013 k/L2, or a moment of pi k/(2 L), with
    k2 = E I G J; both together as their shares add up to 1, on the safe side (Dunkerley).
    Source: S. P. Timoshenko, J. M. Gere, Theory of Elastic Stability, 2nd ed. 1961, art. 6.3
    (from memory). A thin rectangle: I = b t3/12, J = b t3/3.
    """
    stiff = sqrt(modulus * shear_modulus) * width * thickness * thickness * thickness / 6
    beyond = lever - length
    share = length / _TIPPED_BY_FORCE + 2 / math.pi * beyond
    return stiff / (length * share)


def at_a_leaf(stress: Value) -> Value:
    """Stress in a web's plane where it runs into a leaf that stands on one side of it: 1.25 s.

    Derived: fitted to solid finite elements, which tell 1.14 to 1.25 in the middle of a web 0.6 to
    1.2 thick, leaves 1.5 to 6, fillets 0.5 to 2, and 1.39 at the edges of a wide one.
    """
    return AT_A_LEAF * stress


def fillet_factor(fillet: Value, thickness: Value) -> Value:
    """Strain at a web's only fillet over that of the even bend: 1 + 0.22 (t/r)^0.8. Numbers only.

    Derived: fitted to plane finite elements of a web at the face of its leaf, within 3.5 % for r/t
    from 0.1 to 8. It is more than at two fillets, of which handbooks tell: 0.907 (r/t)^-1/3.
    """
    return 1 + _AT_FILLET * (thickness / fillet) ** _BY_SHARPNESS
