"""Products of the rows of (count, 3) arrays: column by column, many times as fast as along rows.

The sums are in numpy's own order, so that they are the same to the last digit.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]


def dot(one: Array, other: Array) -> Array:
    """The inner product of each row with its partner."""
    total: Array = one[..., 0] * other[..., 0]
    total += one[..., 1] * other[..., 1]
    total += one[..., 2] * other[..., 2]
    return total


def cross(one: Array, other: Array) -> Array:
    """The cross product of each row with its partner."""
    import numpy as np

    crossed = np.empty(np.broadcast_shapes(one.shape, other.shape))
    for k in range(3):
        i, j = (k + 1) % 3, (k + 2) % 3
        np.multiply(one[..., i], other[..., j], out=crossed[..., k])
        crossed[..., k] -= one[..., j] * other[..., i]
    return crossed


def length(rows: Array) -> Array:
    """The length of each row."""
    import numpy as np

    return np.asarray(np.sqrt(dot(rows, rows)))
