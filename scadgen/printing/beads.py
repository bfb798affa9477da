"""Tips: what is left of a body in its last layer may be too narrow for the lines that it gets.

A piece narrower than a line comes out as a bead as wide as one. A long strip that has no room for
two is laid as a single line from one end to the other, and that has round ends, which reach half
its width beyond. Source: bars of 0.1 to 0.9 mm sliced with lines of 0.45 mm. PrusaSlicer 2.5.0
(classic) and Slic3r 1.3.0 lay one line in those of up to 0.68 mm, and its ends reach half its width
beyond; with variable widths PrusaSlicer stays within; CuraEngine 4.13 joins strips across a gap.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from scadgen.printing.cuts import SLIVER, Cuts

if TYPE_CHECKING:
    import numpy
    from manifold3d import CrossSection

    Array = numpy.ndarray[Any, Any]

#: A piece narrower than so many lines is laid as one; if it is longer than so many, it is a strip.
NARROW, LONG = 1.55, 2.0
#: Facets per turn of a bead.
ROUND = 32


def tips(made: Cuts, height: float, line: float, touch: float) -> Iterator[tuple[int, float]]:
    """The layers in which beads at the tips of bodies meet another body, and the area, mm2.

    height: of a layer, mm. line: width of a line, mm. touch: slicers close gaps below it, mm.
    """
    if not line or not made.pairs:
        return
    for body, facing in enumerate(made.facing):
        for k in _last(facing.up[1], height):
            for bead in beads(made.section(body, k, height), line):
                area = _met(made, body, (k, height), bead, touch)
                if area > SLIVER:
                    yield k, area
            area = _ends_met(made, body, (k, height), line)
            if area > SLIVER:
                yield k, area


def _last(tops: Array, height: float) -> list[int]:
    """The last layers whose middles are below tips so high (mm), each once; none on the bed."""
    import numpy as np

    last = np.unique(np.ceil(np.round(tops, 6) / height - 0.5)).astype(int) - 1
    return [int(k) for k in last[last >= 1]]


def beads(section: CrossSection, line: float) -> Iterator[CrossSection]:
    """What lines so wide (mm) make of the pieces of a section that are too small for one."""
    from manifold3d import JoinType

    for piece in section.decompose():
        low_x, low_y, high_x, high_y = piece.bounds()
        narrow, wide = sorted((high_x - low_x, high_y - low_y))
        if narrow < line and wide < LONG * line:
            yield piece.offset((line - narrow) / 2, JoinType.Round, 2.0, ROUND)


def strips(section: CrossSection, line: float) -> CrossSection:
    """Single lines along the strips of a section, with their round ends (mm).

    A strip that does not lie along x or y is as wide as its box, and mostly too wide for one.
    """
    from manifold3d import CrossSection, OpType

    every = [CrossSection()]
    for piece in section.decompose():
        low_x, low_y, high_x, high_y = piece.bounds()
        sizes = high_x - low_x, high_y - low_y
        narrow, wide = sorted(sizes)
        if narrow < NARROW * line and wide >= LONG * line:
            radius = max(narrow, line) / 2
            end = CrossSection.circle(radius, ROUND)
            along = sizes[0] == wide
            middle = (low_y + high_y if along else low_x + high_x) / 2
            ends = [(x, middle) if along else (middle, x) for x in _ends(piece.bounds(), along)]
            every.append(CrossSection.batch_hull([end.translate(at) for at in ends]))
    return CrossSection.batch_boolean(every, OpType.Add)


def _ends(bounds: tuple[float, float, float, float], along: bool) -> tuple[float, float]:
    low_x, low_y, high_x, high_y = bounds
    return (low_x, high_x) if along else (low_y, high_y)


def _ends_met(made: Cuts, body: int, layer: tuple[int, float], line: float) -> float:
    """The area that a body's strips share with other bodies, and with the strips of these."""
    k, height = layer
    own = strips(made.section(body, k, height), line)
    if own.is_empty():
        return 0.0
    area = 0.0
    for other in range(len(made.bodies)):
        if other != body:
            section = made.section(other, k, height)
            area += (own ^ (section + strips(section, line))).area()
    return area


def _met(
    made: Cuts, body: int, layer: tuple[int, float], bead: CrossSection, touch: float
) -> float:
    """The area that a bead shares with other bodies: in its layer, and laid right upon it."""
    from manifold3d import JoinType

    (k, height), area = layer, 0.0
    for other in range(len(made.bodies)):
        if other != body:
            beside = bead.offset(touch, JoinType.Round, 2.0, ROUND)
            area += (beside ^ made.section(other, k, height)).area()
            area += (bead ^ made.section(other, k + 1, height)).area()
    return area
