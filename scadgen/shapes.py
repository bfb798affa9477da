"""Shapes that several families share. Each is drawn here and nowhere else."""

from __future__ import annotations

from scadgen.expr import sqrt
from scadgen.solid import Shape, each, extrude, hull, part, polygon


def standing(outline: Shape, thickness: float) -> Shape:
    """An outline drawn in x and z, given ``thickness`` in y, half to each side of y = 0."""
    return extrude(outline, thickness).turned(x=90).at(y=thickness / 2)


def along_x(outline: Shape, length: float) -> Shape:
    """An outline drawn in y and z, extruded from x = 0 to ``length``."""
    return extrude(outline, length).turned(x=90, z=90)


@part
def corbel_below(radius: float, bore: float) -> Shape:
    """All below a corbel: a 45-degree plane that climbs from (radius, 0, 0) towards -x.

    Behind the bore nothing carries the plane, so there a ridge holds it back until the ring has
    closed in from both sides: every layer then lies within 45 degrees of the one below.
    """
    section = polygon(
        (-2 * radius, -2 * radius),
        (2 * radius, -2 * radius),
        (2 * radius, 0),
        (bore, 0),
        (0, bore / sqrt(2)),
        (-bore, 0),
        (-2 * radius, 0),
    )
    along = extrude(section, 4 * radius).at(z=-2 * radius)
    return along.turned(x=45, z=-90).at(z=radius)


def swept(outline: Shape, start: float, step: float, steps: float) -> Shape:
    """The outline turned about the origin from ``start`` by ``steps`` times ``step`` degrees.

    Each step is bridged by a hull, so only the arcs of the outline's own corners are cut short:
    by a share of 1 - cos(step / 2) of their radius.
    """
    return each(
        "k",
        steps,
        lambda k: hull(
            outline.turned(z=start + k * step), outline.turned(z=start + (k + 1) * step)
        ),
    )
