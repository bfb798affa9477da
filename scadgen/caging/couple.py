"""Two bodies as their cores see them: where many poses leave them, all at once, and quickly."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.caging.section import BAND, Grid
from scadgen.motion.pair import Couple
from scadgen.motion.skin import skin_of

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.caging.certificate import Certificate
    from scadgen.caging.section import Section
    from scadgen.motion.axis import Axis

Array = np.ndarray[Any, Any]

#: Places on a core's surface: so many around the axis, at its corners and, between them, so far
#: apart (mm).
AROUND, PACE = 16, 1.0
#: So many of them at most along an edge of its section.
MOST = 8
#: Farther from the other core than this, mm, no place is looked at: the grid tells no more.
FAR = 0.99 * BAND
#: Places that the grid does not tell of are nearer than any others if they are by such a share.
NEARER = 0.9


class Cored(Couple):
    """A couple whose bodies are met by each other's cores only, not by what is not round.

    So it sees an arm in a groove, but not two arms: poses that it finds free are tried on the
    bodies. Near a sharp edge of a core distances are up to a quarter of its grid's step off.
    """

    def __init__(self, cage: Certificate, fixed: Manifold, moving: Manifold, axis: Axis) -> None:
        pair, region = cage.witnesses.pair, cage.region
        self.frame = np.array(axis.frame)
        self.origin = np.array(axis.origin) + pair.centre * self.frame[2]
        place = np.column_stack([self.frame, -self.frame @ self.origin])
        cores = [
            Round(grid, pair.centre) for grid in (pair.grid, Grid(pair.moving, *pair.grid.reach))
        ]
        self.fields = [*cores]
        shift = math.hypot(region.aside, max(region.above, region.below))
        seen = zip((fixed, moving), (pair.fixed, pair.moving), cores[::-1], strict=True)
        self.points = [
            _near(
                np.hstack([_around(section, pair.centre), skin_of(body.transform(place)).points.T]),
                other,
                shift,
                region.tilt,
            )
            for body, section, other in seen
        ]
        self.lever = max(1.0, float(cage.witnesses.levers.max()))


class Round:
    """Signed distances, mm, from a core, negative inside it."""

    def __init__(self, grid: Grid, centre: float) -> None:
        self.values, self.step = grid.depths, grid.step
        self.low = float(grid.along[0]) - centre
        self.most = np.array(self.values.shape) - 1.001

    def at(self, points: Array) -> Array:
        """Distances of points (3, n), given from the centre."""
        corners, share = self._around(np.hypot(points[0], points[1]), points[2])
        inner, outer = corners[:2] + share[0] * (corners[2:] - corners[:2])
        found: Array = -(inner + share[1] * (outer - inner))
        return found

    def tells(self, points: Array) -> Array:
        """Which points (3, n) lie between the ends of the grid: of others it tells those there."""
        places = (points[2] - self.low) / self.step
        seen: Array = (places >= 0) & (places <= self.most[1])
        return seen

    def gradient(self, points: Array) -> Array:
        """Directions (3, n) in which the distances grow fastest; length 1, or 0 where unknown."""
        off = np.hypot(points[0], points[1])
        (a, b, c, d), share = self._around(off, points[2])
        rise = (a - b) + share[0] * (c - d - (a - b))
        out = (a - c) + share[1] * (b - d - (a - c))
        out = out / np.maximum(off, 1e-9)
        found = np.stack([out * points[0], out * points[1], rise])
        length = np.linalg.norm(found, axis=0)
        slope: Array = found / np.where(length > 0, length, 1)
        return slope

    def _around(self, off: Array, along: Array) -> tuple[Array, Array]:
        """Depths at the four nodes around each place, and where it is between them."""
        scaled = np.stack([off, along - self.low]) / self.step
        np.clip(scaled, 0, self.most[:, None], out=scaled)
        row, column = whole = scaled.astype(np.int32)
        nodes = row * self.values.shape[1] + column
        wide = self.values.shape[1]
        corners = self.values.ravel().take(
            np.stack([nodes, nodes + 1, nodes + wide, nodes + wide + 1])
        )
        return corners, scaled - whole


def _around(section: Section, centre: float) -> Array:
    """Places (3, n) on the surface of a core, from the centre."""
    start, stop = section.edges.transpose(1, 0, 2)
    many = np.ceil(np.linalg.norm(stop - start, axis=1) / PACE).clip(1, MOST).astype(int)
    edge = np.repeat(np.arange(len(many)), many)
    share = (np.arange(len(edge)) - np.repeat(many.cumsum() - many, many)) / many[edge]
    off, along = (start[edge] + share[:, None] * (stop - start)[edge]).T
    angles = np.arange(AROUND) * 2 * np.pi / AROUND
    return np.stack(
        [
            np.outer(off, np.cos(angles)).ravel(),
            np.outer(off, np.sin(angles)).ravel(),
            np.repeat(along - centre, AROUND),
        ]
    )


def _near(points: Array, field: Round, shift: float, tilt: float) -> Array:
    """Those of the points (3, n) that come to a core when shifted (mm) and tilted (rad) so far.

    Beyond the ends of the grid those are left out that seem to be nearer at rest than any within.
    """
    moved = shift + 2 * math.sin(tilt / 2) * np.linalg.norm(points, axis=0)
    found, within = field.at(points), field.tells(points)
    told = within | (found > NEARER * found[within].min(initial=FAR))
    kept: Array = points[:, (found < np.minimum(moved, FAR)) & told]
    return kept
