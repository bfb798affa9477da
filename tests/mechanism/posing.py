"""Mechanisms with all joints turned: another way than the proof's, to hold it against."""

from __future__ import annotations

from collections.abc import Mapping

from manifold3d import Manifold

from scadgen.mechanism.joint import Joint
from scadgen.mechanism.mechanism import Mechanism


def posed(whole: Mechanism, angles: Mapping[Joint, float]) -> dict[str, Manifold]:
    """Each piece by its title, all joints turned, the first body staying where it is.

    Of each joint the side without the first body is carried; those sides lie in each other or
    apart, and the smaller ones are turned first, while their axes are still where they print.
    """
    root = whole.bodies[0].name
    sides = []
    for joint, angle in angles.items():
        carried = whole.carried(joint)
        if root in carried:
            carried, angle = whole.reached(joint.fixed, joint), -angle
        sides.append((carried, joint, angle))
    placed = {piece.title: piece.solid for piece in whole.pieces}
    for carried, joint, angle in sorted(sides, key=lambda side: len(side[0])):
        for piece in whole.pieces:
            if carried & set(piece.bodies) and joint.axis is not None:
                placed[piece.title] = joint.axis.turn(placed[piece.title], angle)
    return placed
