"""Remnants: what loops of lines leave of a section at a narrow end, where lines may lie across.

Loops go where two sides of a line have room. What is left beyond them, at the blunt end of an arm
or of a wall that tapers, is too short for a loop. Where it is about twice as long as wide, a single
line is laid the long way, and its round ends reach half its width beyond the outline, into the gap
beside the arm. Source: arms of a socket that the level of a cone cuts, at six heights of the
layers' middles, sliced with lines of 0.85 mm by PrusaSlicer 2.5.0 (classic) and Slic3r 1.3.0: lines
lay in remnants that were 1.9 times as long as wide or more, none in those of 1.7 times or less, nor
in corners that end in a point; they came up to 0.1 mm less near to the cone than is reckoned here,
and never nearer. PrusaSlicer's variable widths and CuraEngine lay none.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.printing.cuts import SLIVER, Cuts
from scadgen.printing.outlines import moved

if TYPE_CHECKING:
    import numpy
    from manifold3d import CrossSection

    Array = numpy.ndarray[Any, Any]

#: A loop has room where a disc of so many widths of its line has; a line, of so many.
LOOP, LEAST = 1.58, 0.3
#: A remnant that is so many times as long as wide is laid as a line.
LONG = 1.75
#: A remnant that fills less of the narrowest rectangle around it ends in a point.
BLUNT = 0.7
#: How far corners reach beyond rounded ones, in radii: slicers move sides, not arcs.
MITER = 3.0
#: How much nearer than reckoned a line's end may come, mm: in the slices above none came nearer.
OFF = 0.05
#: How far beyond a line's end a body must stay, mm: as it may come nearer, less what it may overlap
#: by until that is more than a sliver.
FELT = 0.02
#: How far such an end reaches into the bore of a ring that closes as it grows out from a leaf, in
#: widths of lines: 0.42 at the most, below 0.39 in half of 143 random rings, in layers every 0.02
#: mm. There both arms of the ring end in a square point, whose side along the bore is too short for
#: a loop.
POINT = 0.4
#: Facets per turn of a line's end.
ROUND = 32


@dataclass(frozen=True)
class Remnant:
    """A line along a remnant. ends: its first and last point. width: mm."""

    ends: Array
    width: float

    def area(self, wider: float = 0.0) -> CrossSection:
        """What it covers, farther out by a distance, mm."""
        from manifold3d import CrossSection

        end = CrossSection.circle(self.width / 2 + wider, ROUND)
        return CrossSection.batch_hull([end.translate(at) for at in self.ends.tolist()])


def remnants(section: CrossSection, line: float) -> Iterator[Remnant]:
    """The lines that loops of lines so wide (mm) leave room for in a section."""
    core = moved(section, -LOOP / 2 * line, MITER)
    left = section - moved(core, LOOP / 2 * line, MITER)
    least = LEAST * line
    if left.area() <= least * least:
        return
    # Of a sliver all around a section the hole may be lost, which would leave all that it had.
    parts = (rough ^ left for rough in left.decompose() if rough.area() > least * least)
    large = [rough for rough in parts if rough.area() > least * least]
    for rough in large:  # each by itself: slivers beside it would turn inside out
        for piece in moved(moved(rough, -least / 2, MITER), least / 2, MITER).decompose():
            if piece.area() < least * least:
                continue
            length, width, ends = _rectangle(piece)
            if length >= LONG * width and piece.area() >= BLUNT * length * width:
                yield Remnant(ends, width)


def remnants_met(made: Cuts, height: float, line: float) -> Iterator[tuple[int, float]]:
    """The layers in which lines along remnants meet another body, and the area, mm2.

    height: of a layer, mm. line: width of a line, mm.
    """
    reach = LOOP / 2 * line + OFF
    near = [(i, j) for i, j, apart in made.pairs if apart.beside <= reach]
    for body, other in (*near, *((j, i) for i, j in near)) if line else ():
        for k in range(1, made.count(height)):
            for remnant in made.once(remnants, made.section(body, k, height), line):
                area = _shared(made, other, (k, height), remnant)
                if area > SLIVER:
                    yield k, area


def _shared(made: Cuts, other: int, layer: tuple[int, float], remnant: Remnant) -> float:
    """The area that a line shares with a body: in its layer, right below and right above it."""
    k, height = layer
    above, below = (made.section(other, at, height) for at in (k + 1, k - 1))
    beside: float = (remnant.area(OFF) ^ made.section(other, k, height)).area()
    return beside + float(sum((remnant.area() ^ one).area() for one in (above, below)))


def _rectangle(piece: CrossSection) -> tuple[float, float, Array]:
    """Length and width of the narrowest rectangle around a piece, mm, and ends of its middle."""
    import numpy as np

    corners = np.concatenate(piece.hull().to_polygons())
    ways = np.roll(corners, -1, axis=0) - corners
    along = ways / np.maximum(np.hypot(*ways.T), 1e-12)[:, None]
    across = along[:, ::-1] * (-1, 1)
    low, high = (
        np.stack([side(corners @ way.T, axis=0) for way in (along, across)], axis=1)
        for side in (np.min, np.max)
    )
    sizes = high - low
    best = int(np.argmin(sizes.prod(axis=1)))
    frame = np.stack([along[best], across[best]])
    long = int(np.argmax(sizes[best]))
    middle = (low[best] + high[best]) / 2
    ends = np.stack([middle, middle])
    ends[:, long] = low[best, long], high[best, long]
    return float(sizes[best, long]), float(sizes[best, 1 - long]), ends @ frame
