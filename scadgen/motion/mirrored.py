"""Whether a solid is another one in a mirror square to an axis: both then turn alike in all."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from scadgen.motion.nearest import corners

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import Manifold

    from scadgen.motion.axis import Axis, Vector

    Array = np.ndarray[Any, Any]


def mirrored(pairs: list[tuple[Manifold, Manifold]], axis: Axis) -> bool:
    """Whether one mirror square to the axis takes the first of each pair to the second.

    Triangle for triangle, to the last digit: where rounding tells them apart they are not. None may
    be empty.
    """
    import numpy as np

    along = np.array(axis.unit)
    twice = None
    for one, other in pairs:
        here, there = (corners(solid) - np.array(axis.origin) for solid in (one, other))
        if here.shape != there.shape:
            return False
        if twice is None:
            twice = (here @ along).min() + (there @ along).max()
        image = here + (twice - 2 * (here @ along))[..., None] * along
        if not np.array_equal(_ordered(image[:, ::-1]), _ordered(there)):
            return False
    return True


def across(way: Vector, axis: Axis) -> Vector:
    """A way as a mirror square to the axis shows it."""
    rise = sum(k * along for k, along in zip(way, axis.unit, strict=True))
    x, y, z = (k - 2 * rise * along for k, along in zip(way, axis.unit, strict=True))
    return x, y, z


def _ordered(triangles: Array) -> Array:
    """Triangles as rows in an order of their own, each from its lowest corner on, as it runs."""
    import numpy as np

    rank = np.lexsort(triangles.reshape(-1, 3).T[::-1]).argsort().reshape(-1, 3)
    first = rank.argmin(1)[:, None]
    turned = np.take_along_axis(triangles, ((first + np.arange(3)) % 3)[..., None], 1)
    rows = turned.reshape(-1, 9) + 0.0  # no -0
    return np.asarray(rows[np.lexsort(rows.T[::-1])])
