"""Webs that are made to break.

``width`` and ``thickness`` of what is left of a web at its score line (mm), ``strength`` in MPa,
forces in N. To be sure that a web breaks take the strong end of the strength, to be sure that it
holds the weak end: see :data:`scadgen.strength.materials.WEAK_END`. Bend a web to break it: a pull
takes many times the force.

Source: bending of a rectangle, fully plastic (w t2/4); at first yield it bears two thirds of it.
"""

from __future__ import annotations

from scadgen.strength.anyform import Value


def most_snap_moment(strength: Value, width: Value, thickness: Value) -> Value:
    """Moment (N mm) that surely breaks a web: fully plastic, s w t2/4."""
    return strength * width * thickness * thickness / 4


def snap_push(strength: Value, webs: Value, width: Value, thickness: Value, arm: Value) -> Value:
    """Push (N) at an arm's length (mm) from the webs that surely snaps all of them."""
    return webs * most_snap_moment(strength, width, thickness) / arm
