"""Whether two solids meet, and the search for the place where they begin to.

``(a ^ b).volume()`` decides, not ``min_gap``: on pairs of 1 000 to 6 000 triangles it takes about
half the time, and it tells touching (no shared volume, which is allowed) from meeting.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from manifold3d import Manifold

#: Shared volume, mm3, below which two solids only touch: above the slivers that rounding leaves
#: between faces in contact, and reached by a sharp point that has sunk in by 0.003 mm.
TOUCHING = 1e-8
#: Thinnest obstacle that holds anything, mm, as the mean thickness of the shared volume. Half a
#: millimetre into it, a lip 0.2 mm deep gives 0.14 and one 0.05 deep 0.045: a print gives so much.
GRAZE = 0.05

#: As far away, mm, as most bodies of a hinge are from each other.
NEAR = 0.5
#: How much farther, mm, is looked than bodies are said to be apart.
BEYOND = 0.01


def overlap(a: Manifold, b: Manifold) -> float:
    """The volume that two solids share, mm3."""
    return 0.0 if clear(a, b) else max(0.0, (a ^ b).volume())


def meet(a: Manifold, b: Manifold) -> bool:
    """True when two solids share more than a touch."""
    return overlap(a, b) > TOUCHING


def gap_between(a: Manifold, b: Manifold, search: float, about: float = NEAR) -> float:
    """The smallest distance between two solids, mm, looked for up to ``search``; 0 where they meet.

    A wide search tries many more pairs of triangles: it is looked first no farther than ``about``
    so far (mm), as the two may well be apart.
    """
    first = about + BEYOND
    found = float(a.min_gap(b, min(search, first)))
    return found if found < first or search <= first else float(a.min_gap(b, search))


def clear(a: Manifold, b: Manifold) -> bool:
    """True when the bounding boxes of two solids do not overlap."""
    return far_apart(a, b, 0.0)


def far_apart(a: Manifold, b: Manifold, distance: float) -> bool:
    """True when the bounding boxes of two solids are that far apart (mm) along an axis."""
    one, other = a.bounding_box(), b.bounding_box()
    return any(
        one[k] - other[k + 3] >= distance or other[k] - one[k + 3] >= distance for k in range(3)
    )


def thickness(solid: Manifold) -> float:
    """Mean thickness, mm: twice the volume over the surface; 0 for an empty solid or a sliver."""
    volume = solid.volume()
    return 2 * volume / solid.surface_area() if volume > TOUCHING else 0.0


def last_free(
    meets: Callable[[float], bool],
    start: float,
    end: float,
    step: float,
    tolerance: float,
    guess: float = 0.0,
    before: int = 0,
    *,
    close: bool = False,
) -> float | None:
    """How far one can go from `start` before `meets` turns true; None when it never does.

    Looks every `step` (or a little less) up to and including `end`, and at `guess`, then halves the
    last step until it is within `tolerance`. A contact that comes and goes within one step can be
    missed; a good guess saves most of the halving. before: so many tolerances before the guess it
    looks too, where a guess is known to be no less than what it guesses.
    """
    count = max(1, math.ceil((end - start) / step))
    places = [start + (end - start) * k / count for k in range(1, count + 1)]
    near = (guess + k * tolerance for k in range(-before, 2))
    places += [place for place in near if start < place < end]
    free = start
    for place in sorted(places):
        if meets(place):
            return _halved(meets, free, place, tolerance, close=close and place == guess)
        free = place
    return None


def _halved(
    meets: Callable[[float], bool], free: float, met: float, tolerance: float, *, close: bool
) -> float:
    last = free
    while close and met - last > tolerance * 1.001:
        last = (last + met) / 2
    if last > free and not meets(last):
        return last
    while met - free > tolerance * 1.001:  # a guess' two places may lie a rounding error wider
        middle = (free + met) / 2
        if meets(middle):
            met = middle
        else:
            free = middle
    return free
