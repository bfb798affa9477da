"""A sheet of paper in SVG: lines, hatched outlines, texts that know their room, dimensions.

Line widths are those of ISO 128-2 for small sheets (wide 0.35 mm, narrow half of it), as are the
line types (long-dashed dotted, long-dashed double-dotted); letters are as high as ISO 3098-1 has
them, dimensions as in ISO 129-1 (all from memory). Lengths are in mm on paper, y points down.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from scadgen.pictures.palette import LIGHT
from scadgen.text.quoting import xml

Point = tuple[float, float]
Box = tuple[float, float, float, float]

WIDE, NARROW = 0.35, 0.18
SMALL, MIDDLE, LARGE = 2.8, 3.5, 5.0
#: Dashes: a centre line, and the outline of a moved part.
CENTRE, MOVED = "6 1.2 0.5 1.2", "5 1 0.5 1 0.5 1"
#: Width of a letter in letter heights, on the safe side for any plain typeface.
LETTER = 0.62
ARROW = 2.6
#: Width of the stroke around letters that stand on lines, mm; half of it shows.
HALO = 0.9


@dataclass
class Paper:
    """Lines drawn so far, the texts over them, and the texts' boxes (left, top, right, bottom)."""

    width: float
    height: float
    elements: list[str] = field(default_factory=list)
    labels: list[str] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)

    def line(
        self, *points: Point, width: float = NARROW, colour: str = "ink", dashes: str = ""
    ) -> None:
        """A line through the points."""
        path = " ".join(f"{_n(x)},{_n(y)}" for x, y in points)
        dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
        self._add(
            f'<polyline points="{path}" fill="none" stroke="{LIGHT[colour]}" '
            f'stroke-width="{width}"{dashed}/>'
        )

    def outline(self, contours: Iterable[Sequence[Point]], style: str) -> None:
        """Closed contours; ``style`` gives fill and stroke as SVG attributes."""
        path = "".join(
            "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in contour) + "Z" for contour in contours
        )
        self._add(f'<path d="{path}" fill-rule="evenodd" {style}/>')

    def circle(self, at: Point, radius: float, colour: str = "accent") -> None:
        """A narrow circle."""
        self._add(
            f'<circle cx="{_n(at[0])}" cy="{_n(at[1])}" r="{_n(radius)}" fill="none" '
            f'stroke="{LIGHT[colour]}" stroke-width="{NARROW}"/>'
        )

    def clipped(self, at: Point, radius: float) -> None:
        """Show what follows within a circle only, until :meth:`end`; once on a sheet."""
        ring = f'<circle cx="{_n(at[0])}" cy="{_n(at[1])}" r="{_n(radius)}"/>'
        self._add(f'<clipPath id="detail">{ring}</clipPath><g clip-path="url(#detail)">')

    def end(self) -> None:
        """End what is clipped."""
        self._add("</g>")

    def text(
        self,
        at: Point,
        words: str,
        size: float = MIDDLE,
        anchor: str = "start",
        *,
        bold: bool = False,
        upright: bool = False,
        colour: str = "ink",
        halo: bool = False,
    ) -> None:
        """Words on a line that starts, has its middle or ends at a point; ``upright`` reads up.

        A ``halo`` of paper around the letters keeps lines off them, and leaves the lines whole.
        """
        self.boxes.append(text_box(at, words, size, anchor, upright))
        turn = f' transform="rotate(-90 {_n(at[0])} {_n(at[1])})"' if upright else ""
        weight = ' font-weight="bold"' if bold else ""
        if halo:
            weight += f' paint-order="stroke" stroke="{LIGHT["surface"]}" stroke-width="{HALO}"'
        self.labels.append(
            f'<text x="{_n(at[0])}" y="{_n(at[1])}" font-size="{size}" text-anchor="{anchor}" '
            f'fill="{LIGHT[colour]}"{weight}{turn}>{xml(words)}</text>'
        )

    def free(self, box: Box) -> bool:
        """Whether a box is on the paper and clear of all texts."""
        left, top, right, bottom = box
        inside = left > 3 and top > 3 and right < self.width - 3 and bottom < self.height - 3
        return inside and not any(overlap(box, other) for other in self.boxes)

    def arrow(self, tip: Point, towards: Point) -> None:
        """A filled arrowhead at ``tip`` that points along ``towards``."""
        length = math.hypot(*towards)
        x, y = towards[0] / length * ARROW, towards[1] / length * ARROW
        side = 0.17
        corners = (
            tip,
            (tip[0] - x - y * side, tip[1] - y + x * side),
            (tip[0] - x + y * side, tip[1] - y - x * side),
        )
        self.outline([corners], f'fill="{LIGHT["ink"]}"')

    def dimension(self, start: Point, end: Point, line: float, words: str) -> None:
        """A dimension between two points: its line is level at y = ``line``.

        Where the points stand one above the other it is upright, at x = ``line``.
        """
        upright = abs(end[1] - start[1]) > abs(end[0] - start[0])
        k = 1 if upright else 0
        low, high = sorted((start, end), key=lambda p: p[k])
        ends = [_placed(p[k], line, upright) for p in (low, high)]
        for point, tip in zip((low, high), ends, strict=True):
            beyond = math.copysign(1, line - point[1 - k])
            self.line(
                _placed(point[k], point[1 - k] + beyond, upright),
                _placed(tip[k], line + 1.5 * beyond, upright),
            )
        room = high[k] - low[k]
        out = -1 if room < 3 * ARROW else 1
        reach = 0 if out > 0 else 2 * ARROW
        self.line(_placed(low[k] - reach, line, upright), _placed(high[k] + reach, line, upright))
        corners = _placed(low[k], line, upright), _placed(high[k], line, upright)
        (left, top), (right, bottom) = corners
        self.boxes.append((left - NARROW, top - NARROW, right + NARROW, bottom + NARROW))
        for tip, way in zip(ends, (-out, out), strict=True):
            self.arrow(tip, _placed(way, 0, upright))
        middle = (low[k] + high[k]) / 2
        if out < 0 and room < len(words) * MIDDLE * LETTER:
            middle = low[k] - reach - len(words) * MIDDLE * LETTER / 2 - 0.5
        place = (line - 1, middle) if upright else (middle, line - 1)
        self.text(place, words, MIDDLE, "middle", upright=upright)

    def leader(self, target: Point, label: Box, words: str, *, inside: bool = False) -> None:
        """Words in a box, with a line from them to an arrow on an edge or a dot ``inside`` it."""
        left, _, right, bottom = label
        near, far = (left, right) if target[0] < (left + right) / 2 else (right, left)
        self.line(target, (near, bottom), (far, bottom))
        if inside:
            self._add(f'<circle cx="{_n(target[0])}" cy="{_n(target[1])}" r="0.6"/>')
        else:
            self.arrow(target, (target[0] - near, target[1] - bottom))
        self.text((left + 0.4, bottom - 0.9), words, MIDDLE)

    def svg(self, title: str) -> str:
        """The sheet as an SVG file."""
        head = (
            '<svg xmlns="http://www.w3.org/2000/svg" '
            f'viewBox="0 0 {_n(self.width)} {_n(self.height)}" '
            f'width="{_n(self.width)}mm" height="{_n(self.height)}mm" role="img" '
            'font-family="DejaVu Sans, Verdana, Arial, sans-serif" stroke-linejoin="round">'
        )
        paper = f'<rect width="100%" height="100%" fill="{LIGHT["surface"]}"/>'
        parts = (
            head,
            f"<title>{xml(title)}</title>",
            _hatches(),
            paper,
            *self.elements,
            *self.labels,
        )
        return "\n".join((*parts, "</svg>", ""))

    def _add(self, element: str) -> None:
        self.elements.append(element)


