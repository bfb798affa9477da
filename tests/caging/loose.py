"""Pairs that come apart, drawn at random, each by a way that is known; lengths in mm."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from manifold3d import CrossSection, Manifold

Pair = tuple[Manifold, Manifold]
Draw = np.random.Generator


def turned(*profile: tuple[float, float]) -> Manifold:
    """A profile of distances from the axis and heights, turned about it."""
    return CrossSection([np.array(profile, dtype=float)]).revolve(64)


def straight_pin(draw: Draw) -> Pair:
    """A pin in a blind bore: it is drawn out along the axis."""
    radius, gap, long = draw.uniform(1.5, 8), draw.uniform(0.1, 0.8), draw.uniform(4, 40)
    bore = radius + gap
    pot = turned((0, -4), (bore + 3, -4), (bore + 3, long), (bore, long), (bore, -1), (0, -1))
    return pot, turned((0, 0), (radius, 0), (radius, long + 5), (0, long + 5))


def one_flange(draw: Draw) -> Pair:
    """A ring on a shaft with a flange below and none above: it is lifted off."""
    radius, gap, high = draw.uniform(2, 8), draw.uniform(0.1, 0.6), draw.uniform(2, 12)
    wide = radius + draw.uniform(1, 4)
    top = 3 * high
    shaft = turned((0, -3), (wide, -3), (wide, 0), (radius, 0), (radius, top), (0, top))
    bore = radius + gap
    return shaft, turned((bore, gap), (wide, gap), (wide, gap + high), (bore, gap + high))


def caps_less_than_the_play(draw: Draw) -> Pair:
    """A ring on a waist whose ends stand out by less than the clearance: it slips over them."""
    neck, gap, half = draw.uniform(2, 7), draw.uniform(0.2, 0.8), draw.uniform(2, 8)
    wide = neck + gap * draw.uniform(0.1, 0.9)
    waist = [(neck, -half), (neck, half), (wide, half + 1), (wide, half + 4), (0, half + 4)]
    spindle = turned((0, -half - 4), (wide, -half - 4), (wide, -half - 1), *waist)
    bore = neck + gap
    return spindle, turned((bore, -half + 1), (wide + 4, -half + 1), (wide + 4, 0), (bore, 0))


def tips_less_than_the_play(draw: Draw) -> Pair:
    """A link between two tips that are lower than its play along the axis: it is drawn aside."""
    root, play, half = draw.uniform(2, 5), draw.uniform(0.3, 1), draw.uniform(3, 9)
    tip, ear = play * draw.uniform(0.3, 0.9), half + play
    upper = turned(
        (0, ear - tip), (root - tip, ear - tip), (root, ear), (root, ear + 3), (0, ear + 3)
    )
    lower = upper.mirror((0, 0, 1))
    sockets = (upper.translate((0, 0, -play)) + lower.translate((0, 0, play))).scale(
        (1.02, 1.02, 1)
    )
    return upper + lower, turned(
        (0, -half), (root + 3, -half), (root + 3, half), (0, half)
    ) - sockets


def open_sideways(draw: Draw) -> Pair:
    """A flanged pin in a clip whose mouth is wider than the pin: it is drawn aside."""
    radius, gap, high = draw.uniform(1.5, 5), draw.uniform(0.1, 0.6), draw.uniform(2, 8)
    wide, bore = radius + 2, radius + gap
    pin = turned(
        (0, -3),
        (wide, -3),
        (wide, 0),
        (radius, 0),
        (radius, high),
        (wide, high),
        (wide, high + 3),
        (0, high + 3),
    )
    clip = turned((bore, gap), (bore + 4, gap), (bore + 4, high - gap), (bore, high - gap))
    mouth = Manifold.cube((bore + 9, 2 * bore, high + 9)).translate((0, -bore, -1))
    return pin, clip - mouth


#: Each kind of pair by its name.
KINDS: dict[str, Callable[[Draw], Pair]] = {
    make.__name__: make
    for make in (
        straight_pin,
        one_flange,
        caps_less_than_the_play,
        tips_less_than_the_play,
        open_sideways,
    )
}
