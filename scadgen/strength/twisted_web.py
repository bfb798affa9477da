"""A thin web between two stiff leaves, one of which is twisted about the line across the fold.

``width`` along the fold, ``length`` across it, ``thickness`` (mm), torque in N mm, MPa. A wide and
short web is hardly twisted as a bar is: its strips are bent to either side as the leaf leans. Both
ways share the torque by their stiffness.

Source: derived here from a beam built in at both ends and from a thin bar in torsion, as in
:mod:`scadgen.strength.torsion`. Elastic, small angles.
"""

from __future__ import annotations

from scadgen.strength.anyform import Value, maximum


def beyond(offset: Value, width: Value) -> Value:
    """How far (mm) a load acts beyond the edge on which a leaf so wide leans; 0 within it."""
    return maximum(offset - width / 2, 0)


def share_bent(width: Value, length: Value, poisson: Value) -> Value:
    """Share of the torque that strips bear by bending: k/(1 + k), k = (1 + nu) b2/(2 L2)."""
    ratio = (1 + poisson) * width * width / (2 * length * length)
    return ratio / (1 + ratio)


def bending_stress(torque: Value, width: Value, thickness: Value, length: Value) -> Value:
    """Greatest bending stress, in a strip at the edge: 18 T L/(t2 b2)."""
    return 18 * torque * length / (thickness * thickness * width * width)


def shear_stress(torque: Value, width: Value, thickness: Value) -> Value:
    """Greatest shear stress of a thin bar: 3 T/(b t2)."""
    return 3 * torque / (width * thickness * thickness)
