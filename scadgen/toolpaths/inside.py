"""Which points lie inside an area."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from scadgen.printing.outlines import edges

if TYPE_CHECKING:
    import numpy
    from manifold3d import CrossSection

    Array = numpy.ndarray[Any, Any]

#: Points looked at together: memory stays small.
AT_ONCE = 1 << 22


def inside(points: Array, area: CrossSection) -> Array:
    """Whether each point (n, 2) lies inside an area: a ray from it crosses the outline oddly."""
    import numpy as np

    if area.is_empty() or not len(points):
        return np.zeros(len(points), bool)
    lines = edges(area)
    (x0, y0), (x1, y1) = lines[:, 0].T, lines[:, 1].T
    upright = y1 != y0
    x0, y0, x1, y1 = (value[upright] for value in (x0, y0, x1, y1))
    slope = (x1 - x0) / (y1 - y0)
    found = np.empty(len(points), bool)
    step = max(1, AT_ONCE // max(1, len(x0)))
    for k in range(0, len(points), step):
        x, y = points[k : k + step, :1], points[k : k + step, 1:]
        crossed = ((y0 > y) != (y1 > y)) & (x < x0 + slope * (y - y0))
        found[k : k + step] = crossed.sum(axis=1) % 2 == 1
    return found
