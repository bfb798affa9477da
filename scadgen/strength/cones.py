"""Cones in sockets: play, and what a load does to tips, sockets and arms.

``angle`` is the half angle from the axis (degrees, 5 to 80), ``clearance`` the gap square to the
flank; mm, N, MPa. ``friction`` is a coefficient, 0 for the worst push along the axis.

Source: statics, derived here; play confirmed by sweeping polygons and sampled surfaces. Beam theory
of a tip is only indicative above a half angle of 20 degrees. Printed upright, a side load bends a
tip across its layers: compare with the strength across them.
"""

from __future__ import annotations

import math

from scadgen.strength import loop
from scadgen.strength.anyform import Value, atan, cos, maximum, minimum, sin, tan

#: At this multiple of the diameter where it is loaded, a cone bends worst.
WORST_GROWTH = 1.5
#: Half angle (degrees) from which mean shear where it is loaded exceeds all bending stress.
SHEAR_GOVERNS = math.degrees(math.atan(2 / WORST_GROWTH**3))


def axial_play(clearance: Value, angle: Value) -> Value:
    """Way along the axis until the flanks touch: c/sin a. Two opposed cones: so much each way.

    A stack of cones that all point one way has it in one direction only; a stop must end the other.
    """
    return clearance / sin(angle)


def radial_play(clearance: Value, angle: Value) -> Value:
    """Way sideways until the flanks touch: c/cos a."""
    return clearance / cos(angle)


def gap_of_shift(shift: Value, angle: Value) -> Value:
    """Gap square to the flank between a cone and its copy moved along the axis: g sin a."""
    return shift * sin(angle)


def radial_gap_of_shift(shift: Value, angle: Value) -> Value:
    """The same gap measured sideways: g tan a."""
    return shift * tan(angle)


def bending_at(force: Value, diameter: Value, angle: Value, distance: Value) -> Value:
    """Bending stress in a solid cone at a distance from where a side force loads it.

    ``diameter`` is that at the force; towards the root the cone grows.
    """
    there = diameter + 2 * distance * tan(angle)
    return 32 * force * distance / (math.pi * there * there * there)


def worst_distance(diameter: Value, angle: Value) -> Value:
    """Distance from the force to the worst section, where the cone has grown to 1.5 diameters."""
    return (WORST_GROWTH - 1) * diameter / (2 * tan(angle))


def tip_bending(force: Value, diameter: Value, angle: Value, root: Value = math.inf) -> Value:
    """Greatest bending stress in a cone: at its worst section, or at its root if that is nearer.

    ``root`` is the distance from the force to where the cone ends in something thicker.
    """
    distance = minimum(worst_distance(diameter, angle), root)
    return bending_at(force, diameter, angle, distance)


def neck_bending(
    force: Value, diameter: Value, angle: Value, straight: Value, flare: Value
) -> Value:
    """Greatest bending stress in a neck that is straight and then flares, loaded at its free end.

    ``straight``: length of the neck beyond the force, ``flare``: length in which it grows; both mm.
    The worst section lies where the neck starts to grow, or up to 1.5 diameters into the flare if
    the force is near: (d/tan a - 6 straight)/4, as for a cone.
    """
    way = minimum(maximum((diameter / tan(angle) - 6 * straight) / 4, 0), flare)
    there = diameter + 2 * way * tan(angle)
    return 32 * force * (straight + way) / (math.pi * there * there * there)


def tip_shear(force: Value, diameter: Value) -> Value:
    """Mean shear stress in a cone where it is loaded: 4 F/(pi d2)."""
    return 4 * force / (math.pi * diameter * diameter)


def tip_stress(force: Value, diameter: Value, angle: Value, root: Value = math.inf) -> Value:
    """The greater of both, to compare with the strength that the layers leave."""
    return maximum(tip_bending(force, diameter, angle, root), tip_shear(force, diameter))


def thrust(force: Value, angle: Value, friction: Value = 0) -> Value:
    """Push along the axis from a side force: F tan(a - rho), not below 0. At 45 degrees all of it.

    It spreads the arms that hold two facing tips.
    """
    return force * tan(maximum(angle - atan(friction), 0))


def side_force_of(thrust: Value, angle: Value, friction: Value = 0) -> Value:
    """Side force whose push along the axis is ``thrust``; the half angle above that of friction."""
    return thrust / tan(angle - atan(friction))


def ring_tension(force: Value, angle: Value, friction: Value = 0) -> Value:
    """Tension (N) around a captive cone's socket under a pull along the axis.

    F/(2 pi tan(a + rho)). Over the socket wall's section (mm2) it is a stress. Steep cones split
    sockets.
    """
    return force / (2 * math.pi * tan(angle + atan(friction)))


def undercut(largest: Value, neck: Value, clearance: Value, angle: Value) -> Value:
    """How far a cone's largest radius reaches past its socket's throat, when centred.

    What is left after sideways play is less by :func:`radial_play`; two line widths or so should
    be (common practice, no source).
    """
    return largest - neck - radial_play(clearance, angle)


def socket_hoop(force: Value, angle: Value, outer: Value, bore: Value, height: Value) -> Value:
    """Hoop stress at the bore of a socket that a cone pulls open with a force along its axis.

    The ring tension as a pressure over a height of wall (mm), in Lame's thick ring.
    """
    pressure = ring_tension(force, angle) / (bore / 2 * height)
    return loop.hoop_at_bore(pressure, outer, bore)


def rim_shear(force: Value, diameter: Value, height: Value) -> Value:
    """Shear stress around a rim that a captive cone's head pulls at: F/(pi D h)."""
    return force / (math.pi * diameter * height)


def ear_force(modulus: Value, width: Value, thickness: Value, length: Value, way: Value) -> Value:
    """Force along the axis (N) that bends one ear by ``way``: E b t3 way/(4 l3).

    The ear as a cantilever from the leaf to the axis; small way. Two ears give way together: each
    by half of what the tip must come free. A low modulus is the weak end.
    """
    spring = modulus * width * thickness * thickness * thickness / 4
    return spring * way / (length * length * length)


def arm_stress(force: Value, lever: Value, width: Value, thickness: Value) -> Value:
    """Bending stress at the corner of the arm that carries a captive cone: 6 F lever/(b t2).

    ``lever`` is the hinge's own, from its loaded throat to the middle of its arm.
    """
    return 6 * force * lever / (width * thickness * thickness)
