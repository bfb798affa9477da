"""Notes of a drawing: what it is, its scale, which body is which, values set and measured."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from scadgen.hinge.family import bounds
from scadgen.pictures.paper import LARGE, LETTER, SMALL, Box, Paper, Point, hatched

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.pictures.layout import View
    from scadgen.pictures.sides import Sides

#: From one line of small text to the next, mm.
LEADING = 4.3


def notes(paper: Paper, hinge: Hinge, box: Box, found: dict[str, float], front: View) -> None:
    """Write the notes from the top of a box down."""
    left, top, right, _ = box
    letters = int((right - left) / (SMALL * LETTER))
    paper.text((left, top + 5), hinge.heading().lower(), LARGE, bold=True)
    y = top + 11
    posture = f"Prints {hinge.posture}."
    for sentence in (hinge.title, posture, f"Scale {scale_words(front.scale)}, lengths in mm."):
        for line in textwrap.wrap(sentence, letters):
            paper.text((left, y), line, SMALL)
            y += LEADING
    _first_angle(paper, (left + len(line) * SMALL * LETTER + 3, y - LEADING - 1))
    y = _legend(paper, front.section.sides, left, y + 1)
    for line in comparisons(hinge, found):
        paper.text((left, y), line, SMALL)
        y += LEADING


def comparisons(hinge: Hinge, found: dict[str, float]) -> list[str]:
    """For each value measured, what it is set to and what was measured."""
    limits = bounds(type(hinge))
    lines = []
    for name, measured in found.items():
        unit = limits[name].unit if name in limits else "mm"
        words = name.replace("_", " ")
        made = "set to" if name in limits.keys() - hinge.left_open else "comes to"
        wanted = round(getattr(hinge, name), 3)
        lines.append(f"{words} {made} {wanted:g} {unit}, measured {measured:.3f} {unit}")
    return lines


def scale_words(scale: float) -> str:
    """A scale as ISO 5455 writes it."""
    return f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:g}"


def _legend(paper: Paper, sides: Sides, left: float, y: float) -> float:
    named = [(side, f"{side} side") for side in sides.printed]
    if len(sides.whole.pieces) == 1:
        named = [("fixed", "one piece")]
    for name, words in named:
        corners = [(left, y - 3), (left + 8, y - 3), (left + 8, y + 1), (left, y + 1)]
        paper.outline([corners], hatched(name))
        paper.text((left + 10, y), words, SMALL)
        y += LEADING + 1.4
    if sides.swung is None:
        return y + 1
    how = "swung" if sides.unit == "deg" else "moved"
    paper.text((left + 10, y), f"{how} to the end: long dashes with two dots", SMALL)
    return y + LEADING + 1


def _first_angle(paper: Paper, at: Point) -> None:
    """The sign of first-angle projection: a cone's frustum, and to its right its view from left."""
    x, y = at
    paper.line((x, y - 1), (x + 5, y - 2), (x + 5, y + 2), (x, y + 1), (x, y - 1))
    paper.circle((x + 9, y), 1, "ink")
    paper.circle((x + 9, y), 2, "ink")
