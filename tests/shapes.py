"""Hand-made solids for these tests; lengths in mm."""

from __future__ import annotations

import math

import numpy as np
from manifold3d import CrossSection, Manifold

from scadgen.motion.axis import Axis

UP = Axis((0, 0, 0), (0, 0, 1))
#: Somewhere askew, to which a test carries both bodies and their axis together.
ASKEW = Axis((3, -7, 11), (2, -3, 1))

#: Half angle (degrees) and clearance (mm) of a waisted spindle, and its play along the axis and
#: square to it (mm). Derived: c / sin a and c / cos a; checked by swept polygons elsewhere.
CONE_PAIRS = (
    (45, 0.30, 0.42426, 0.42426),
    (30, 0.30, 0.60000, 0.34641),
    (20, 0.25, 0.73095, 0.26604),
)

Point = tuple[float, float]


def box(low: tuple[float, float, float], high: tuple[float, float, float]) -> Manifold:
    """A box from its lowest to its highest corner."""
    x, y, z = (top - bottom for bottom, top in zip(low, high, strict=True))
    return Manifold.cube((x, y, z)).translate(low)


def turned(profile: list[Point], facets: int) -> Manifold:
    """A profile of (radius, height) points, counter-clockwise, revolved about Z."""
    return CrossSection([np.array(profile, dtype=float)]).revolve(facets)


def rod(radius: float, low: float, high: float, facets: int = 64) -> Manifold:
    """An upright rod."""
    return turned([(0, low), (radius, low), (radius, high), (0, high)], facets)


def carried(axis: Axis, by: Axis, degrees: float) -> Axis:
    """The axis itself turned about another."""
    matrix = by.matrix(degrees)
    origin = matrix @ (*axis.origin, 1.0)
    direction = matrix[:, :3] @ axis.direction
    return Axis(tuple(map(float, origin)), tuple(map(float, direction)))  # type: ignore[arg-type]


def waisted(half_angle: float, clearance: float, facets: int = 64) -> tuple[Manifold, Manifold]:
    """A spindle whose waist is two opposed cones, and a ring around it.

    half_angle: of the cones, from the axis, degrees. clearance: square to the flanks.
    """
    slope, neck, half = math.tan(math.radians(half_angle)), 4.0, 5.0
    wide = neck + half * slope
    spindle = turned(
        [(0, -half), (wide, -half), (neck, 0), (wide, half), (0, half)],
        facets,
    )
    side = clearance / math.cos(math.radians(half_angle))
    low = half - 2
    bore = neck + side + low * slope
    ring = turned(
        [(neck + side, 0), (bore, -low), (wide + 3, -low), (wide + 3, low), (bore, low)], facets
    )
    return spindle, ring


def ridges(gap: float, width: float, height: float) -> list[Manifold]:
    """Two roofs in a row along x, of which the third layer, their last, is a strip so wide (mm)."""
    top = 2.5 * height + width / 2  # over that layer's middle, at 45 degrees
    one = Manifold.extrude(CrossSection([[(-top, 0), (top, 0), (0, top)]]), 8)
    one = one.rotate((90, 0, 90))
    return [one, one.translate((8 + gap, 0, 0))]
