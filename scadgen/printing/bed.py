"""The first layer: what stands on the bed, and what its spread brings together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.printing.cuts import Cuts, cuts
from scadgen.printing.outlines import apart

if TYPE_CHECKING:
    from collections.abc import Sequence

    from manifold3d import Manifold

#: How far each side of a first layer spreads that is squeezed onto the bed, mm: the middle of 0.1
#: to 0.3 mm (common practice, no source).
FIRST_LAYER_SPREAD = 0.2


@dataclass(frozen=True)
class Bed:
    """Bodies on the bed.

    height: of the first layer, mm. spread: of each side of it, mm.
    areas: of each body's first layer as drawn, mm2; 0 for a body that starts above it.
    drawn: smallest distance between two bodies in the first layer, mm; inf where no two are there.
    gap: what the spread leaves of it, mm; below 0 the lines join.
    """

    height: float
    spread: float
    areas: tuple[float, ...]
    drawn: float
    gap: float

    @property
    def least(self) -> float:
        """Smallest area of a body on the bed, mm2."""
        return min(self.areas)


def bed(
    bodies: Sequence[Manifold] | Cuts, height: float, *, spread: float = FIRST_LAYER_SPREAD
) -> Bed:
    """Look at the first layer (``height``, mm), cut at its middle as all layers are.

    spread: how far each side spreads on the bed, mm.
    """
    made = cuts(bodies)
    first = [made.section(body, 0, height) for body in range(len(made.bodies))]
    pairs = ((first[one], first[other]) for one, other, _ in made.pairs)
    drawn = min((apart(*pair) for pair in pairs), default=float("inf"))
    areas = tuple(section.area() for section in first)
    return Bed(height, spread, areas, drawn, drawn - 2 * spread)
