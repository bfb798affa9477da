"""A z-buffer: which triangle is nearest at each pixel, for all triangles at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]

NOTHING = -1
#: Twice the area, in pixels, up to which a triangle may be seen from its edge; y runs down, so that
#: of one that looks towards the eye it is below 0.
EDGE_ON = 1e-6


def raster(triangles: Array, width: int, height: int) -> tuple[Array, Array]:
    """Depth and index of the nearest triangle at the middle of each pixel, as (height, width).

    ``triangles`` is (count, 3, 3): corners in pixels, x to the right, y down, and depth, which
    grows away from the eye. Where there is none the depth is infinite, the index NOTHING.
    """
    import numpy as np

    which, pixel, depth = _covered(triangles, width, height)
    nearest = np.full(height * width, np.inf)
    np.minimum.at(nearest, pixel, depth)
    seen = depth == nearest[pixel]
    index = np.full(height * width, NOTHING, np.int32)
    index[pixel[seen]] = which[seen]
    return nearest.reshape(height, width), index.reshape(height, width)


def depths(triangles: Array, width: int, height: int) -> Array:
    """The depths that :func:`raster` finds, of solids: what looks away is behind something."""
    import numpy as np

    (ax, ay), (bx, by) = (triangles[:, 1:, :2] - triangles[:, :1, :2]).transpose(1, 2, 0)
    area = ax * by - ay * bx
    _, pixel, depth = _covered(triangles[area <= EDGE_ON], width, height)
    nearest = np.full(height * width, np.inf)
    np.minimum.at(nearest, pixel, depth)
    return nearest.reshape(height, width)


def _covered(triangles: Array, width: int, height: int) -> tuple[Array, Array, Array]:
    """Each triangle with each pixel that it covers, and its depth there."""
    which, row = _rows(triangles, height)
    left, right = _spans(triangles, which, row + 0.5, width)
    which, row, column = _runs(left, right, which, row)
    depth = _depths(triangles, which, column + 0.5, row + 0.5)
    return which, row * width + column, depth


def _rows(triangles: Array, height: int) -> tuple[Array, Array]:
    """Each triangle with each pixel row that it may touch."""
    import numpy as np

    y = triangles[:, :, 1]
    first = np.clip(np.ceil(y.min(1) - 0.5), 0, height).astype(np.int32)
    end = np.clip(np.ceil(y.max(1) - 0.5), first, height).astype(np.int32)
    (which, row) = _runs(first, end, np.arange(len(triangles), dtype=np.int32))
    return which, row


def _spans(triangles: Array, which: Array, y: Array, width: int) -> tuple[Array, Array]:
    """First column and end of each triangle, one in each row, on the line at its ``y``."""
    import numpy as np

    low, high = np.full(len(y), np.inf), np.full(len(y), -np.inf)
    corners = [[triangles[:, k, axis].take(which) for axis in range(2)] for k in range(3)]
    for k in range(3):
        (xa, ya), (xb, yb) = corners[k], corners[(k + 1) % 3]
        crossed = np.minimum(ya, yb) <= y
        crossed &= (y <= np.maximum(ya, yb)) & (ya != yb)
        x = y - ya
        x /= np.where(crossed, yb - ya, 1)
        x *= xb - xa
        x += xa
        np.minimum(low, x, out=low, where=crossed)
        np.maximum(high, x, out=high, where=crossed)
    left = np.clip(np.ceil(low - 0.5), 0, width).astype(np.int32)
    return left, np.maximum(np.clip(np.ceil(high - 0.5), 0, width).astype(np.int32), left)


def _runs(start: Array, end: Array, *beside: Array) -> tuple[Array, ...]:
    """Every number from each ``start`` to its ``end``, behind what stands beside it."""
    import numpy as np

    count = end - start
    before = np.cumsum(count) - count
    numbers = np.arange(count.sum(), dtype=np.int32) + np.repeat(start - before, count)
    return (*(np.repeat(values, count) for values in beside), numbers.astype(np.int32))


def _depths(triangles: Array, which: Array, x: Array, y: Array) -> Array:
    """Depth of each triangle's plane at x and y, never beyond its corners."""
    import numpy as np

    origin = triangles[:, 0]
    a, b = (triangles[:, 1:] - origin[:, None]).transpose(1, 2, 0)
    area = a[0] * b[1] - a[1] * b[0]
    area = np.where(area == 0, np.inf, area)
    along_x = (a[2] * b[1] - a[1] * b[2]) / area
    along_y = (a[0] * b[2] - a[2] * b[0]) / area
    flat = origin[:, 2] - along_x * origin[:, 0] - along_y * origin[:, 1]
    z = triangles[:, :, 2]
    depth: Array = along_x.take(which)
    depth *= x
    depth += flat.take(which)
    aside = along_y.take(which)
    aside *= y
    depth += aside
    np.maximum(depth, z.min(1).take(which), out=depth)
    np.minimum(depth, z.max(1).take(which), out=depth)
    return depth
