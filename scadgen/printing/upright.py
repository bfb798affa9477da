"""Between which heights all walls of a body stand upright: there its sections are the same."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.motion.nearest import corners
from scadgen.motion.rows import cross

if TYPE_CHECKING:
    from manifold3d import Manifold

#: Faces that lean less than this, as level way per height, are upright: so little moves no outline.
UPRIGHT = 1e-9
#: Heights this near to each other, mm, are the same.
LEVEL = 1e-6


@dataclass(frozen=True, eq=False)
class Upright:
    """Heights of the corners of a body, mm, and whether nothing leans from each to the next."""

    levels: tuple[float, ...]
    straight: tuple[bool, ...]

    def band(self, z: float) -> int | None:
        """The number of the upright stretch in which a height (mm) lies; None in no such one."""
        k = bisect_left(self.levels, z) - 1
        if not 0 <= k < len(self.straight) or not self.straight[k]:
            return None
        inside = self.levels[k] + LEVEL < z < self.levels[k + 1] - LEVEL
        return k if inside else None


def upright(body: Manifold) -> Upright:
    """Find the stretches of height in which no face of a body leans."""
    import numpy as np

    triangles = corners(body)
    a, b, c = triangles.transpose(1, 0, 2)
    normals = cross(b - a, c - a)
    heights = triangles[:, :, 2]
    levels = np.unique(heights)
    leaning = np.abs(normals[:, 2]) > UPRIGHT * np.sqrt((normals * normals).sum(1))
    first, last = (np.searchsorted(levels, end(heights[leaning], 1)) for end in (np.min, np.max))
    change = np.zeros(len(levels), dtype=int)
    np.add.at(change, first, 1)
    np.add.at(change, last, -1)
    return Upright(tuple(levels.tolist()), tuple((np.cumsum(change)[:-1] == 0).tolist()))
