"""Pairs of bodies that hold, or only seem to; lengths in mm, about the upright axis."""

from __future__ import annotations

import math

from manifold3d import Manifold

from tests.shapes import box, rod, turned


def bar_under_a_lip(lip: float) -> tuple[Manifold, Manifold]:
    """A bar in a tray, one end under a lip: raised at the other end, it slides out.

    A low wall, 1.2 mm high against the bar, stops every straight pull that the lip does not; the
    play of 0.3 mm is less than any lip here. Under a lip of 8 mm the bar cannot rise over the wall.
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


def ring_on_a_waist(grip: float) -> tuple[Manifold, Manifold]:
    """A ring of radius 4.3 inside, around a waist of radius 4 whose ends stand out by the grip."""
    wide = 4.3 + grip
    profile = [(0, -5), (wide, -5), (wide, -2), (4, -2 + wide - 4), (4, 2 - wide + 4), (wide, 2)]
    spindle = turned([*profile, (wide, 5), (0, 5)], 64)
    return spindle, turned([(4.3, -0.7), (8, -0.7), (8, 0.7), (4.3, 0.7)], 64)


def link_between_cones(tip: float, clearance: float, facets: int = 96) -> tuple[Manifold, Manifold]:
    """A link, 12 mm high, between two facing 45-degree cones whose roots have a radius of 4 mm.

    clearance: square to the flanks. The cones are as high as `tip`.
    """
    gap = clearance * math.sqrt(2)
    root = 6 + gap
    profile = [(0, -root - 1), (4, -root - 1), (4, -root), (4 - tip, -root + tip), (0, -root + tip)]
    cone = turned(profile, facets)
    yoke = rod(7, -12, -root) + rod(7, root, 12) + box((-10, -4, -12), (-8, 4, 12))
    yoke += box((-10, -4, -12), (0, 4, -root - 1)) + box((-10, -4, root + 1), (0, 4, 12))
    rim = 1 / math.cos(math.pi / facets)  # a socket is drawn around its circle
    profile = [(0, -7), (4, -7), (4, -6), (4 - tip, -6 + tip), (0, -6 + tip)]
    socket = turned([(radius * rim, height) for radius, height in profile], facets)
    link = rod(6, -6, 6) - socket - socket.rotate((180, 0, 0))
    return yoke + cone + cone.rotate((180, 0, 0)), link
