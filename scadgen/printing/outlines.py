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


def moved(section: CrossSection, distance: float, miter: float = 2.0) -> CrossSection:
    """A section whose sides are moved out by a distance, mm; in, where it is below 0.

    miter: a corner comes no farther out than so many distances, or is cut off there.
    """
    from manifold3d import JoinType

    return section.offset(distance, JoinType.Miter, miter)


def distances(points: Array, lines: Array) -> Array:
    """The distance of each point [point, xy] to the nearest of the lines [line, end, xy]."""
    import numpy as np

    start_x, start_y = lines[:, 0].T
    run_x, run_y = (lines[:, 1] - lines[:, 0]).T
    x, y = points[:, :1] - start_x, points[:, 1:] - start_y
    along = (x * run_x + y * run_y) / np.maximum(run_x * run_x + run_y * run_y, 1e-30)
    np.minimum(np.maximum(along, 0, out=along), 1, out=along)
    x -= along * run_x
    y -= along * run_y
    nearest: Array = np.sqrt((x * x + y * y).min(axis=1))
    return nearest


def within(section: CrossSection) -> tuple[float, float]:
    """A point of a section that is not empty: its centre if that is one, or one level with it.

    Of a ring or a hook it is the middle of the widest part that is as far along y as the centre.
    """
    import numpy as np

    lines = edges(section)
    (x0, y0), (x1, y1) = lines[:, 0].T, lines[:, 1].T
    cross = x0 * y1 - x1 * y0
    twice = cross.sum()
    x, y = np.sum((x0 + x1) * cross) / (3 * twice), np.sum((y0 + y1) * cross) / (3 * twice)
    passed = (y0 > y) != (y1 > y)
    ends = np.sort((x0 + (x1 - x0) * (y - y0) / np.where(passed, y1 - y0, 1))[passed])
    starts, stops = ends[::2], ends[1::2]
    if np.any((starts <= x) & (x <= stops)):
        return float(x), float(y)
    if not len(starts):
        return within(max(section.decompose(), key=lambda part: part.area()))
    widest = np.argmax(stops - starts)
    return float((starts[widest] + stops[widest]) / 2), float(y)


def apart(one: CrossSection, other: CrossSection) -> float:
    """Smallest distance between two sections; 0 where they overlap, inf where one is empty."""
    if one.is_empty() or other.is_empty():
        return float("inf")
    if (one ^ other).area() > 0:
        return 0.0
    a, b = edges(one), edges(other)
    return float(min(distances(a[:, 0], b).min(), distances(b[:, 0], a).min()))


def second_moments(section: CrossSection) -> tuple[float, Array, Array]:
    """Area of a section that is not empty, mm2, its centre, mm, and its second moments, mm4.

    The moments, about the centre, are the integrals of x x, x y and y y over the area, as a matrix.
    """
    import numpy as np

    lines = edges(section)
    start, end = lines[:, 0], lines[:, 1]
    cross = start[:, 0] * end[:, 1] - start[:, 1] * end[:, 0]
    both = start + end
    area = float(cross.sum()) / 2
    centre: Array = cross @ both / (6 * area)
    about_origin = sum(np.einsum("i,ij,ik->jk", cross, way, way) for way in (start, end, both)) / 24
    return area, centre, about_origin - area * np.outer(centre, centre)


def widths(corners: Array, point: Array) -> tuple[float, float]:
    """Least width of a convex outline (mm), and how far within its edges a point lies (mm).

    corners: [corner, xy], anticlockwise. Negative for a point outside: how far beyond an edge.
    """
    import numpy as np

    ways = np.roll(corners, -1, axis=0) - corners
    lengths = np.linalg.norm(ways, axis=1)
    real = lengths > 0
    outward = np.stack([ways[:, 1], -ways[:, 0]], axis=1)[real] / lengths[real, None]
    reach = corners @ outward.T
    ends = reach.max(axis=0)
    return float((ends - reach.min(axis=0)).min()), float((ends - point @ outward.T).min())
