"""What is printed beside a print, as supports and brims, where it lies between links."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.printing.outlines import within
from scadgen.toolpaths.areas import covered, wider
from scadgen.toolpaths.roles import NOT_PRINT, Role

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from scadgen.toolpaths.lines import Laid
    from scadgen.toolpaths.links import Links

#: What lies within so much of two links, mm, is between them: no gap of a hinge is wider than twice
#: that, and no tool comes in.
WITHIN = 0.6
#: How far above and below a layer, mm, links are looked for: what lies on one may carry the other.
LEVELS = (-0.45, 0.0, 0.45)
#: Least area that counts, mm2: a line that passes by leans over so far.
LEAST = 0.15


@dataclass(frozen=True)
class Between:
    """What lies between two links. z: top of the layer, mm. x, y: its middle, mm. area: mm2.

    peels: it is a brim on the bed, which is cut or peeled off from below.
    """

    links: tuple[int, int]
    role: Role
    z: float
    x: float
    y: float
    area: float
    peels: bool = False


def between(links: Links, laid: Laid, *, first: bool) -> Iterator[Between]:
    """Lines of a layer that are no part of the print, and lie between two links.

    Outside of what spans both links they come off: a brim around a hinge passes its gaps.
    """
    import numpy as np

    if len(links.solids) < 2:
        return
    for role in NOT_PRINT:
        lines = laid.only(laid.role == role)
        if not len(lines.width):
            continue
        area = covered(lines)
        middle = laid.z - float(np.median(lines.height)) / 2
        around = [_around(links, link, middle) for link in range(len(links.solids))]
        for one, other in itertools.combinations(range(len(around)), 2):
            both = around[one], around[other]
            if both[0].is_empty() or both[1].is_empty():
                continue
            shared = area ^ wider(both[0], WITHIN) ^ wider(both[1], WITHIN)
            if not shared.is_empty():
                shared = shared ^ (both[0] + both[1]).hull()
            if shared.area() > LEAST:
                x, y = within(max(shared.decompose(), key=lambda part: part.area()))
                peels = first and role is Role.BESIDE
                yield Between((one, other), role, laid.z, x, y, shared.area(), peels)


def _around(links: Links, link: int, z: float) -> CrossSection:
    low, middle, high = (links.section(link, z + step) for step in LEVELS)
    return low + middle + high
