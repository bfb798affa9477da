"""A z-buffer: which triangle is nearest at each pixel, for all triangles at once."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]

NOTHING = -1


def raster(triangles: Array, width: int, height: int) -> tuple[Array, Array]:
    """Depth and index of the nearest triangle at the middle of each pixel, as (height, width).

    ``triangles`` is (count, 3, 3): corners in pixels, x to the right, y down, and depth, which
    grows away from the eye. Where there is none the depth is infinite, the index NOTHING.
    """
    import numpy as np

    which, row = _rows(triangles, height)
    left, right = _spans(triangles[which], row + 0.5, width)
    which, row, column = _runs(left, right, which, row)
    depth = _depths(triangles, which, column + 0.5, row + 0.5)
    pixel = row * width + column
    nearest = np.full(height * width, np.inf)
    np.minimum.at(nearest, pixel, depth)
    seen = depth == nearest[pixel]
    index = np.full(height * width, NOTHING, np.int32)
    index[pixel[seen]] = which[seen]
    return nearest.reshape(height, width), index.reshape(height, width)


def _rows(triangles: Array, height: int) -> tuple[Array, Array]:
    """Each triangle with each pixel row that it may touch."""
    import numpy as np

    y = triangles[:, :, 1]
    first = np.clip(np.ceil(y.min(1) - 0.5), 0, height).astype(np.int32)
    end = np.clip(np.ceil(y.max(1) - 0.5), first, height).astype(np.int32)
    (which, row) = _runs(first, end, np.arange(len(triangles), dtype=np.int32))
    return which, row


def _spans(corners: Array, y: Array, width: int) -> tuple[Array, Array]:
    """First column and end of each triangle on the line at its ``y``."""
    import numpy as np

    low, high = np.full(len(y), np.inf), np.full(len(y), -np.inf)
    for k in range(3):
        (xa, ya), (xb, yb) = corners[:, k, :2].T, corners[:, (k + 1) % 3, :2].T
        crossed = np.minimum(ya, yb) <= y
        crossed &= (y <= np.maximum(ya, yb)) & (ya != yb)
        x = xa + (y - ya) / np.where(crossed, yb - ya, 1) * (xb - xa)
        low = np.where(crossed, np.minimum(low, x), low)
        high = np.where(crossed, np.maximum(high, x), high)
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
    depth = flat[which] + along_x[which] * x + along_y[which] * y
    z = triangles[:, :, 2]
    clipped: Array = np.clip(depth, z.min(1)[which], z.max(1)[which])
    return clipped
