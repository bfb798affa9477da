"""Numbers read off the outlines of a hinge's sections, to hold against its parameters."""

from __future__ import annotations

import itertools
import math
from typing import TYPE_CHECKING, Any

from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.meshing import mesh
from scadgen.motion.axis import Axis
from scadgen.pictures.sections import Section, bodies, runs

if TYPE_CHECKING:
    import numpy as np
    from manifold3d import CrossSection

    from scadgen.hinge.family import Hinge

    Array = np.ndarray[Any, Any]

#: This far inside an end a leaf is measured, mm: its edge itself is no place to cross it.
INSIDE = 0.05


def measures(hinge: Hinge, through: Section, across: Section) -> dict[str, float]:
    """What the sections measure (mm, degrees), by the name of the value of the hinge it answers."""
    if isinstance(hinge, Pivot):
        return _pivot(hinge, through, across)
    return _flexure(hinge, through, across)


def _pivot(hinge: Pivot, through: Section, across: Section) -> dict[str, float]:
    outline = through.outline
    left, bottom, right, top = outline.bounds()
    upright = bool(hinge.axis()[1][2])
    leaf = across.outlines["moving"]
    ends = leaf.bounds()
    far = ends[2] - INSIDE if upright else ends[0] + INSIDE
    thick = runs(leaf, 1, far)
    x, y = axis_on(across, hinge)
    below = runs(across.outline, 1, x)[0][0]  # where no stop stands
    return {
        "clearance": _tightest(hinge, through, across),
        "swing": abs(turn(across, hinge)),
        ("height" if upright else "length"): top - bottom if upright else right - left,
        "leaf_thickness": sum(b - a for a, b in thick),
        "radius": y - below,
    }


def _flexure(hinge: Hinge, through: Section, across: Section) -> dict[str, float]:
    _, bottom, _, top = through.outline.bounds()
    _, low, _, high = across.outline.bounds()
    found = {"thickness": top - bottom, "width": high - low, "swing": bend(hinge, through)}
    thin = 2 * through.bearing[1]
    for name in ("left", "web"):  # a score line is thinner than the web that it crosses
        if hasattr(hinge, name):
            return {**found, name: thin}
    return {**found, "slit": slit(through)}


def slit(through: Section) -> float:
    """Narrowest opening through a sheet, in the middle of its thickness (mm)."""
    _, bottom, _, top = through.outline.bounds()
    solid = runs(through.outline, 0, (bottom + top) / 2)
    return min(after[0] - before[1] for before, after in itertools.pairwise(solid))


def turn(across: Section, hinge: Hinge) -> float:
    """Angle by which the moving outline has turned about the axis at its swing (degrees)."""
    ax, ay = axis_on(across, hinge)
    before, after = (centroid(o) for o in (across.outlines["moving"], across.swung))
    (a, b), (c, d) = ((x - ax, y - ay) for x, y in (before, after))
    return math.degrees(math.atan2(a * d - b * c, a * c + b * d))


def axis_on(section: Section, hinge: Hinge) -> tuple[float, float]:
    """Where the axis of a pivot meets the plane of a section."""
    assert isinstance(hinge, Pivot)
    origin = hinge.axis()[0]
    right, up = section.plane.right, section.plane.up
    return (
        sum(a * b for a, b in zip(origin, right, strict=True)),
        sum(a * b for a, b in zip(origin, up, strict=True)),
    )


def bend(hinge: Hinge, through: Section) -> float:
    """Angle by which the moving border of a flexure has turned at its swing (degrees)."""
    before, after = (_longest_edge(border(hinge, through, angle)) for angle in (0, hinge.swing))
    return (after - before) % 180 or 180.0


def border(hinge: Hinge, through: Section, angle: float) -> CrossSection:
    """Outline of a flexure's moving border, bent by an angle (degrees)."""
    return through.plane.cut(mesh(hinge, "moving", angle))


def gap(one: CrossSection, other: CrossSection) -> float:
    """Smallest distance between two outlines (mm)."""
    return min(_nearest(one, other), _nearest(other, one))


def _tightest(hinge: Pivot, through: Section, across: Section) -> float:
    """Smallest gap in both planes, either body turned by half a facet: there facets come closest.

    A plane through the corners of a shaft's facets is one through the middles of the ring's.
    """
    fixed, moving = bodies(hinge).values()
    axis, half = Axis(*hinge.axis()), 180 / hinge.facets
    pairs = ((fixed, axis.turn(moving, half)), (axis.turn(fixed, half), moving))
    planes = (through.plane, across.plane)
    return min(gap(p.cut(one), p.cut(other)) for p in planes for one, other in pairs)


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
