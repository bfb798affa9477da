"""The slit lattice: strips between staggered rows of slits, which twist as the sheet bends.

``thickness`` of the sheet, ``strip`` width between rows, ``slit`` width, ``bridge`` length between
two slits of a row, ``free`` length of strip from one bridge to the next (half of slit less bridge);
all mm. ``turn`` is that of one strip: the bend over the number of strips (degrees). ``segments``
counts the twisting lengths side by side across the sheet. N, MPa.

Source: derived here. Stiffness of a cell: fitted to solid finite elements, within 6 %. Valid for
strip <= thickness (wider ones bend across themselves), free >= 5 thicknesses, bridge >= 1.5
thicknesses, turn up to about 15 degrees. Slits below 0.3 to 0.4 mm may weld shut (common practice,
no source). A pull in the plane of the sheet opens the slits: see :func:`opening_stress`.
"""

from __future__ import annotations

import math
from typing import Any

from scadgen.strength.anyform import Value, radians, sqrt

#: Of the bridge's own compliance; fitted to solid finite elements, no other authority.
ROOT_SHARE = 0.75


def shear_strain(strip: Any, thickness: Any, turn: Any, free: Any) -> Any:
    """Greatest shear strain in a strip that turns so far."""
    from scadgen.strength import torsion

    return torsion.shear_strain(thickness, strip, turn, free)


def bridge_stress(torque: Value, bridge: Value, thickness: Value) -> Value:
    """Bending stress (MPa) in a bridge: 12 T/(b t2), for the torque T in each segment.

    Two segments meet in a bridge, so it passes twice their torque. It exceeds a square strip's
    shear unless the bridge is 1.44 thicknesses long or more.
    """
    return 12 * torque / (bridge * thickness * thickness)


def cell_stiffness(
    strip: Any,
    thickness: Any,
    free: Any,
    bridge: Any,
    slit: Any,
    modulus: Any,
    poisson: Any,
) -> Any:
    """Torque per turn (N mm/rad) of one segment with its two half bridges.

    Plain torsion G J/free alone is 20 to 65 % too stiff where the strip is as wide as thick.
    """
    from scadgen.strength import torsion

    twist = free / (torsion.shear_modulus(modulus, poisson) * torsion.constant(strip, thickness))
    return 1 / (twist + bridge_compliance(strip, thickness, bridge, slit, modulus))


def bridge_compliance(
    strip: Value, thickness: Value, bridge: Value, slit: Value, modulus: Value
) -> Value:
    """What the bridges add to the turn of a segment, per torque (rad per N mm)."""
    reach = slit + ROOT_SHARE * sqrt(bridge * strip)
    return 24 * reach / (modulus * bridge * thickness * thickness * thickness)


def stiffness(cell: Value, strips: Value, segments: Value) -> Value:
    """Torque per bend (N mm/rad) of a lattice, from that of a cell."""
    return segments * cell / strips


def segment_torque(stiffness: Value, degrees: Value, segments: Value) -> Value:
    """Torque in each segment (N mm) when a lattice of that stiffness (N mm/rad) is bent."""
    return stiffness * radians(degrees) / segments


def moment_of_load(load: Value, lever: Value, span: Value) -> Value:
    """Greatest moment (N mm) of a load about the line of any strip: F (L + s/2).

    ``lever`` is from the middle strip to the load, ``span`` the length of the sheet that bends
    (mm): no strip is further from the middle than half of it, bent or flat. Derived: statics.
    """
    return load * (lever + span / 2)


def opening_stress(force: Value, free: Value, thickness: Value, strip: Value) -> Value:
    """Bending stress (MPa) in a strip whose segment a force (N) pulls open: 3 F l/(t w2).

    A beam built in at both bridges; in the plane of the sheet, so in its layers.
    """
    return 3 * force * free / (thickness * strip * strip)


def buckling_force(stiffness: Value, span: Value) -> Value:
    """Push (N) along the sheet at which a lattice gives way to the side: pi2 S/s.

    ``stiffness``: torque per bend (N mm/rad); over the length that bends it is that of a column.
    Source: L. Euler's column; both borders keep their direction, and one may move to the side.
    """
    return math.pi * math.pi * stiffness / span


def edge_force(moment: Value, width: Value, segments: Value) -> Value:
    """Pull (N) on the outermost of m segments, 2 or more, by a moment in plane: 6 M/(W (m + 1)).

    Segments as equal springs side by side over a width W, the borders stiff.
    """
    return 6 * moment / (width * (segments + 1))
