"""Section drawings of a hinge as SVG, with numbers measured on the sections themselves.

Sections are hatched and named by ISO 128-3, views stand as in first-angle projection (ISO
128-3, ISO 5456-2), dimensions follow ISO 129-1 and scales ISO 5455 (standards from memory).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from scadgen.pictures.detail import detail
from scadgen.pictures.dimensions import dimensions
from scadgen.pictures.layout import View, arrange
from scadgen.pictures.measures import found, measures
from scadgen.pictures.notes import notes, scale_words
from scadgen.pictures.palette import LIGHT
from scadgen.pictures.paper import (
    CENTRE,
    LARGE,
    MIDDLE,
    MOVED,
    NARROW,
    WIDE,
    Box,
    Paper,
    Point,
    hatched,
)
from scadgen.pictures.sections import Section, sections, way_of
from scadgen.pictures.sides import Sides
from scadgen.pictures.title_block import Block
from scadgen.pictures.title_block import frame as border
from scadgen.text.dates import document_date

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge

#: From the end of a cutting plane's trace to the far side of its letter, mm on paper.
LETTERS = 5.0
#: From a thin section to the ends of a trace: beyond its dimension, mm on paper.
BEYOND = 10.0


def drawing(hinge: Hinge, *, title: str = "", material: str = "") -> str:
    """SVG of the hinge on A4: through its axis, across it, and a detail of its bearing.

    ``title`` (the family's name if it is empty) and ``material`` are told in the title block, with
    the date of :func:`scadgen.text.dates.document_date`.

    Without an axis it is cut square to its bends, or through the middle; what its family and its
    joint tell nothing of is left out. Raises ValueError for a hinge too large for the paper.
    """
    through, across = sections(Sides(hinge.drawn_flat()))
    read, axis = found(hinge, through, across), through.sides.axis
    swings = across if axis else through
    folds = through.sides.fold_line is not None
    beside = way_of(axis) != 2 if axis else not folds
    boxes = (_shown(through, swings), _shown(across, swings))
    frame, front, other = arrange(through, across, boxes, beside=beside)
    paper = Paper(*frame.size)
    for view, letter in ((front, "A"), (other, "B")):
        _section(paper, view, letter, moved=view.section is swings)
    _planes(paper, front, other)
    dimensions(paper, front, other, read)
    detail(paper, hinge, (front, other), frame.detail, read)
    name = title or hinge.heading()
    block = Block(name, scale_words(front.scale), document_date(), material)
    notes(paper, hinge, frame.notes, measures(hinge, read), through.sides, block)
    border(paper)
    return paper.svg(f"{hinge.family.replace('_', ' ')}: section drawing")


def _shown(section: Section, swings: Section) -> Box:
    outline = section.outline + section.swung if section is swings else section.outline
    left, low, right, high = outline.bounds()
    return left, low, right, high


def _section(paper: Paper, view: View, letter: str, *, moved: bool) -> None:
    if moved:
        ink = f'fill="none" stroke="{LIGHT["ink"]}" stroke-width="{NARROW}"'
        paper.outline(view.contours(view.section.swung), f'{ink} stroke-dasharray="{MOVED}"')
    for name, outline in view.section.outlines.items():
        paper.outline(view.contours(outline), hatched(name))
    left, top, right, _ = view.edges()
    paper.text(
        ((left + right) / 2, top - 11.5), f"{letter}\u2013{letter}", LARGE, "middle", bold=True
    )


def _planes(paper: Paper, front: View, other: View) -> None:
    """In each view the trace of the plane in which the other is cut, with its letters."""
    for view, cut, letter in ((front, other, "B"), (other, front, "A")):
        normal, offset = cut.section.plane.normal, cut.section.plane.offset
        rise = sum(a * b for a, b in zip(normal, view.section.plane.up, strict=True))
        run = sum(a * b for a, b in zip(normal, view.section.plane.right, strict=True))
        left, top, right, bottom = view.edges()
        if rise:
            y = view.at(0, offset * rise)[1]
            away = BEYOND if view.thin else 2
            paper.line((left - 2, y), (right + 2, y), colour="accent", dashes=CENTRE)
            ends = ((left - away, y), (right + away, y))
            outward: tuple[Point, Point] = ((-1, 0), (1, 0))
            look = (0.0, rise)
        else:
            x = view.at(offset * run, 0)[0]
            ends = ((x, top - 2), (x, bottom + 2))
            paper.line(*ends, colour="accent", dashes=CENTRE)
            outward = ((0, -1), (0, 1))
            look = (-run, 0.0)
        for (x, y), (across, down) in zip(ends, outward, strict=True):
            paper.line((x, y), (x + 3 * across, y + 3 * down), width=WIDE)
            tip = (x + 3 * across, y + 3 * down)
            start = (tip[0] - 4 * look[0], tip[1] - 4 * look[1])
            paper.line(start, tip)
            paper.arrow(tip, look)
            place = (tip[0] + LETTERS / 2 * across, tip[1] + 1.25 + LETTERS / 2 * down)
            paper.text(place, letter, MIDDLE, "middle", bold=True, halo=True)
