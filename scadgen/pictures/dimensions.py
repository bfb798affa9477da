"""Dimensions of a drawing's views, all of them read off the sections that are drawn."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import TYPE_CHECKING

from scadgen.hinge.measures import Measure
from scadgen.pictures.measures import Found, axis_on, borders, centroid, free_end, turn
from scadgen.pictures.measures import bend as measured_bend
from scadgen.pictures.paper import ARROW, CENTRE, LETTER, MIDDLE, Box, Point, text_box
from scadgen.pictures.sections import runs, way_of
from scadgen.pictures.sheet_dimensions import bending_span, openings

if TYPE_CHECKING:
    from scadgen.motion.axis import Axis
    from scadgen.pictures.layout import View
    from scadgen.pictures.paper import Paper

#: From a view to its dimension lines, mm on paper.
AWAY = 14.0
#: From a view to what stands before that line.
CLOSE = 6.5
#: Places at which a shaft's width is looked for; widths that count as one, mm; share of the widest
#: below which the narrowest is told.
STEPS, STRAIGHT, NARROWS = 120, 0.01, 0.95
#: At so many places a neck is as narrow: a tip is not.
STRAIGHT_FOR = 3
#: From a thin view to the line of its height.
BESIDE_THIN = 6.5
#: A turn that is smaller is not drawn, degrees.
LEAST = 0.5


def dimensions(paper: Paper, front: View, other: View, found: Found) -> None:
    """Sizes of both views, and the motion where it is a turn or a bend."""
    sides = front.section.sides
    if sides.axis:
        _of_a_turn(paper, sides.axis, front, other, found)
        return
    _whole_width(paper, front)
    _whole_height(paper, front)
    if sides.fold_line is None:
        _whole_width(paper, other)
        return
    _whole_height(paper, other)
    bending_span(paper, front)
    openings(paper, other)
    _bend(paper, front)


def _of_a_turn(paper: Paper, axis: Axis, front: View, other: View, found: Found) -> None:
    """Sizes of both views, the swing, and the diameters of the bearing."""
    centre = axis_on(other.section, axis)
    upright = way_of(axis) == 2
    _centre_lines(paper, axis, front, other)
    if not upright:
        _whole_width(paper, front)
        _axis_height(paper, axis, front)
    _whole_height(paper, front)
    _whole_width(paper, other)
    if upright:
        _reaches(paper, other, centre)
    _neck(paper, axis, front)
    if Measure.LEAF in found:
        _leaf_thickness(paper, other, found[Measure.LEAF])
    _swing(paper, other, centre)
    _shaft(paper, axis, front, other)
    if upright and Measure.RADIUS in found:
        radius = found[Measure.RADIUS]
        _leader(paper, other, centre, radius, f"\u2300{shown(2 * radius)}")


def _bend(paper: Paper, front: View) -> None:
    """The bend of a sheet, where its joint tells how its moving side lies at the end."""
    ends, bend = borders(front.section), measured_bend(front.section)
    if ends is None or bend is None:
        return
    (x, y), (u, v) = map(centroid, ends)
    # The middle lines of the border, at rest and bent, meet at the middle of the bend.
    meet = u - (v - y) / math.tan(math.radians(bend)) if bend < 180 else (x + u) / 2
    radius = (x - meet) * front.scale
    _arc(paper, front.at(meet, y), radius, 0, bend, front)


def _shaft(paper: Paper, axis: Axis, front: View, other: View) -> None:
    """Diameter of the body on the axis, where it is straight: a cone has none to tell."""
    k = way_of(axis)
    upright = k == 2
    middle = axis_on(front.section, axis)[0 if upright else 1]
    plane = other.section.plane
    place = plane.offset * plane.normal[k]
    widths = [
        b - a
        for outline in front.section.outlines.values()
        for beside in (place - 0.05, place, place + 0.05)
        for a, b in runs(outline, 0 if upright else 1, beside)
        if a < middle < b
    ]
    if widths and max(widths) - min(widths) < 0.001:
        centre, bodies = axis_on(other.section, axis), other.section.outlines.values()
        across = [run for outline in bodies for run in runs(outline, 0, centre[1])]
        width = next((b - a for a, b in across if a < centre[0] < b), None)
        if width is not None:
            _leader(paper, other, centre, width / 2, f"\u2300{shown(width)}")


def shown(value: float) -> str:
    """A number as a drawing has it, to a hundredth."""
    return f"{round(value, 2):g}"


def _centre_lines(paper: Paper, axis: Axis, front: View, other: View) -> None:
    """The axis in both views."""
    left, top, right, bottom = front.edges()
    x, y = front.at(*axis_on(front.section, axis))
    upright = ((x, top - 3), (x, bottom + 3))
    level = ((left - 3, y), (right + 3, y))
    paper.line(*(upright if way_of(axis) == 2 else level), colour="accent", dashes=CENTRE)
    centre = axis_on(other.section, axis)
    reach = (other.section.outline.bounds()[3] - centre[1]) * other.scale + 3
    x, y = other.at(*centre)
    paper.line((x, y - reach), (x, y + reach), colour="accent", dashes=CENTRE)
    paper.line((x - reach, y), (x + reach, y), colour="accent", dashes=CENTRE)


def _whole_width(paper: Paper, view: View) -> None:
    left, low, right, _ = view.section.outline.bounds()
    ends = view.at(left, low), view.at(right, low)
    paper.dimension(*ends, view.edges()[3] + AWAY, shown(right - left))


def _whole_height(paper: Paper, view: View) -> None:
    left, low, _, high = view.section.outline.bounds()
    ends = view.at(left, low), view.at(left, high)
    away = BESIDE_THIN if view.thin else AWAY
    paper.dimension(*ends, view.edges()[0] - away, shown(high - low))


def _axis_height(paper: Paper, axis: Axis, view: View) -> None:
    """Height of a lying axis over the bed."""
    _, low, right, _ = view.section.outline.bounds()
    ends = view.at(right, low), view.at(right, axis_on(view.section, axis)[1])
    paper.dimension(*ends, view.edges()[2] + AWAY, shown((ends[0][1] - ends[1][1]) / view.scale))


def _reaches(paper: Paper, view: View, centre: Point) -> None:
    """From an upright axis to the end of either leaf, where the number has room."""
    left, low, right, _ = view.section.outline.bounds()
    for end in (left, right):
        ends = view.at(min(end, centre[0]), low), view.at(max(end, centre[0]), low)
        words = shown(abs(end - centre[0]))
        if ends[1][0] - ends[0][0] > len(words) * MIDDLE * LETTER + 2 * ARROW:
            paper.dimension(*ends, view.edges()[3] + CLOSE, words)


def _neck(paper: Paper, axis: Axis, view: View) -> None:
    """Diameter of what stands on the axis where the section shows it narrowest, if it narrows.

    Left out where its words have no room.
    """
    upright = way_of(axis) == 2
    k = 1 if upright else 0
    middle = axis_on(view.section, axis)[1 - k]
    low, high = view.section.outline.bounds()[k::2]
    found: list[tuple[float, float, float]] = []
    for outline in view.section.outlines.values():
        for step in range(1, STEPS):
            place = low + (high - low) * step / STEPS
            across = [run for run in runs(outline, 1 - k, place) if run[0] < middle < run[1]]
            found += [(b - a, place, b) for a, b in across if abs(a + b - 2 * middle) < STRAIGHT]
    if not found:
        return
    width = min(found)[0]
    alike = [one for one in found if one[0] < width + STRAIGHT]
    _, place, side = alike[len(alike) // 2]
    if width > NARROWS * max(found)[0] or len(alike) < STRAIGHT_FOR:
        return
    tip = view.at(side, place) if upright else view.at(place, side)
    words = f"\u2300{shown(width)}"
    wide = len(words) * MIDDLE * LETTER + 1
    left, top, right, _ = view.edges()
    for rise in (6, 10, 14, 3, 18):
        spots = ((right + 1.5, tip[1] - rise), (left - wide - 1.5, tip[1] - rise))
        if not upright:
            spots = ((tip[0] + 4, top - rise / 2), (tip[0] - 4 - wide, top - rise / 2))
        for x, y in spots:
            box = (x, y - 1.1 * MIDDLE, x + wide, y + 0.4)
            if paper.free(box) and not covered(view, box):
                paper.leader(tip, box, words)
                return


def _leaf_thickness(paper: Paper, view: View, thickness: float) -> None:
    """Thickness at the free end of the moving leaf."""
    far, inside = free_end(view.section)
    outside = far >= view.section.outline.bounds()[2]
    low, high = runs(view.section.outlines["moving"], 1, far - inside)[0]
    away = BESIDE_THIN if view.thin else AWAY
    line = view.edges()[2] + away if outside else view.edges()[0] - away
    paper.dimension(view.at(far, low), view.at(far, high), line, shown(thickness))


def _swing(paper: Paper, view: View, centre: Point) -> None:
    """Arc from the face of the moving leaf that leads to where it ends its swing."""
    sweep = turn(view.section)
    if abs(sweep) < LEAST:
        return
    far, inside = free_end(view.section)
    side = math.copysign(1, far - centre[0])
    low, high = runs(view.section.outlines["moving"], 1, far - inside)[0]
    face = (high if side * sweep > 0 else low) - centre[1]
    reach = 0.72 * abs(far - centre[0])
    if abs(face) >= reach:
        return
    start = math.degrees(math.atan2(face, side * math.sqrt(reach**2 - face**2)))
    _arc(paper, view.at(*centre), reach * view.scale, start, sweep, view)


def _arc(
    paper: Paper, centre: Point, radius: float, start: float, sweep: float, view: View
) -> None:
    """Angular dimension about a place on paper; degrees count against the clock.

    Left out where the number has no room.
    """

    def on_arc(degrees: float, reach: float) -> Point:
        angle = math.radians(degrees)
        return centre[0] + reach * math.cos(angle), centre[1] - reach * math.sin(angle)

    words = f"{round(abs(sweep), 1):g}\u00b0"
    place = _beside_arc(paper, on_arc, radius, start, sweep, words, view)
    if place is None:
        return
    narrow = radius * math.radians(abs(sweep)) < 3 * ARROW  # arrows then point at it from outside
    spare = math.degrees(2 * ARROW / radius) * math.copysign(narrow, sweep)
    low, high = start - spare, start + sweep + spare
    paper.line(*(on_arc(low + (high - low) * k / 48, radius) for k in range(49)))
    for degrees, way in ((start, -1), (start + sweep, 1)):
        angle = math.radians(degrees)
        sense = way * math.copysign(1, sweep) * (-1 if narrow else 1)
        towards = (-sense * math.sin(angle), -sense * math.cos(angle))
        paper.arrow(on_arc(degrees, radius), towards)
    paper.text(place, words, MIDDLE, "middle")


def _beside_arc(
    paper: Paper,
    on_arc: Callable[[float, float], Point],
    radius: float,
    start: float,
    sweep: float,
    words: str,
    view: View,
) -> Point | None:
    """Where the number of an arc has room."""
    beyond = (1 + mm / math.radians(abs(sweep)) / radius for mm in (4, 6, 9, 12, 16))
    for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, *beyond):
        for reach in (radius + 3.5, radius - 3.5):
            x, y = on_arc(start + sweep * share, reach)
            place = (x, y + 0.35 * MIDDLE)
            box = text_box(place, words, MIDDLE, "middle")
            if paper.free(box) and not covered(view, box):
                return place
    return None


def _leader(paper: Paper, view: View, centre: Point, radius: float, words: str) -> None:
    """Words outside the view's outlines, with a leader to a circle about a place in it.

    Left out where they have no room.
    """
    wide = len(words) * MIDDLE * LETTER + 1
    for reach in (5, 8, 12, 16, 22, 30):
        for degrees in (-50, -130, 50, 130, -35, -145, 35, 145, -65, -115):
            angle = math.radians(degrees)
            tip = view.at(
                centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)
            )
            x, y = tip[0] + reach * math.cos(angle), tip[1] - reach * math.sin(angle)
            left = x if math.cos(angle) > 0 else x - wide
            box = (left, y - 1.1 * MIDDLE, left + wide, y + 0.4)
            if paper.free(box) and not covered(view, box):
                paper.leader(tip, box, words)
                return


def covered(view: View, box: Box) -> bool:
    """Whether a box on paper lies over the outlines of a view."""
    from manifold3d import CrossSection

    (x, y), scale = view.origin, view.scale
    left, right = (box[0] - x) / scale, (box[2] - x) / scale
    low, high = (y - box[3]) / scale, (y - box[1]) / scale
    room = CrossSection.square((right - left, high - low)).translate((left, low))
    return bool(((view.section.outline + view.section.swung) ^ room).area() > 0)
