"""The detail of a drawing: the bearing's gap, or the thin place of a flexure, enlarged."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from scadgen.hinge.measures import Measure
from scadgen.pictures.dimensions import covered, shown
from scadgen.pictures.layout import SCALES, View
from scadgen.pictures.measures import Found, gap
from scadgen.pictures.notes import scale_words
from scadgen.pictures.paper import LARGE, LETTER, MIDDLE, Box, Point, hatched, text_box

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from scadgen.hinge.family import Hinge
    from scadgen.pictures.paper import Paper

#: Room over and under the circle for its labels and its title, mm.
OVER, UNDER = 10.0, 12.0
#: A gap so many times as wide as the tightest is not the bearing's.
ROOMY = 1.2
#: A detail shows at least so many clearances, and this share of a sheet's thickness, all around.
CLEARANCES, THICKNESSES = 7.5, 0.7


def detail(paper: Paper, hinge: Hinge, views: tuple[View, View], box: Box, found: Found) -> None:
    """Draw the circle into the box, and mark in its view what it enlarges.

    That is the first view, unless only the second shows the bearing at its tightest. A hinge with
    no bearing, of whose sheet nothing is told, has no detail.
    """
    front, thin = views[0], _told_of_sheet(hinge, found)
    sides = front.section.sides
    turns = sides.axis is not None or sides.look is not None
    if front.section.bearing is None or not (turns or thin):
        return
    left, top, right, bottom = box
    radius = min((bottom - top - OVER - UNDER) / 2, (right - left) / 2 - 4)
    centre = ((left + right) / 2, top + OVER + radius)
    least = max(CLEARANCES * hinge.clearance, THICKNESSES * found.get(Measure.THICKNESS, 0))
    scale = next((s for s in (50, *SCALES) if radius / s >= least), SCALES[-1])
    reach = radius / scale
    if turns and _gap(front, reach) > ROOMY * found.get(Measure.GAP, math.inf):
        front = views[1]
    place = front.section.bearing or (0, 0)
    origin = (centre[0] - place[0] * scale, centre[1] + place[1] * scale)
    view = View(front.section, scale, origin, (0, 0, 0, 0))
    paper.clipped(centre, radius)
    for name, outline in _within(front.section.outlines, place, 1.2 * reach).items():
        paper.outline(view.contours(outline), hatched(name))
    paper.end()
    paper.circle(centre, radius)
    _mark(paper, front, place, reach)
    words = f"C ({scale_words(scale)})"
    paper.text((centre[0], centre[1] + radius + 7), words, LARGE, "middle", bold=True)
    if thin:
        _thin(paper, view, *thin, box)
    elif math.isfinite(_gap(front, reach)):
        words = f"gap {_gap(front, reach):.2f}"
        paper.leader(view.at(*place), _corner(box, words, 0), words, inside=True)
        if front is views[0]:
            _slope(paper, view, _within(front.section.outlines, place, reach), box)


def _told_of_sheet(hinge: Hinge, found: Found) -> tuple[str, Measure, float] | None:
    """The value that makes a sheet flexible: its name, what measures it, and its size (mm)."""
    for name, each in hinge.measured().items():
        if each in (Measure.THINNEST, Measure.SLIT) and each in found:
            return name, each, found[each]
    return None


def _within(
    outlines: dict[str, CrossSection], place: Point, reach: float
) -> dict[str, CrossSection]:
    """What of the outlines lies in a circle."""
    from manifold3d import CrossSection

    disc = CrossSection.circle(reach, 96).translate(place)
    return {name: outline ^ disc for name, outline in outlines.items()}


def _mark(paper: Paper, front: View, place: Point, reach: float) -> None:
    """Circle and letter of the detail in the view it is taken from."""
    x, y = front.at(*place)
    radius = max(reach * front.scale, 2)
    paper.circle((x, y), radius)
    reach = radius + 2.4
    around = [math.radians(degrees) for degrees in (-45, 45, -135, 135, 0, 90, 180, -90)]
    places = [(x + reach * math.cos(a), y + reach * math.sin(a) + 1.3) for a in around]
    boxes = {place: text_box(place, "C", MIDDLE, "middle") for place in places}
    free = [place for place in places if paper.free(boxes[place])]
    at = next((place for place in free if not covered(front, boxes[place])), (*free, *places)[0])
    paper.text(at, "C", MIDDLE, "middle", bold=True, colour="accent", halo=True)


def _gap(view: View, reach: float) -> float:
    """Smallest gap of the bearing in a view (mm)."""
    place = view.section.bearing
    return gap(*_within(view.section.outlines, place, reach).values()) if place else math.inf


def _slope(paper: Paper, view: View, parts: dict[str, CrossSection], box: Box) -> None:
    """Label of the longest edge that slopes, if the circle shows one: its angle to the axis."""
    import numpy as np

    start = np.concatenate([c for outline in parts.values() for c in outline.to_polygons()])
    way = np.concatenate(
        [np.roll(c, -1, 0) - c for outline in parts.values() for c in outline.to_polygons()]
    )
    length = np.hypot(*way.T)
    slopes = (abs(way) > 0.1 * length[:, None]).all(1) & (length > 0.3)
    if not slopes.any():
        return
    k = int(np.where(slopes, length, 0).argmax())
    angle = math.degrees(math.atan2(*sorted(abs(way[k]))))
    middle = start[k] + way[k] / 2
    words = f"{round(angle, 1):g}\u00b0 to the axis"
    paper.leader(view.at(*middle), _corner(box, words, 1), words)


def _thin(paper: Paper, view: View, name: str, measure: Measure, size: float, box: Box) -> None:
    """Label of what makes the sheet flexible."""
    x, y = view.section.bearing or (0, 0)
    words = f"{name.replace('_', ' ')} {shown(size)}"
    if measure is Measure.SLIT:
        paper.leader(view.at(x + size / 2, y), _corner(box, words, 0), words, inside=True)
    else:
        low, high = view.at(x, y - size / 2), view.at(x, y + size / 2)
        paper.dimension(low, high, box[0] + 3, words)


def _corner(box: Box, words: str, side: int) -> Box:
    """Room for words over the circle, at the left (0) or at the right (1)."""
    left, top, right, _ = box
    wide = len(words) * MIDDLE * LETTER + 1
    start = right - wide if side else left
    return start, top, start + wide, top + 1.4 * MIDDLE
