"""Numbers from the outlines of cross sections."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy
    from manifold3d import CrossSection

    Array = numpy.ndarray[Any, Any]


def edges(section: CrossSection) -> Array:
    """All edges of a section that is not empty, as an array [edge, end, xy]."""
    import numpy as np

    loops = section.to_polygons()
    return np.concatenate([np.stack([loop, np.roll(loop, -1, axis=0)], axis=1) for loop in loops])


def distances(points: Array, lines: Array) -> Array:
    """The distance of each point [point, xy] to the nearest of the lines [line, end, xy]."""
    import numpy as np

    starts, runs = lines[:, 0], lines[:, 1] - lines[:, 0]
    offsets = points[:, None, :] - starts
    along = np.sum(offsets * runs, axis=2) / np.maximum(np.sum(runs * runs, axis=1), 1e-30)
    feet = np.clip(along, 0, 1)[:, :, None] * runs
    nearest: Array = np.linalg.norm(offsets - feet, axis=2).min(axis=1)
    return nearest


def centre(section: CrossSection) -> tuple[float, float]:
    """Centre of the area of a section that is not empty."""
    import numpy as np

    lines = edges(section)
    (x0, y0), (x1, y1) = lines[:, 0].T, lines[:, 1].T
    cross = x0 * y1 - x1 * y0
    twice = cross.sum()
    x, y = np.sum((x0 + x1) * cross) / (3 * twice), np.sum((y0 + y1) * cross) / (3 * twice)
    return float(x), float(y)


def apart(one: CrossSection, other: CrossSection) -> float:
    """Smallest distance between two sections; 0 where they overlap, inf where one is empty."""
    if one.is_empty() or other.is_empty():
        return float("inf")
    if (one ^ other).area() > 0:
        return 0.0
    a, b = edges(one), edges(other)
    return float(min(distances(a[:, 0], b).min(), distances(b[:, 0], a).min()))
