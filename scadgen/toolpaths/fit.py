"""Plastic held against the model's sections: walls that are lost, and what lies outside."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.printing.outlines import within
from scadgen.toolpaths.areas import wider

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from scadgen.toolpaths.links import Links

#: How far plastic may stay behind the outline or reach beyond it, mm: slicers round corners and
#: outlines to some hundredths, and lay lines whose ends are round.
BEHIND, BEYOND = 0.15, 0.2
#: A patch in which no disc of this diameter fits, mm, is a seam or a corner that no line can reach.
SLIM = 0.2
#: Smallest area that counts, mm2; of what is lost as a share of a line's width squared: less is
#: the tip of a sharp corner, which no line reaches.
LEAST, TIP = 0.1, 2.0
#: How far each side of a first layer may be taken back or may spread, mm.
FIRST = 0.35


@dataclass(frozen=True)
class Misfit:
    """Plastic that is not there (``lost``), or that is where nothing is drawn.

    link: its number. z: top of the layer, mm. x, y: the middle of its largest patch. area: mm2.
    """

    link: int
    lost: bool
    z: float
    x: float
    y: float
    area: float


def misfits(
    links: Links, plastic: CrossSection, layer: tuple[float, float], width: float, *, first: bool
) -> Iterator[Misfit]:
    """Where the plastic of a layer does not fit the links' sections at the layer's middle.

    layer: its bottom and top, mm. width: of its lines, mm. Of a link only its rim must be plastic.
    first: on the bed, where slicers take outlines back and lines spread.
    """
    middle = (layer[0] + layer[1]) / 2
    slack = FIRST if first else 0.0
    sections = [links.section(link, middle) for link in range(len(links.solids))]
    around = wider(plastic, BEHIND + slack)
    for link in range(len(sections)):
        section = links.firm(link, middle)
        rim = section - wider(section, -2 * BEHIND)
        least = TIP * width * width
        yield from _found(rim - around, link, layer[1], least, lost=True)
    outside = plastic
    for section in sections:
        outside = outside - wider(section, BEYOND + slack)
    yield from _found(outside, 0, layer[1], LEAST, lost=False)


def _found(
    patches: CrossSection, link: int, z: float, least: float, *, lost: bool
) -> Iterator[Misfit]:
    if patches.is_empty() or patches.area() < least:
        return
    core = wider(patches, -SLIM / 2)
    if core.is_empty():
        return
    parts = [part for part in patches.decompose() if not (part ^ core).is_empty()]
    real = [part for part in parts if part.area() >= least]
    area = sum(part.area() for part in real)
    if real:
        x, y = within(max(real, key=lambda part: part.area()))
        yield Misfit(link, lost, z, x, y, area)