def text_box(
    at: Point, words: str, size: float = MIDDLE, anchor: str = "start", upright: bool = False
) -> Box:
    """Room that words take up, by the width of their letters."""
    long = len(words) * size * LETTER
    back = {"start": 0.0, "middle": long / 2, "end": long}[anchor]
    x, y = at
    if upright:
        return x - 0.8 * size, y - long + back, x + 0.25 * size, y + back
    return x - back, y - 0.8 * size, x - back + long, y + 0.25 * size


def overlap(one: Box, other: Box) -> bool:
    """Whether two boxes share any area."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def hatched(name: str) -> str:
    """Style of a body that is cut: its tint and its hatching."""
    return f'fill="url(#{name})" stroke="{LIGHT["ink"]}" stroke-width="{WIDE}"'


def _hatches() -> str:
    patterns = []
    for name, turn in (("fixed", 45), ("moving", -45)):
        patterns.append(
            f'<pattern id="{name}" width="1.8" height="1.8" patternUnits="userSpaceOnUse" '
            f'patternTransform="rotate({turn})"><rect width="1.8" height="1.8" '
            f'fill="{LIGHT[f"{name}_cut"]}"/><path d="M0.9 0V1.8" stroke="{LIGHT[name]}" '
            f'stroke-width="{NARROW}"/></pattern>'
        )
    return f"<defs>{''.join(patterns)}</defs>"


def _placed(along: float, across: float, upright: bool) -> Point:
    return (across, along) if upright else (along, across)


def _n(value: float) -> str:
    """A coordinate, to a thousandth of a millimetre."""
    return f"{value:.3f}".rstrip("0").rstrip(".")
