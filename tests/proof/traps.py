"""Pairs of bodies that hold, or only seem to; lengths in mm, about the upright axis."""

from __future__ import annotations

import math

from manifold3d import Manifold

from .shapes import box, rod, turned


def lid_under_a_lip(lip: float) -> tuple[Manifold, Manifold]:
    """A bar in a tray, one end under a lip: raised at the other end, it slides out.

    The tray's low wall stops every straight pull that the lip does not, and 0.3 mm of play is less
    than any lip here; the wall is 1.5 mm high against the bar. A lip of 5 mm reaches so far that
    the bar cannot be raised by enough.
    """
    tray = box((-9, -5, -4), (9, 5, 2.3)) - box((-5.3, -2.3, -1.3), (5.3, 2.3, 3))
    low = box((-10, -2.3, 0.2), (-5, 2.3, 3))
    over = box((5.3 - lip, -3, 1.3), (9, 3, 2.3))
    return tray - low + over, box((-5, -2, -1), (5, 2, 1))


def key_in_a_slot(turn: float, slot: float = 4.6) -> tuple[Manifold, Manifold]:
    """A cross-bar of 8 mm under a plate with a slot, turned from it; a slot of 4.6 is a hole."""
    room = box((-7, -7, -4), (7, 7, 4)) - rod(5, -2.3, 2.3)
    hole = rod(2.3, 0, 5) + box((-slot, -1.3, 0), (slot, 1.3, 5))
    bar = box((-4, -1, -2), (4, 1, 2)) + rod(2, -2, 8)
    return room - hole, bar.rotate((0, 0, turn))


def ball_in_a_cup(mouth: float) -> tuple[Manifold, Manifold]:
    """A ball of 8 mm on a stem, in a cup whose mouth has this radius: it tilts as it likes."""
    profile = [(4 * math.sin(a), -4 * math.cos(a)) for a in (math.pi * k / 24 for k in range(25))]
    ball = turned([(abs(x), z) for x, z in profile], 48)
    cup = rod(6, -6, 3) - ball.scale((4.3 / 4,) * 3) - rod(mouth, 0, 4)
    return cup, ball + rod(1.2, 0, 12)


def shallow_waist(grip: float) -> tuple[Manifold, Manifold]:
    """A ring of radius 4.3 inside, around a waist of radius 4 whose ends stand out by the grip."""
    wide = 4.3 + grip
    profile = [(0, -5), (wide, -5), (wide, -2), (4, -2 + wide - 4), (4, 2 - wide + 4), (wide, 2)]
    spindle = turned([*profile, (wide, 5), (0, 5)], 64)
    return spindle, turned([(4.3, -0.7), (8, -0.7), (8, 0.7), (4.3, 0.7)], 64)
