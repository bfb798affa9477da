"""How much over-extrusion two bodies bear before their lines join."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.printing.cuts import cuts
from scadgen.printing.layers import TOUCH
from scadgen.printing.nearness import BESIDE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from manifold3d import Manifold

    from scadgen.printing.cuts import Cuts


@dataclass(frozen=True)
class Margin:
    """How far lines may spread on each side before two bodies fuse, wherever the layers fall.

    height: of a layer, mm.
    over: the largest over-extrusion per side that is sure not to join the bodies, mm; negative by
        how much too near they are drawn, and 0 where a layer could be laid right on the other body.
    beside, landing: smallest distance between the bodies in one layer and from a layer of one to
        the layer of the other below it, mm; the smaller room of the two decides.
    whole: whether there is more margin than was looked for, so that `over` means "at least this".
    """

    height: float
    over: float
    beside: float
    landing: float
    whole: bool


def margins(
    bodies: Sequence[Manifold] | Cuts, height: float, *, touch: float = TOUCH
) -> tuple[Margin, ...]:
    """Each pair's margin at layers of a height (mm); slicers close gaps below ``touch`` (mm)."""
    found = []
    for _, _, near in cuts(bodies).pairs:
        beside, landing = near.beside, near.landing(height)
        over = min(beside - touch, landing) / 2
        found.append(Margin(height, over, beside, landing, over >= (BESIDE - touch) / 2))
    return tuple(found)
