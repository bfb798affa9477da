"""The play of a body in its bearing, in numbers: along the axis, square to it, and in tilt."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.motion.contact import last_free, meet, overlap
from scadgen.motion.pair import Couple, least, turned
from scadgen.motion.pull import THIN, shifted
from scadgen.motion.stretched import gap_across

if TYPE_CHECKING:
    from collections.abc import Callable

    from manifold3d import Manifold

    from scadgen.caging.looseness import Looseness
    from scadgen.motion.axis import Axis, Vector
    from scadgen.motion.retention import Hold
    from scadgen.motion.stretched import Ways

    Array = np.ndarray[Any, Any]
    Test = Callable[[float], bool]

#: Directions square to the axis that are tried, and directions to tilt in.
WAYS, LEANS = 8, 4
#: A pull that rises by less than this share of its way is square to the axis.
SQUARE = 1e-6
#: Steep enough, degrees, to count as free to tilt.
STEEPEST = 45.0
#: Halvings of the range in which the largest tilt lies, and corrections of the shift at each.
HALVINGS, SHIFTS = 6, 6
#: On the solids a proposed tilt mostly ends beyond the second of these shares of it, and never is
#: followed beyond the last; one that ends before that is tried in another way, and one by the cores
#: alone that ends before the first is none of the bodies'.
NEAR, ALMOST, MORE = 0.9, 0.97, 1.5
#: By no more than so many tolerances do round bodies mostly meet before their cores do.
LESS = 2
#: Where they do after less than this share of that way square to the axis, their cores tell little.
ROUNDISH = 0.5
#: Factor from one tilt to the next that is tried, until one does not fit.
GROWTH = 1.5
#: Room, mm, that a shift is to leave to all faces while a tilt is tried.
ROOM = 0.01

#: Lines to tilt about in the frame of the axis, and to where it then tilts.
_LEANS = np.array([(0.0, 1.0, 0.0), (0.0, -1.0, 0.0), (-1.0, 0.0, 0.0), (1.0, 0.0, 0.0)])


@dataclass(frozen=True)
class Play:
    """How far a body moves in another from rest until they touch; mm and degrees.

    along, against: the way along the axis and against it.
    radial_least, radial_most: the shortest and the longest way square to the axis, of 8 directions.
    tilts: the largest tilt of the axis in each of 4 directions, a quarter apart, whatever shift it
        takes; first two opposite ones about one line square to the axis, then about the other.
    limit: ways of this length, mm, and tilts of 45 degrees count as free and were not followed on.
    """

    along: float
    against: float
    radial_least: float
    radial_most: float
    tilts: tuple[float, ...]
    limit: float

    @property
    def axial(self) -> float:
        """The way from one end to the other along the axis, mm."""
        return self.along + self.against

    @property
    def tilt(self) -> float:
        """The largest tilt, degrees."""
        return max(self.tilts)

    def figures(self) -> dict[str, float]:
        """What a table says of it, by name and unit."""
        return {
            "play along the axis (mm)": self.along,
            "play against the axis (mm)": self.against,
            "least play square to the axis (mm)": self.radial_least,
            "most play square to the axis (mm)": self.radial_most,
            "play in tilt (deg)": self.tilt,
        }


@dataclass(frozen=True)
class Apart:
    """How far two bodies are apart, where that is known.

    gap: their smallest distance, mm. ways: what tells how near they come square to the axis (as
    `beside`) and along it (as `vertical`).
    """

    gap: float | None = None
    ways: Ways | None = None


def play(
    fixed: Manifold,
    moving: Manifold,
    axis: Axis,
    *,
    limit: float = 10.0,
    tolerance: float = 0.002,
    couple: Couple | None = None,
    grip: Hold | None = None,
    guess: Looseness | None = None,
    rough: Couple | None = None,
    apart: Apart | None = None,
) -> Play:
    """Measure the play of `moving` about its pose, by halving on the solids to `tolerance` (mm).

    A tilt is the largest over all small shifts: found among distances from the skins, good to a few
    hundredths of a millimetre, then measured on the solids along that motion. So the number is one
    that the body can reach, at times a little less than the most.

    couple: the bodies made ready by another search, to save time. grip: the hold in the same pose,
    whose straight pulls are taken over, with their tolerance. guess: what their cores leave, beyond
    which the bodies meet for certain. rough: the bodies as their cores see them; what these propose
    is taken where the bodies follow it. apart: how far the bodies are apart.
    Raises ValueError when the bodies overlap already.
    """
    apart = apart or Apart()
    if not apart.gap and meet(fixed, moving):
        raise ValueError(
            f"play: the bodies overlap by {overlap(fixed, moving):.4g} mm3; start where they are"
            " apart."
        )
    if grip:
        up, down, *sides = _pulled(grip, axis)
    else:
        up, down, *sides = _straight(fixed, moving, axis, (apart, limit, tolerance), guess)
    if guess and min(sides) < ROUNDISH * guess.aside:
        rough = None
    tilts = _tilts(fixed, moving, rough, tolerance, NEAR) if rough else ()
    if not tilts:
        tilts = _tilts(fixed, moving, couple or Couple(fixed, moving, axis), tolerance)
    return Play(up, down, min(sides), max(sides), tilts, limit)


def _pulled(grip: Hold, axis: Axis) -> list[float]:
    """The ways along the axis, against it and square to it that pulls have measured."""
    rises = [float(np.dot(pull.direction, axis.unit)) for pull in grip.pulls]
    ends = [grip.pulls[rises.index(end(rises))].travel for end in (max, min)]
    square = (pull for pull, rise in zip(grip.pulls, rises, strict=True) if abs(rise) < SQUARE)
    return [*ends, *(pull.travel for pull in square)]


def _straight(
    fixed: Manifold,
    moving: Manifold,
    axis: Axis,
    within: tuple[Apart, float, float],
    guess: Looseness | None,
) -> list[float]:
    """The ways along the axis, against it and square to it, mm.

    within: how far the bodies are apart, the longest way, and how closely all is measured.
    """
    known, limit, tolerance = within
    gap = known.gap or float(fixed.min_gap(moving, THIN))
    rise = aside = gap
    if guess and tolerance < guess.aside - gap < THIN:
        level = known.ways.beside if known.ways else gap_across(fixed, moving, axis, guess.aside)
        aside = max(gap, level)
    if guess and known.ways and tolerance < max(guess.along, guess.against) - gap:
        rise = max(gap, known.ways.vertical)
    across, beside, along = (np.array(vector) for vector in axis.frame)
    angles = [2 * math.pi * k / WAYS for k in range(WAYS)]
    around = [math.cos(angle) * across + math.sin(angle) * beside for angle in angles]
    tops = [guess.along, guess.against, *([guess.aside] * WAYS)] if guess else []
    ends: list[float] = []
    for number, way in enumerate((along, -along, *around)):
        x, y, z = map(float, way)

        def meets(mm: float, to: Vector = (x, y, z)) -> bool:
            return meet(fixed, shifted(moving, to, mm))

        if tops:
            start, others = (rise, None) if number < 2 else (aside, ends[2:])
            end = _before(meets, start, min(tops[number], limit), tolerance, others)
        else:
            about = ends[-1] if ends else gap
            found = last_free(meets, gap, limit, THIN, tolerance, about)
            end = limit if found is None else found
        ends.append(end)
    return ends


def _before(
    meets: Test, gap: float, top: float, tolerance: float, others: list[float] | None
) -> float:
    """The way to the first contact, which is no farther than where the cores meet, mm.

    gap: what is free for certain. top: where they meet. others: ways beside this one; None where it
    lies along the axis.
    """
    free, met = gap, max(gap, top)
    hints = [top - k * tolerance for k in range(1, LESS + 1)]
    last = others[-1] if others else gap
    if others is not None and (last < hints[-1] - tolerance if others else top - gap > THIN):
        # what is not round meets before the cores do
        hints = [end + more for end in (*others, gap) for more in (tolerance, 0)]
    free, met = _between(meets, [hint for hint in hints if hint < gap + THIN], free, met)
    count = math.ceil((met - gap) / THIN)
    for place in (gap + (met - gap) * k / count for k in range(1, count)):
        if place > free and meets(place):
            met = place
            break
        free = max(free, place)
    free, met = _between(meets, hints, free, met)
    while met - free > tolerance * 1.001:
        middle = (free + met) / 2
        free, met = (free, middle) if meets(middle) else (middle, met)
    return free


def _between(meets: Test, hints: list[float], free: float, met: float) -> tuple[float, float]:
    """The two of some ways, or of the ends, between which the first contact lies."""
    left = sorted({hint for hint in hints if free < hint < met})
    while left:
        half = len(left) // 2
        if meets(left[half]):
            met, left = left[half], left[:half]
        else:
            free, left = left[half], left[half + 1 :]
    return free, met


def _tilts(
    fixed: Manifold, moving: Manifold, couple: Couple, tolerance: float, least: float = 0.0
) -> tuple[float, ...]:
    """The largest tilts, degrees, measured on the solids along motions that the search proposes.

    None where one ends before the least share of what is proposed.
    """
    leans, angles, shifts = _steepest(couple)
    found = []
    for lean, angle, shift in zip(leans, angles, shifts, strict=True):
        spin = lean * angle
        fine = tolerance / max(tolerance, angle * couple.lever)

        def meets(share: float, spin: Array = spin, to: Array = shift) -> bool:
            """Shifted at once, then tilted."""
            place = couple.world(turned(share * spin[None])[0], to)
            return meet(fixed, moving.transform(place))

        def meets_later(share: float, spin: Array = spin, to: Array = shift) -> bool:
            """Shifted as it is tilted."""
            place = couple.world(turned(share * spin[None])[0], share * to)
            return meet(fixed, moving.transform(place))

        share = _share(meets, fine, least)
        if share < least:
            return ()
        if share < ALMOST and not (share and meets_later(share)):

            def meets_beyond(further: float, met: Test = meets_later, free: float = share) -> bool:
                return further > free and met(further)

            share = max(share, _share(meets_beyond, fine))
        found.append(min(STEEPEST, float(np.degrees(angle) * share)))
    return tuple(found)


def _share(meets: Test, fine: float, least: float = 0.0) -> float:
    """How much of a proposed tilt, up to half as much again, goes without contact.

    0 where that is less than the least.
    """
    near = 1 - fine / 2
    if not meets(near):
        if least:  # what cores do not let pass, bodies do not
            return near
        share = last_free(meets, near, MORE, 1 - NEAR, fine, 1 + fine / 2)
        return MORE if share is None else share
    for low, high in ((ALMOST, near), (NEAR, ALMOST)):
        if low < high and not meets(low):
            return last_free(meets, low, high, high - low, fine) or low
    if least or meets(min(fine, 1 - NEAR) / 2):
        return 0.0  # the shift alone meets something
    share = last_free(meets, 0.0, NEAR, 1 - NEAR, fine)
    return NEAR if share is None else share


def _steepest(couple: Couple) -> tuple[Array, Array, Array]:
    """Lines to tilt about, the largest tilts, radians, and the shifts that allow them."""
    leans = _LEANS
    shifts = np.zeros((LEANS, 3))
    low = np.zeros(LEANS)
    gap = float(couple.depth(np.eye(3)[None], np.zeros((1, 3)))[0])
    high = np.full(LEANS, max(gap, ROOM) / couple.lever)  # to be tried next, or known too steep
    steep = np.zeros(LEANS, dtype=bool)
    while not (steep | (low >= math.radians(STEEPEST))).all():
        angle = np.where(steep, low, high)
        fits, moved = _fitted(couple, leans * angle[:, None], shifts * _ratio(angle, low))
        better = fits & ~steep
        shifts[better], low[better] = moved[better], angle[better]
        steep |= ~fits
        high = np.where(steep, high, low * GROWTH)
    for _ in range(HALVINGS):
        angle = (low + high) / 2
        fits, moved = _fitted(couple, leans * angle[:, None], shifts * _ratio(angle, low))
        shifts[fits] = moved[fits]
        low, high = np.where(fits, angle, low), np.where(fits, high, angle)
    return leans, np.maximum(low, 1e-6), shifts


def _ratio(angle: Array, low: Array) -> Array:
    """By how much the shift for a smaller tilt is stretched to start with."""
    ratio: Array = np.where(low > 0, angle / np.where(low > 0, low, 1), 1)[:, None]
    return ratio


def _fitted(couple: Couple, spins: Array, shifts: Array) -> tuple[Array, Array]:
    """Which tilts fit after a shift, and the shifts."""
    turns, shifts = turned(spins), shifts.copy()
    stuck, found = np.arange(len(turns)), couple.distances(turns, shifts)
    for tried in range(SHIFTS + 1):
        tight = least(found) <= 0
        stuck, found = stuck[tight], (found[0][tight], found[1][tight])
        if tried == SHIFTS or not len(stuck):
            break
        turn = turns[stuck]
        shifts[stuck] += couple.push(turn, shifts[stuck], found, room=ROOM, tilting=False)[1]
        found = couple.distances(turn, shifts[stuck])
    fits = np.ones(len(turns), dtype=bool)
    fits[stuck] = False
    return fits, shifts
