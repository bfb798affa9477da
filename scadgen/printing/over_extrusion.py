"""How much over-extrusion two bodies bear before their lines join."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.printing.cuts import cuts
from scadgen.printing.layers import TOUCH
from scadgen.printing.nearness import BESIDE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from manifold3d import Manifold

    from scadgen.printing.cuts import Cuts
    from scadgen.printing.nearness import Nearness


@dataclass(frozen=True)
class Margin:
    """How far lines may spread on each side before two bodies fuse, wherever the layers fall.

    height: of a layer, mm.
    over: the largest over-extrusion per side that is sure not to join the bodies, mm; negative by
        how much too near they are drawn, and 0 where a layer could be laid right on the other body.
    beside, landing: smallest distance between the bodies in one layer and from a layer of one to
        the layer of the other below it, mm, no farther looked for than beside; the smaller room of
        the two decides.
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
    return tuple(_margin(near, height, touch) for _, _, near in cuts(bodies).pairs)


def least_margin(
    made: Cuts, heights: Sequence[float], *, touch: float = TOUCH, enough: float = math.inf
) -> Margin:
    """The least margin of all pairs at all the heights (mm), of which there has to be a pair.

    It is the first of equal ones. Landings are measured only where they may make it: the margin in
    one layer is the same at all heights, and thin layers cannot land nearer than bodies are apart.
    enough: where the margin is so much, mm, and lies in one layer for certain, the landing is told
    as what it is never less than.
    """
    every = [(near, height) for height in heights for _, _, near in made.pairs]
    bounds = [_room(near.beside, near.landing_least(h), touch) for near, h in every]
    least, first = math.inf, len(every)
    for k in sorted(range(len(every)), key=bounds.__getitem__):
        if (bounds[k], k) > (least, first):
            continue
        near, height = every[k]
        sure = near.landing_least(height) >= near.beside - touch
        room = bounds[k] if sure else _room(near.beside, near.landing(height, near.beside), touch)
        least, first = min((least, first), (room, k))
    near, height = every[first]
    if least >= enough and near.landing_least(height) >= near.beside - touch:
        landing = min(near.landing_least(height), near.beside)
        return Margin(height, least, near.beside, landing, _whole(least, touch))
    return _margin(near, height, touch)


def _margin(near: Nearness, height: float, touch: float) -> Margin:
    landing = near.landing(height, near.beside)
    over = _room(near.beside, landing, touch)
    return Margin(height, over, near.beside, landing, _whole(over, touch))


def _whole(over: float, touch: float) -> bool:
    """Whether lines may spread as far (mm) as was looked for."""
    return over >= (BESIDE - touch) / 2


def _room(beside: float, landing: float, touch: float) -> float:
    """What lines may spread by on each side, mm."""
    return min(beside - touch, landing) / 2
