"""Cones in sockets: what a load does to tips and sockets.

``angle`` is the half angle from the axis (degrees, 5 to 80); mm, N, MPa. ``friction`` is a
coefficient, 0 for the worst push along the axis.

Source: statics, derived here. Beam theory of a tip is only indicative above a half angle of 20
degrees. Printed upright, a side load bends a
tip across its layers: compare with the strength across them.
"""

from __future__ import annotations

import math

from scadgen.strength import loop
from scadgen.strength.anyform import Value, atan, maximum, minimum, tan

#: At this multiple of the diameter where it is loaded, a cone bends worst.
WORST_GROWTH = 1.5


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


def thrust(force: Value, angle: Value, friction: Value = 0) -> Value:
    """Push along the axis from a side force: F tan(a - rho), not below 0. At 45 degrees all of it.

    It spreads the arms that hold two facing tips.
    """
    return force * tan(maximum(angle - atan(friction), 0))


def ring_tension(force: Value, angle: Value, friction: Value = 0) -> Value:
    """Tension (N) around a captive cone's socket under a pull along the axis.

    F/(2 pi tan(a + rho)). Over the socket wall's section (mm2) it is a stress. Steep cones split
    sockets.
    """
    return force / (2 * math.pi * tan(angle + atan(friction)))


def socket_hoop(force: Value, angle: Value, outer: Value, bore: Value, height: Value) -> Value:
    """Hoop stress at the bore of a socket that a cone pulls open with a force along its axis.

    The ring tension as a pressure over a height of wall (mm), in Lame's thick ring.
    """
    pressure = ring_tension(force, angle) / (bore / 2 * height)
    return loop.hoop_at_bore(pressure, outer, bore)


def rim_shear(force: Value, diameter: Value, height: Value) -> Value:
    """Shear stress around a rim that a captive cone's head pulls at: F/(pi D h)."""
    return force / (math.pi * diameter * height)
