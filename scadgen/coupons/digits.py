"""Numbers of two digits, drawn from rectangles: strokes as wide as ``stroke`` says, no font."""

from __future__ import annotations

from typing import cast

from scadgen.trees.expr import Sym, floor, let, table
from scadgen.trees.solid import Shape, choose, each, part, rectangle

TEN = 10
#: The parameter that a drawing with digits must have: width of their strokes, mm.
STROKE = cast(float, Sym("stroke"))
STROKES = let("all_strokes", 7, "strokes of an 8")
ACROSS = let("across", 4 * STROKE, "width of a digit")
RISE = let("rise", 7 * STROKE, "height of a digit")
ADVANCE = let("advance", ACROSS + STROKE, "from one digit to the next")
WIDTH = let("number_width", ACROSS + ADVANCE, "width of a number")
#: From the foot of the bar under a number to the top of its digits.
HEIGHT = let("number_height", RISE + 2 * STROKE, "height of a number with the bar at its foot")
PLACES = table(
    "places",
    "left, bottom, width and height of each stroke, in widths of a stroke",
    (0, 6, 4, 1),
    (3, 3, 1, 4),
    (3, 0, 1, 4),
    (0, 0, 4, 1),
    (0, 0, 1, 4),
    (0, 3, 1, 4),
    (0, 3, 4, 1),
)
DRAWN = table(
    "drawn",
    "strokes that the digits 0 to 9 have, in the order of the places",
    (1, 1, 1, 1, 1, 1, 0),
    (0, 1, 1, 0, 0, 0, 0),
    (1, 1, 0, 1, 1, 0, 1),
    (1, 1, 1, 1, 0, 0, 1),
    (0, 1, 1, 0, 0, 1, 1),
    (1, 0, 1, 1, 0, 1, 1),
    (1, 0, 1, 1, 1, 1, 1),
    (1, 1, 1, 0, 0, 0, 0),
    (1, 1, 1, 1, 1, 1, 1),
    (1, 1, 1, 1, 0, 1, 1),
)


@part
def number_outline(number: float) -> Shape:
    """Number of two digits over a bar, which marks its foot: 25 upside down reads 52."""
    digits = digit(floor(number / TEN)) + digit(number % TEN).at(x=ADVANCE)
    return digits.at(y=2 * STROKE) + rectangle(WIDTH, STROKE)


@part
def digit(value: float) -> Shape:
    """Digit, drawn from up to seven strokes that overlap at their ends."""
    return each("s", STROKES, lambda s: choose(DRAWN(value, s) > 0, _stroke(s)))


def _stroke(s: float) -> Shape:
    left, bottom, width, height = (PLACES(s, k) * STROKE for k in range(4))
    return rectangle(width, height).at(left, bottom)
