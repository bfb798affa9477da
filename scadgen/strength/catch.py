"""Snap-fit catches: an arm held at one end, bent aside as its lip passes a ledge.

Lengths in mm, forces in N, moduli in MPa, angles in degrees; strains are fractions. Small
deflections: up to about a tenth of the length of the arm. Friction of plastic on plastic is taken
from ``LEAST_FRICTION`` to ``MOST_FRICTION`` (common practice, no source): the least where a catch
must hold, the most where a hand must close it.

Source: Bayer MaterialScience, *Snap-Fit Joints for Plastics: A Design Guide* (from memory): an arm
of one thickness, its strain, force and mating force. What a load beside the middle of the arm adds
is derived: bending of a rectangle, and Saint-Venant's torsion of a thin strip.
"""

from __future__ import annotations

from scadgen.strength.anyform import Value, atan, minimum, tan

#: Strain at the root of an arm whose end is bent aside, as a share of t y/L2.
ROOT = 1.5
LEAST_FRICTION, MOST_FRICTION = 0.2, 0.6
#: Greatest shear stress in a rectangle over the mean.
PEAK = 1.5
#: Share of an arm's stiffness that its post leaves: by finite elements of whole hooks, in
#: tests/solids.
POSTED = 0.85
#: Steeper faces than this, degrees, count as so steep where a catch must hold (assumed).
STEEPEST_HOLD = 70.0


def snap_strain(thickness: Value, deflection: Value, length: Value) -> Value:
    """Strain at the root of an arm whose end is bent aside: 3 t y/(2 L2)."""
    return ROOT * thickness * deflection / (length * length)


def end_slope(deflection: Value, length: Value) -> Value:
    """Turn that bends a bar of the same length evenly as sharply as its root: 3 y/L, radians."""
    return 3 * deflection / length


def deflection_force(
    strain: Value, width: Value, thickness: Value, length: Value, modulus: Value
) -> Value:
    """Force at the end of an arm that is strained so at its root: b t2 E e/(6 L)."""
    return width * thickness * thickness * modulus * strain / (6 * length)


def twisting_share(aside: Value, length: Value, ratio: Value) -> Value:
    """Share of that force which is left where it acts ``aside`` of the middle of the width.

    The arm then twists as well: its end gives way by 4 L3/(E b t3) in bending and by
    3 aside2 L/(G b t3) in torsion. ``ratio``: E/G. That the root holds warping makes the arm
    stiffer, that its post gives softer: by finite elements it is up to a sixth softer than told.
    """
    slender = aside / length
    return 1 / (1 + 3 * ratio * slender * slender / 4)


def sliding_force(force: Value, friction: Value, angle: Value) -> Value:
    """Force along the way that pushes the arm aside: P (mu + tan a)/(1 - mu tan a).

    ``angle``: of the face from the way. It must be below the angle at which friction locks, 90
    degrees less atan mu.
    """
    slope = tan(angle)
    return force * (friction + slope) / (1 - friction * slope)


def holding_force(force: Value, angle: Value) -> Value:
    """Least pull that opens a catch: the least friction, the face no steeper than counts, and a
    post that gives."""
    return sliding_force(POSTED * force, LEAST_FRICTION, minimum(angle, STEEPEST_HOLD))


def closing_force(force: Value, angle: Value) -> Value:
    """Greatest push that closes a catch: the most friction."""
    return sliding_force(force, MOST_FRICTION, angle)


def locked_from(friction: Value) -> Value:
    """Angle of a face from the way from which on friction locks it, degrees: 90 - atan mu."""
    return 90 - atan(friction)


def hook_stress(force: Value, width: Value, thickness: Value, aside: Value, above: Value) -> Value:
    """Stress in the foot of a hook pulled at its 45-degree face: F/(b t) + 6 F (a + h)/(b t2).

    The face turns the pull into as great a push aside. ``aside``: from the middle of the foot to
    where it acts; ``above``: its height above the foot.
    """
    pulled = force / (width * thickness)
    return pulled + 6 * force * (aside + above) / (width * thickness * thickness)


def ledge_shear(force: Value, width: Value, height: Value) -> Value:
    """Greatest shear stress at the root of a ledge: 3 F/(2 b h), a rectangle's."""
    return PEAK * force / (width * height)
