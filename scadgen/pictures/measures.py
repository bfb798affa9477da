"""Numbers read off the outlines of a hinge's sections, to hold against its parameters."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from scadgen.hinge.measures import Measure
from scadgen.pictures.sections import Section, runs, way_of

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import CrossSection

    from scadgen.hinge.family import Hinge
    from scadgen.motion.axis import Axis

    Array = np.ndarray[Any, Any]

#: This far inside an end a leaf is measured, mm: its edge itself is no place to cross it.
INSIDE = 0.05

Found = dict[Measure, float]


def found(hinge: Hinge, through: Section, across: Section) -> Found:
    """What the sections measure (mm, degrees) of what the hinge's family tells of.

    What they do not show is left out.
    """
    told = dict.fromkeys(hinge.measured().values())
    read = {each: READERS[each](hinge, through, across) for each in told}
    return {each: size for each, size in read.items() if size is not None}


def measures(hinge: Hinge, read: Found) -> dict[str, float]:
    """The same by the name of the value of the hinge that each one answers."""
    return {name: read[each] for name, each in hinge.measured().items() if each in read}


def _gap(hinge: Hinge, through: Section, across: Section) -> float | None:
    """Smallest gap in both planes; about an axis, either body turned by half a facet, too.

    There facets come closest: a plane through the corners of a shaft's facets is one through the
    middles of the ring's.
    """
    sides, planes = through.sides, (through.plane, across.plane)
    if len(sides.cut) < 2:
        return None
    fixed, moving = sides.cut.values()
    axis, pairs = sides.axis, [(fixed, moving)]
    if axis:
        half = 180 / hinge.facets
        pairs = [
            (fixed, axis.turn(moving, half)),
            (axis.turn(fixed, -half), moving),
        ]  # as if opened, which is free
    least = min(gap(p.cut(one), p.cut(other)) for p in planes for one, other in pairs)
    return least if math.isfinite(least) else None


def _motion(hinge: Hinge, through: Section, across: Section) -> float | None:
    """How far what moves has come: about its axis, by its bend, or else as a way in the plane."""
    if through.sides.axis:
        return abs(turn(across))
    if through.sides.fold_line is not None:
        return bend(through)
    return travel(through)


def _length(hinge: Hinge, through: Section, across: Section) -> float | None:
    axis = through.sides.axis
    if axis is None:
        return None
    if way_of(axis) == 2:
        return _side(through.outline.bounds(), 1)
    along = runs(through.outline, 0, axis_on(through, axis)[1])  # arms may stand out elsewhere
    return along[-1][1] - along[0][0] if along else None


def _leaf(hinge: Hinge, through: Section, across: Section) -> float | None:
    if through.sides.axis is None or not across.cuts_all:
        return None
    far, inside = free_end(across)
    return sum(b - a for a, b in runs(across.outlines["moving"], 1, far - inside))


def _radius(hinge: Hinge, through: Section, across: Section) -> float | None:
    """From the axis to the outside, the least of the ways in which something may stand.

    Straight down a stop may, and about a lying axis aslant a wall; its top is flat.
    """
    axis = through.sides.axis
    if axis is None:
        return None
    x, y = axis_on(across, axis)
    ends = [end for run in runs(across.outline, 1, x) for end in run]
    if not ends:
        return None
    if way_of(axis) == 2:
        return min(y - ends[0], ends[-1] - y)
    aslant = (across.outline.translate((-x, -y)).rotate(turned) for turned in (45, -45))
    return min(y - ends[0], *(runs(one, 1, 0.0)[-1][1] for one in aslant))


def _thickness(hinge: Hinge, through: Section, across: Section) -> float | None:
    return _side(through.outline.bounds(), 1)


def _width(hinge: Hinge, through: Section, across: Section) -> float | None:
    folds = through.sides.fold_line is not None
    return _side(across.outline.bounds(), 1) if folds else None


def _thinnest(hinge: Hinge, through: Section, across: Section) -> float | None:
    if through.sides.fold_line is None or through.bearing is None:
        return None
    return 2 * through.bearing[1]


def _slit(hinge: Hinge, through: Section, across: Section) -> float | None:
    """In the middle of the thickness."""
    _, bottom, _, top = through.outline.bounds()
    solid = runs(through.outline, 0, (bottom + top) / 2)
    return min((b[0] - a[1] for a, b in itertools.pairwise(solid)), default=None)


def _side(box: tuple[float, float, float, float], k: int) -> float:
    """How wide (``k`` 0) or high (1) a box is."""
    return box[k + 2] - box[k]


#: What reads each measure off the two sections of a hinge.
READERS: dict[Measure, Callable[[Hinge, Section, Section], float | None]] = {
    Measure.GAP: _gap,
    Measure.MOTION: _motion,
    Measure.LENGTH: _length,
    Measure.LEAF: _leaf,
    Measure.RADIUS: _radius,
    Measure.THICKNESS: _thickness,
    Measure.WIDTH: _width,
    Measure.THINNEST: _thinnest,
    Measure.SLIT: _slit,
}


def free_end(across: Section) -> tuple[float, float]:
    """Where the moving side ends farthest from the axis, and a way beyond, out of it (mm)."""
    axis = across.sides.axis
    assert axis is not None
    left, _, right, _ = across.outlines["moving"].bounds()
    x, _ = axis_on(across, axis)
    return (right, INSIDE) if right - x > x - left else (left, -INSIDE)


def turn(across: Section) -> float:
    """Angle by which the moving outline has turned about the axis (degrees); 0 where it has not."""
    axis = across.sides.axis
    if axis is None or across.swung.is_empty() or not across.cuts_all:
        return 0.0
    ax, ay = axis_on(across, axis)
    before, after = (centroid(o) for o in (across.outlines["moving"], across.swung))
    (a, b), (c, d) = ((x - ax, y - ay) for x, y in (before, after))
    return math.degrees(math.atan2(a * d - b * c, a * c + b * d))


def axis_on(section: Section, axis: Axis) -> tuple[float, float]:
    """Where an axis meets the plane of a section."""
    return section.plane.place(axis.origin)


def travel(through: Section) -> float | None:
    """Way of the moving outline's middle in the plane (mm), where both its ends are seen."""
    before = through.outlines.get("moving")
    if before is None or before.is_empty() or through.swung.is_empty():
        return None
    return math.dist(centroid(before), centroid(through.swung))


