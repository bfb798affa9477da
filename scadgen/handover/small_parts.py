"""Whether a body may be a small part: whether it may fit the cylinder of the toy-safety rules.

16 CFR 1501.4, figure 1 (looked up): a bore of 31.75 mm whose floor slopes from 25.4 mm to 57.15 mm
below the rim. ISO 8124-1 and EN 71-1 clause 8.2 use the same cylinder. What goes in entirely, in
any way it may be turned and without being squeezed, is a small part.

The test is on the safe side. A body fits only if its convex hull does, and the hull only if it is
no wider than the cylinder in every direction across it, and in some direction along its slope.
Directions for the cylinder's axis are tried on a net that is made finer where the hull might fit,
until it does, or cannot. So a body that fits is never missed; one that does not may be called a
possible small part where it is too large by less than about a millimetre, or where it touches the
cylinder in more than three places at once.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any, cast

if TYPE_CHECKING:
    import numpy
    from manifold3d import Manifold

    Array = numpy.ndarray[Any, Any]

BORE = 31.75  # mm
SHALLOW, DEEP = 25.4, 57.15  # mm, the floor's depth on either side
#: Longest straight line in the cylinder, mm: from the rim to the deep side's floor.
LONGEST = math.hypot(BORE, DEEP)
#: From the slope to the rim's far side, square to the slope, mm. The slope is 45 degrees.
ACROSS_SLOPE = DEEP / math.sqrt(2)

#: Directions of the first net, of how many of them one is tried before all, and directions
#: around the axis; the last a multiple of 6.
_NET, _FIRST, _AROUND = 800, 40, 24
#: Directions around the axis in which the slope is tried.
_SLOPES = 180
#: Nets, each half as wide as the one before; directions that are left to look at, at most.
_LEVELS, _MOST = 6, 12_000
#: Distances that are worked out together.
_TOGETHER = 100_000


def may_be_small_part(body: Manifold) -> bool:
    """Whether a body (mm) may fit entirely into the cylinder, turned in any way."""
    import numpy as np

    corners = body.hull().to_mesh64().vert_properties[:, :3].astype(float)
    corners = corners - (corners.min(axis=0) + corners.max(axis=0)) / 2
    longest = _longest(corners)
    if longest > LONGEST:
        return False
    ways, spread = _hemisphere(_NET), 2.2 / math.sqrt(_NET)
    around = longest * math.pi / _SLOPES
    few = ways[::_FIRST]  # most that fit do so in some of these
    if np.any((_over(corners, few) <= 0) & (_over_slope(corners, few) <= around)):
        return True
    for _ in range(_LEVELS):
        # A width changes by no more than the longest line times the turn of its direction.
        off = longest * spread
        over = _over(corners, ways)
        open_ways = ways[over <= off]
        over = over[over <= off]
        if not len(open_ways):
            return False
        sloped = _over_slope(corners, open_ways) - around
        if np.any((over <= 0) & (sloped <= 0)):
            return True
        open_ways = open_ways[sloped <= off]
        if not len(open_ways) or len(open_ways) * 7 > _MOST:
            return bool(len(open_ways))
        ways, spread = _finer(open_ways, spread), spread / 2
    return True


def _longest(corners: Array) -> float:
    """Longest line between two corners."""
    import numpy as np

    apart = corners[:, None] - corners
    return float(np.sqrt((apart**2).sum(axis=2).max()))


def _hemisphere(count: int) -> Array:
    """Directions spread evenly over half a sphere, on Fibonacci's spiral.

    The farthest any direction lies from one of them is below 2.2/sqrt(count) rad (tested).
    """
    import numpy as np

    k = np.arange(count) + 0.5
    height, turn = k / count, k * math.pi * (3 - math.sqrt(5))
    flat = np.sqrt(1 - height**2)
    return np.stack([flat * np.cos(turn), flat * np.sin(turn), height], axis=1)


def _finer(ways: Array, spread: float) -> Array:
    """Seven directions for each: circles of half the radius that cover the circle around it."""
    import numpy as np

    first, second = _square_to(ways)
    step = math.tan(spread) * math.sqrt(3) / 2
    ring = np.arange(6) * math.pi / 3
    moved = [ways + step * (math.cos(a) * first + math.sin(a) * second) for a in ring]
    every = np.concatenate([ways, *moved])
    return cast("Array", every / np.linalg.norm(every, axis=1, keepdims=True))


def _square_to(ways: Array) -> tuple[Array, Array]:
    """Two directions for each, square to it and to each other."""
    import numpy as np

    helper = np.where(np.abs(ways[:, 2:]) < 0.7, [[0.0, 0.0, 1.0]], [[1.0, 0.0, 0.0]])
    first = np.cross(ways, helper)
    first /= np.linalg.norm(first, axis=1, keepdims=True)
    return first, np.cross(ways, first)


def _circle(ways: Array, count: int) -> Array:
    """Directions around each: [way, direction, xyz]."""
    import numpy as np

    first, second = _square_to(ways)
    turn = np.arange(count) * 2 * math.pi / count
    cos, sin = np.cos(turn)[None, :, None], np.sin(turn)[None, :, None]
    return cast("Array", cos * first[:, None] + sin * second[:, None])


def _ends(corners: Array, ways: Array) -> tuple[Array, Array]:
    """From where to where the body reaches in each direction, in steps that fit the cache."""
    import numpy as np

    flat = ways.reshape(-1, 3)
    found = []
    for part in np.array_split(flat, max(1, len(flat) * len(corners) // _TOGETHER)):
        there = corners @ part.T  # so that the least of many directions are found at once
        found.append([there.min(axis=0), there.max(axis=0)])
    low, high = np.concatenate(found, axis=1)
    return low.reshape(ways.shape[:-1]), high.reshape(ways.shape[:-1])


def _length(corners: Array, ways: Array) -> Array:
    """How long the body is in each direction."""
    low, high = _ends(corners, ways)
    return cast("Array", high - low)


def _over(corners: Array, ways: Array) -> Array:
    """By how much the body is too large for a cylinder along each direction (mm).

    Within a circle of diameter d, opposite reaches add up to no more than d, and three reaches at
    120 degrees to no more than 3 d/2, wherever its middle is.
    """
    import numpy as np

    half, third = _AROUND // 2, _AROUND // 3
    low, high = _ends(corners, _circle(ways, _AROUND)[:, :half])
    across = np.concatenate([high, -low], axis=1)  # the other half is opposite
    widest = (across[:, :half] + across[:, half:]).max(axis=1)
    three = across[:, :third] + across[:, third : 2 * third] + across[:, 2 * third :]
    tall = _length(corners, ways)
    return cast(
        "Array", np.max([widest - BORE, three.max(axis=1) * 2 / 3 - BORE, tall - DEEP], axis=0)
    )


def _over_slope(corners: Array, ways: Array) -> Array:
    """By how much the body is too large square to the slope, turned the best way (mm)."""
    import numpy as np

    found = []
    for some in np.array_split(ways, max(1, len(ways) // 200)):
        square = (some[:, None] + _circle(some, _SLOPES)) / math.sqrt(2)
        found.append(_length(corners, square).min(axis=1) - ACROSS_SLOPE)
    return np.concatenate(found)
