"""Notes of a drawing: what it is, its scale, which body is which, values set and measured."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from scadgen.family import bounds
from scadgen.gallery.sheet import LARGE, LETTER, SMALL, Box, Point, Sheet, hatched
from scadgen.kinds.pivot import Pivot

if TYPE_CHECKING:
    from scadgen.family import Hinge

#: From one line of small text to the next, mm.
LEADING = 4.3


def notes(sheet: Sheet, hinge: Hinge, box: Box, found: dict[str, float], scale: float) -> None:
    """Write the notes from the top of a box down."""
    left, top, right, _ = box
    letters = int((right - left) / (SMALL * LETTER))
    sheet.text((left, top + 5), hinge.family.replace("_", " "), LARGE, bold=True)
    y = top + 11
    posture = f"Prints {hinge.posture}."
    for sentence in (hinge.title, posture, f"Scale {scale_words(scale)}, lengths in mm."):
        for line in textwrap.wrap(sentence, letters):
            sheet.text((left, y), line, SMALL)
            y += LEADING
    _first_angle(sheet, (left + len(line) * SMALL * LETTER + 3, y - LEADING - 1))
    y = _legend(sheet, hinge, left, y + 1)
    for line in comparisons(hinge, found):
        sheet.text((left, y), line, SMALL)
        y += LEADING


def comparisons(hinge: Hinge, found: dict[str, float]) -> list[str]:
    """For each value measured, what it is set to and what was measured."""
    limits = bounds(type(hinge))
    lines = []
    for name, measured in found.items():
        unit = limits[name].unit if name in limits else "mm"
        words = name.replace("_", " ")
        made = "set to" if name in limits else "comes to"
        wanted = round(getattr(hinge, name), 3)
        lines.append(f"{words} {made} {wanted:g} {unit}, measured {measured:.3f} {unit}")
    return lines


def scale_words(scale: float) -> str:
    """A scale as ISO 5455 writes it."""
    return f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:g}"


def _legend(sheet: Sheet, hinge: Hinge, left: float, y: float) -> float:
    named = [("fixed", "fixed side"), ("moving", "moving side")]
    if not isinstance(hinge, Pivot):
        named = [("fixed", "one piece")]
    for name, words in named:
        corners = [(left, y - 3), (left + 8, y - 3), (left + 8, y + 1), (left, y + 1)]
        sheet.outline([corners], hatched(name))
        sheet.text((left + 10, y), words, SMALL)
        y += LEADING + 1.4
    sheet.text((left + 10, y), "swung to the end: long dashes with two dots", SMALL)
    return y + LEADING + 1


def _first_angle(sheet: Sheet, at: Point) -> None:
    """The sign of first-angle projection: a cone's frustum, and to its right its view from left."""
    x, y = at
    sheet.line((x, y - 1), (x + 5, y - 2), (x + 5, y + 2), (x, y + 1), (x, y - 1))
    sheet.circle((x + 9, y), 1, "ink")
    sheet.circle((x + 9, y), 2, "ink")
