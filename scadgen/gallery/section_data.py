"""Where a family's drawing cuts it, as data: planes that a page finds again at other values."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from scadgen.hinge.family import Hinge
from scadgen.pictures.sections import Plane, Section, sections
from scadgen.pictures.sides import Sides

#: Planes so near to the origin, mm, go through it whatever the values.
THROUGH = 1e-6
#: So far off a face, mm, it is certain at which side; a face is larger than this, mm2.
HAIR, FACE = 1e-5, 0.1


def section_views(hinge: Hinge) -> list[dict[str, Any]]:
    """The two planes of its drawing, each through the origin or at a share of the hinge's box.

    ``share`` is from 0, the low end of the box along the normal, to 1; None through the origin.
    """
    return [_view(section, hinge) for section in sections(Sides(hinge.mechanism()))]


def _view(section: Section, hinge: Hinge) -> dict[str, Any]:
    plane = _off_faces(section)
    axes = {"right": plane.right, "up": plane.up, "normal": plane.normal}
    return {
        "axes": {name: list(axis) for name, axis in axes.items()},
        "share": _share(plane, hinge),
    }


def _off_faces(section: Section) -> Plane:
    """The plane, a hair off a face of what prints that lies in it, at the side that it cuts.

    On a face itself the last digit decides what is cut.
    """
    plane, solids = section.plane, section.sides.printed.values()
    asides = [replace(plane, offset=plane.offset + way * HAIR) for way in (-1, 1)]
    here, *areas = (sum(p.cut(solid).area() for solid in solids) for p in (plane, *asides))
    offs = [abs(area - here) for area in areas]
    return plane if max(offs) - min(offs) < FACE else asides[offs.index(min(offs))]


def _share(plane: Plane, hinge: Hinge) -> float | None:
    from scadgen.hinge.meshing import mesh

    if abs(plane.offset) < THROUGH:
        return None
    box = mesh(hinge, angle=0).bounding_box()
    ends: list[float] = [
        sum(n * c for n, c in zip(plane.normal, box[k : k + 3], strict=True)) for k in (0, 3)
    ]
    low, high = sorted(ends)
    return (plane.offset - low) / (high - low)
