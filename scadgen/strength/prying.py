"""A load on the moving part of a hinge that cannot turn further: it pries about where it leans.

``load`` (N) acts square to the axis, ``lever`` (mm) from it; ``heel`` (mm, above 0) is the distance
from the axis to where the moving part leans on the other leaf or on a stop. Forces in N, moments
in N mm. Valid for stiff leaves, which lean on each other level with the middle of the bearing: what
a load beside the middle tilts, the bearing holds alone.

Source: statics of a lever, derived here.
"""

from __future__ import annotations

from scadgen.strength.anyform import Value, maximum, minimum

#: A stiff leaf rests on two of its knuckles at least; more of them touch only where gaps are equal.
RESTS_ON = 2


def bearing_force(load: Value, lever: Value, heel: Value) -> Value:
    """Greatest force on the bearing, square to the axis: F (L/h - 1), never less than F.

    F itself where the load points at the axis and nothing pries.
    """
    return load * maximum(lever / heel - 1, 1)


def leaf_moment(load: Value, lever: Value, heel: Value) -> Value:
    """Greatest moment in the moving leaf, where it leans: F (L - h), 0 within the heel."""
    return load * maximum(lever - heel, 0)


def web_pull(load: Value, lever: Value, heel: Value) -> Value:
    """Greatest pull in a web whose leaves lean on each other: F L/h, never less than F.

    ``heel`` is square to the web here, from its middle surface to where the leaves touch.
    """
    return load * maximum(lever / heel, 1)


def bearing_places(count: Value) -> Value:
    """Knuckles or rings that surely share a force, of so many in a row: two at most.

    Statics of a stiff leaf. Printed gaps differ by more than plastic gives way under such loads.
    """
    return minimum(count, RESTS_ON)


def tilting_force(moment: Value, apart: Value) -> Value:
    """Force on either of two places so far apart along the axis that hold a moment: M/a."""
    return moment / apart


def tilting_peak(moment: Value, length: Value) -> Value:
    """Force that would press a bearing of a length evenly as hard as a moment does at its ends.

    The pressure rises evenly from the middle: 6 M/l.
    """
    return 6 * moment / length


def tilting_half(moment: Value, length: Value) -> Value:
    """Force on each half of such a bearing: 3 M/(2 l)."""
    return 3 * moment / (2 * length)


def tilting_pull(moment: Value, diameter: Value) -> Value:
    """Pull along the axis that would load a round rim evenly as hard as a moment does: 4 M/d.

    The load on the rim follows the cosine around it.
    """
    return 4 * moment / diameter