def bend(through: Section) -> float | None:
    """Angle by which the moving side of a sheet has turned at its end (degrees)."""
    ends = borders(through)
    if ends is None:
        return None
    before, after = map(_longest_edge, ends)
    return (after - before) % 180 or 180.0


def borders(through: Section) -> tuple[CrossSection, CrossSection] | None:
    """Outlines of a sheet's moving side as it prints and bent, where a joint draws it alone."""
    joint, (_, high) = through.sides.joint, through.sides.ends
    if joint is None or joint.posed is None or not high:
        return None
    rest, bent = (through.plane.cut(joint.posed(angle)) for angle in (0, high))
    return None if rest.is_empty() or bent.is_empty() else (rest, bent)


def gap(one: CrossSection, other: CrossSection) -> float:
    """Smallest distance between two outlines (mm); infinite where one is empty."""
    if one.is_empty() or other.is_empty():
        return math.inf
    return min(_nearest(one, other), _nearest(other, one))


def _nearest(one: CrossSection, other: CrossSection) -> float:
    """Smallest distance from a corner of one outline to an edge of the other."""
    import numpy as np

    corners = np.concatenate(one.to_polygons())[:, None]
    contours = other.to_polygons()
    start = np.concatenate(contours)
    way = np.concatenate([np.roll(c, -1, 0) for c in contours]) - start
    length = np.maximum((way**2).sum(1), 1e-18)
    share = np.clip((((corners - start) * way).sum(2)) / length, 0, 1)
    return float(np.sqrt(((start + share[..., None] * way - corners) ** 2).sum(2).min()))


def _longest_edge(outline: CrossSection) -> float:
    """Direction of the longest edge (degrees)."""
    import numpy as np

    edges = np.concatenate([np.roll(c, -1, 0) - c for c in outline.to_polygons()])
    x, y = edges[(edges**2).sum(1).argmax()]
    return math.degrees(math.atan2(y, x))


def centroid(outline: CrossSection) -> tuple[float, float]:
    """Middle of an outline by its area (mm)."""
    import numpy as np

    total = np.zeros(3)
    for contour in outline.to_polygons():
        there = np.roll(contour, -1, 0)
        part = contour[:, 0] * there[:, 1] - there[:, 0] * contour[:, 1]
        total += [part.sum() / 2, *((contour + there) * part[:, None] / 6).sum(0)]
    return float(total[1] / total[0]), float(total[2] / total[0])
