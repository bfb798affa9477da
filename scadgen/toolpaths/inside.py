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
#: Points of about the same height that are held against those edges alone that pass there.
BAND = 64


def inside(points: Array, area: CrossSection) -> Array:
    """Whether each point (n, 2) lies inside an area: a ray from it crosses the outline oddly."""
    import numpy as np

    if area.is_empty() or not len(points):
        return np.zeros(len(points), bool)
    found = np.zeros(len(points), bool)
    low_x, low_y, high_x, high_y = area.bounds()
    near = (points >= (low_x, low_y)).all(axis=1) & (points <= (high_x, high_y)).all(axis=1)
    order = np.nonzero(near)[0]
    order = order[np.argsort(points[order, 1])]
    lines = edges(area)
    (x0, y0), (x1, y1) = lines[:, 0].T, lines[:, 1].T
    upright = y1 != y0
    x0, y0, x1, y1 = (value[upright] for value in (x0, y0, x1, y1))
    low, high, slope = np.minimum(y0, y1), np.maximum(y0, y1), (x1 - x0) / (y1 - y0)
    step = max(1, min(BAND, AT_ONCE // max(1, len(x0))))
    for k in range(0, len(order), step):
        some = order[k : k + step]
        x, y = points[some, :1], points[some, 1:]
        which = (low <= y[-1]) & (high >= y[0])  # others pass above or below
        crossed = ((y0[which] > y) != (y1[which] > y)) & (
            x < x0[which] + slope[which] * (y - y0[which])
        )
        found[some] = crossed.sum(axis=1) % 2 == 1
    return found
