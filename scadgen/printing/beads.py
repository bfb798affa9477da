"""Tips: a piece of a layer that is narrower than a line comes out as a bead as wide as one."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from scadgen.printing.cuts import SLIVER, Cuts

if TYPE_CHECKING:
    from manifold3d import CrossSection

#: A piece that is longer than so many lines is a wall; no tip.
LONG = 2.0
#: Facets per turn of a bead.
ROUND = 32


def tips(made: Cuts, height: float, line: float, touch: float) -> Iterator[tuple[int, float]]:
    """The layers in which beads at the tips of bodies meet another body, and the area, mm2.

    height: of a layer, mm. line: width of a line, mm. touch: slicers close gaps below it, mm.
    """
    if not line or not made.pairs:
        return
    for body, facing in enumerate(made.facing):
        for z in sorted({round(float(top), 6) for top in facing.up[1]}):
            k = math.ceil(z / height - 0.5) - 1  # the last layer whose middle is below the tip
            if k < 1:
                continue
            for bead in beads(made.section(body, k, height), line):
                area = _met(made, body, (k, height), bead, touch)
                if area > SLIVER:
                    yield k, area


def beads(section: CrossSection, line: float) -> Iterator[CrossSection]:
    """What lines so wide (mm) make of the pieces of a section that are too small for one."""
    from manifold3d import JoinType

    for piece in section.decompose():
        low_x, low_y, high_x, high_y = piece.bounds()
        narrow, wide = sorted((high_x - low_x, high_y - low_y))
        if narrow < line and wide < LONG * line:
            yield piece.offset((line - narrow) / 2, JoinType.Round, 2.0, ROUND)


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
