"""How many empty layers keep two bodies apart where one stands over the other."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.printing.cuts import SLIVER, Cuts, cuts
from scadgen.printing.facing import among
from scadgen.printing.nearness import BELOW

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from manifold3d import Manifold

#: How near to a whole number of layers a gap counts as that number: rounding of heights.
WHOLE = 1e-6


@dataclass(frozen=True)
class Air:
    """The fewest empty layers between two bodies, one over the other.

    above, below: the bodies' places in the list. height: of a layer, mm.
    gap: least height of the air between them, mm, wherever the layers fall.
    count: the fewest empty layers there are; 0 where one body is laid right on the other.
    z: bottom of the lowest place with so few, mm: of its first empty layer, or of the layer that
        lands on the other body.
    fewest, most: layers that the least gap holds, as the layers fall. A layer is empty when its
        middle lies in the air, so a gap of 0.42 mm holds two layers of 0.2 mm, or three.
    """

    above: int
    below: int
    height: float
    gap: float
    count: int
    z: float
    fewest: int
    most: int


def air(bodies: Sequence[Manifold] | Cuts, height: float) -> tuple[Air, ...]:
    """The fewest empty layers (of ``height``, mm) between every two bodies.

    Two bodies with more than 2 mm of air wherever one stands over the other are left out.
    """
    made = cuts(bodies)
    return tuple(
        found
        for one, other, near in made.pairs
        if near.vertical < BELOW
        for found in _least(made, (one, other), near.vertical, height)
    )


def _least(made: Cuts, pair: tuple[int, int], gap: float, height: float) -> Iterator[Air]:
    layers = gap / height
    fewest, most = math.floor(layers + WHOLE), math.ceil(layers - WHOLE)
    for count in range(max(0, most - 1), made.count(height)):
        for k, above, below in _places(made, pair, gap, (count, height)):
            high = made.section(above, k, height)
            low = made.section(below, k - 1 - count, height)
            if (high ^ low).area() > SLIVER:
                z = (k - count) * height
                yield Air(above, below, height, gap, count, z, fewest, most)
                return


def _places(
    made: Cuts, pair: tuple[int, int], gap: float, empty: tuple[int, float]
) -> list[tuple[int, int, int]]:
    """Layers, from the bed up, that may lie over so many empty ones, with the bodies above and
    below.

    Where two bodies are apart, a face of the lower one looks up between its layer and that of the
    upper one, and a face of that looks down.
    """
    import numpy as np

    count, height = empty
    layers = np.arange(count + 1, made.count(height))
    low, high = (layers - count - 0.5) * height, (layers + 0.5) * height
    found = []
    for turn, (above, below) in enumerate((pair, pair[::-1])):
        between = np.ones(len(layers), bool)
        if gap > 0:
            between = among(made.facing[above].down, low, high)
            between &= among(made.facing[below].up, low, high)
        found += [(int(k), turn, above, below) for k in layers[between]]
    return [(k, above, below) for k, _, above, below in sorted(found)]
