"""Where the views of a drawing stand: the largest usual scale at which all has room on A4."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.pictures.paper import Box, Point

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from scadgen.pictures.sections import Section

#: Scales of ISO 5455, largest first, and one between them for what is just too large for 2:1.
SCALES = (20, 10, 5, 2, 1.5, 1, 0.5, 0.2, 0.1, 0.05)
#: A section that is lower on paper (mm) has its marks beyond its dimension, not beside it.
THIN = 16.0
#: Room around a view for its title, dimensions and marks, mm.
LEFT, TOP, RIGHT, BOTTOM = 20.0, 17.0, 20.0, 18.0


@dataclass(frozen=True)
class Frame:
    """A sheet's size, where its views go, and where its detail and its notes go (mm)."""

    size: Point
    views: Box
    detail: Box
    notes: Box


FRAMES = (
    Frame((297, 210), (6, 5, 205, 205), (208, 6, 291, 88), (208, 92, 291, 204)),
    Frame((297, 210), (6, 5, 291, 122), (10, 126, 100, 204), (125, 128, 290, 204)),
    Frame((210, 297), (6, 5, 204, 210), (10, 214, 90, 290), (98, 214, 204, 290)),
)


@dataclass(frozen=True, eq=False)
class View:
    """A section on paper: ``scale`` and where its origin lies; ``box`` is all it shows (mm)."""

    section: Section
    scale: float
    origin: Point
    box: Box

    def at(self, x: float, y: float) -> Point:
        """Where a point of the section lies on paper."""
        return self.origin[0] + x * self.scale, self.origin[1] - y * self.scale

    def contours(self, outline: CrossSection) -> list[list[Point]]:
        """An outline's contours on paper."""
        return [[self.at(*point) for point in contour] for contour in outline.to_polygons()]

    @property
    def thin(self) -> bool:
        """Whether its section is so low on paper that marks beside it stand in each other's way."""
        _, low, _, high = self.section.outline.bounds()
        return bool((high - low) * self.scale < THIN)

    def edges(self) -> Box:
        """Left, top, right and bottom on paper of all that the view shows."""
        return (*self.at(self.box[0], self.box[3]), *self.at(self.box[2], self.box[1]))


def arrange(
    first: Section, second: Section, boxes: tuple[Box, Box], *, beside: bool
) -> tuple[Frame, View, View]:
    """Frame and views: the second below the first, or ``beside`` it, in line with it.

    ``boxes`` are what the views show (mm). Raises ValueError for a hinge too large for the sheet.
    """
    one, other = boxes
    k = 1 if beside else 0  # the direction that both share
    low, high = min(one[k], other[k]), max(one[k + 2], other[k + 2])
    one, other = (_widened(box, k, low, high) for box in boxes)
    for scale in SCALES:
        sizes = [_cell(box, scale) for box in (one, other)]
        along = sum(size[1 - k] for size in sizes)
        need = (along, sizes[0][1]) if beside else (sizes[0][0], along)
        for frame in FRAMES:
            left, top, right, bottom = frame.views
            spare = (right - left - need[0], bottom - top - need[1])
            if min(spare) >= 0:
                start = (left + spare[0] / 2, top + spare[1] / 2)
                step = sizes[0][1 - k]
                then = (start[0] + step, start[1]) if beside else (start[0], start[1] + step)
                return (
                    frame,
                    _view(first, one, scale, start),
                    _view(second, other, scale, then),
                )
    raise ValueError("the hinge is too large to be drawn on a sheet")


def _widened(box: Box, k: int, low: float, high: float) -> Box:
    values = list(box)
    values[k], values[k + 2] = low, high
    return values[0], values[1], values[2], values[3]


def _cell(box: Box, scale: float) -> Point:
    left, low, right, high = box
    return (right - left) * scale + LEFT + RIGHT, (high - low) * scale + TOP + BOTTOM


def _view(section: Section, box: Box, scale: float, corner: Point) -> View:
    x, y = corner[0] + LEFT - box[0] * scale, corner[1] + TOP + box[3] * scale
    return View(section, scale, (x, y), box)
