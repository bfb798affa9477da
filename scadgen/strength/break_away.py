"""Webs that are made to break.

``width`` and ``thickness`` of what is left of a web at its score line (mm), ``strength`` in MPa,
forces in N. To be sure that a web breaks take the strong end of the strength, to be sure that it
holds the weak end: see :data:`scadgen.strength.materials.WEAK_END`. Bend a web to break it: a pull
takes many times the force.

Source: bending of a rectangle, from first yield (w t2/6) to fully plastic (w t2/4).
"""

from __future__ import annotations

import math

from scadgen.strength.anyform import Value, sqrt


def snap_moment(strength: Value, width: Value, thickness: Value) -> Value:
    """Moment (N mm) at which a brittle web breaks: at first yield, s w t2/6."""
    return strength * width * thickness * thickness / 6


def most_snap_moment(strength: Value, width: Value, thickness: Value) -> Value:
    """Moment (N mm) that surely breaks a web: fully plastic, s w t2/4."""
    return strength * width * thickness * thickness / 4


def snap_push(strength: Value, webs: Value, width: Value, thickness: Value, arm: Value) -> Value:
    """Push (N) at an arm's length (mm) from the webs that surely snaps all of them."""
    return webs * most_snap_moment(strength, width, thickness) / arm


def thickest_that_snaps(
    strength: Value, webs: Value, width: Value, push: Value, arm: Value
) -> Value:
    """Greatest thickness that a push at an arm's length surely snaps."""
    return 2 * sqrt(push * arm / (strength * webs * width))


def pull_force(strength: Value, width: Value, thickness: Value) -> Value:
    """Pull (N) at which a web parts: s w t."""
    return strength * width * thickness


def bead_area(width: Value, height: Value) -> Value:
    """Section (mm2) of a free bead of plastic: a rectangle with round ends, wider than high.

    Common model of slicers, no source; how a bridged bead really sags is not in it.
    """
    return height * (width - height) + math.pi / 4 * height * height


def bed_peel(force: Value, height: Value, length: Value, width: Value) -> Value:
    """Greatest stress (MPa) between a part and the bed when a nozzle drags at its top.

    ``length`` of its foot along the force, ``width`` across it; linear, 6 F h/(b l2). What a bed
    holds varies by ten between machines: measure it.
    """
    return 6 * force * height / (width * length * length)
