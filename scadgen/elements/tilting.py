"""What tilts a link: a couple of zones at both ends of a bearing, pressed in opposite ways.

Links as stiff as leaves are turn about the middle of what bears, so that pressure rises evenly to
either end. How far the links give way there is left out: the ends bear the most that they may.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from scadgen.elements.bearing import Zone
from scadgen.elements.fill import Array

if TYPE_CHECKING:
    from collections.abc import Sequence

    from scadgen.motion.axis import Axis

#: Ways square to the axis, as two of the four pushes: that by which the upper end of a bearing is
#: pressed, and that of the lower one.
TILTS = ((0, 1), (1, 0), (2, 3), (3, 2))
#: Ends that lie nearer together than this (mm) hold no tilt.
APART = 0.5


def couples(
    zoned: Sequence[Sequence[Zone]], pushes: Sequence[Array], axis: Axis
) -> list[list[Zone]]:
    """For each of ``TILTS`` the zone that bears a moment of 1 N mm; none where nothing bears it.

    zoned: the zones of a body for each of the four pushes square to the axis.
    """
    found = []
    for upper, lower in TILTS:
        one = _couple(zoned[upper], zoned[lower], pushes[upper], axis)
        found.append([one] if one else [])
    return found


def _couple(above: Sequence[Zone], below: Sequence[Zone], push: Array, axis: Axis) -> Zone | None:
    if not above or not below:
        return None
    groups = [_together(above, axis), _together(below, axis)]
    every = np.concatenate([at for _, _, at in groups])
    middle = (every.min() + every.max()) / 2
    parts, ends = [], []
    for way, (points, forces, at) in zip((1, -1), groups, strict=True):
        rises = np.maximum(way * (at - middle), 0)
        pressed = forces * rises[:, None]
        whole = abs(float((pressed @ push).sum()))
        if whole <= 0:
            return None
        parts.append((points[rises > 0], pressed[rises > 0] / whole))
        ends.append(float(abs(pressed @ push) @ at) / whole)
    arm = ends[0] - ends[1]
    if arm < APART:
        return None
    points = np.concatenate([one for one, _ in parts])
    return Zone(points, np.concatenate([force for _, force in parts]) / arm, sum(ends) / 2)


def _together(group: Sequence[Zone], axis: Axis) -> tuple[Array, Array, Array]:
    """All places of zones, the forces there, and how far along the axis each is."""
    points = np.concatenate([zone.points for zone in group])
    forces = np.concatenate([zone.forces for zone in group])
    return points, forces, (points - np.array(axis.origin)) @ np.array(axis.unit)
