"""Dimensions of a sheet that folds: what bends between its borders, its openings and bridges."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from scadgen.pictures.paper import ARROW, LETTER, MIDDLE
from scadgen.pictures.sections import runs

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from scadgen.pictures.layout import View
    from scadgen.pictures.paper import Paper

#: From a view to these dimensions' lines, mm on paper: before the line of the whole, and beyond.
CLOSE, AWAY = 6.5, 14.0
#: Between two of them on one line, mm on paper, so that their numbers have room.
APART = 20.0
#: Looks along a sheet; a height that differs by less, as a share of the thickest, is the same.
STEPS, ALIKE = 400, 0.01
#: What is left of a length beside a corner is rounding, mm.
STRAIGHT = 1e-6


def bending_span(paper: Paper, view: View) -> None:
    """Length between the borders, in the view square to the folds, where it has room.

    Not where openings cut the view into pieces: others lie outside its plane.
    """
    if len(view.section.outline.decompose()) > 1:
        return
    left, low, right, _ = view.section.outline.bounds()
    ends = between_borders(view.section.outline)
    if ends is None:
        return
    start, end = (view.at(x, low) for x in ends)
    words = f"{round(ends[1] - ends[0], 1):g}"
    whole = ends[0] <= left or ends[1] >= right
    if not whole and end[0] - start[0] > len(words) * MIDDLE * LETTER + 2 * ARROW:
        paper.dimension(start, end, view.edges()[3] + CLOSE, words)


def between_borders(outline: CrossSection) -> tuple[float, float] | None:
    """Between which of its corners (mm along it) a section is less than full."""
    left, _, right, _ = outline.bounds()
    places = [left + (right - left) * (k + 0.5) / STEPS for k in range(STEPS)]
    high = [sum(b - a for a, b in runs(outline, 1, x)) for x in places]
    thin = [x for x, h in zip(places, high, strict=True) if h < max(high) * (1 - ALIKE)]
    if not thin:
        return None
    corners = [float(x) for contour in outline.to_polygons() for x in contour[:, 0]]
    start = max(x for x in corners if x <= thin[0] + STRAIGHT)
    return start, min(x for x in corners if x >= thin[-1] - STRAIGHT)


def openings(paper: Paper, view: View) -> None:
    """Along the folds, in the view along the sheet: the longest opening, a bridge apart from it."""
    _, low, right, high = view.section.outline.bounds()
    solid = runs(view.section.outline, 1, _column(view.section.outline))
    gaps = [(a[1], b[0]) for a, b in itertools.pairwise(solid)]
    bridges = [(a, b) for a, b in solid if a > low and b < high]
    if not gaps:
        return
    longest = max(gaps, key=lambda gap: gap[1] - gap[0])
    far = APART / view.scale
    apart = [one for one in bridges if one[0] > longest[1] + far or one[1] < longest[0] - far]
    for a, b in (longest, *apart[:1]):
        words = f"{round(b - a, 2):g}"
        paper.dimension(view.at(right, a), view.at(right, b), view.edges()[2] + AWAY, words)


def _column(outline: CrossSection) -> float:
    """Where along the sheet, near its middle, it is most open."""
    left, _, right, _ = outline.bounds()
    middle = (left + right) / 2
    places = [left + (right - left) * (k + 0.5) / STEPS for k in range(STEPS)]
    solid = {x: sum(b - a for a, b in runs(outline, 1, x)) for x in places}
    least = min(solid.values())
    open_ = [x for x, s in solid.items() if s < least * (1 + ALIKE) + ALIKE]
    return float(min(open_, key=lambda x: abs(x - middle)))
