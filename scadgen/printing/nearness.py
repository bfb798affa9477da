"""How near two bodies come within a layer, across layers and one above the other.

Each is the smallest distance between the bodies once all of space is stretched, so that only the
way asked for counts. So it holds for every height, not for the middles of some layers only: it is
what the worst printer meets, wherever its first layer puts the others.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from scadgen.motion.contact import NEAR, gap_between, overlap
from scadgen.motion.rest import nested
from scadgen.motion.stretched import sideways, upward

if TYPE_CHECKING:
    from manifold3d import Manifold

#: Widest gap looked for beside a body, mm.
BESIDE = 0.5
#: Widest gap looked for below a body, mm.
BELOW = 2.0
#: Where faces lean by 45 degrees, the air over a gap is so many times as high, or less.
STEEP = 1.5
#: Distances this near to each other, mm, are the same.
ROUNDING = 1e-6


@dataclass(frozen=True, eq=False)
class Nearness:
    """Two bodies. No distance is more than was looked for: such a one means "at least this".

    gap: their smallest distance any way, mm, where it is known; above 0.
    """

    one: Manifold
    other: Manifold
    gap: float | None = None
    _landings: dict[float, tuple[float, float]] = field(default_factory=dict, repr=False)

    @cached_property
    def beside(self) -> float:
        """Smallest distance in any level plane, mm, up to `BESIDE`."""
        return _gap(upward(self.one), upward(self.other), BESIDE, self.gap)

    @cached_property
    def vertical(self) -> float:
        """Smallest height of air where one stands over the other, mm, up to `BELOW`."""
        about = max(NEAR, STEEP * self.gap) if self.gap else NEAR
        return _gap(sideways(self.one), sideways(self.other), BELOW, about)

    @cached_property
    def apart(self) -> float:
        """Smallest distance any way, mm: never more than beside or below."""
        search = min(self.beside, self.vertical)
        if self.gap:
            return min(self.gap, search)
        return _gap(self.one, self.other, search) if search else 0.0

    def landing(self, height: float, within: float = BESIDE) -> float:
        """Smallest level distance between one body and the other a layer (mm) below it, mm.

        0 where a layer of one could be laid right on a layer of the other. Up to ``within``, which
        is up to `BESIDE`: less takes less time.
        """
        if self.landing_least(height) >= within:
            return within
        known, looked = self._landings.get(height, (BESIDE, 0.0))
        if known >= looked < within:
            other, least = upward(self.other), within
            for dz in (-height, height):
                if least:
                    least = _gap(upward(self.one.translate((0, 0, dz))), other, least)
            known, looked = self._landings[height] = least, within
        return min(known, within)

    def landing_least(self, height: float) -> float:
        """What `landing` is never less than, mm: two points so far apart in height and no nearer
        than the bodies are.
        """
        square = max(0.0, self.apart - ROUNDING) ** 2 - height * height
        return min(BESIDE, math.sqrt(square)) if square > 0 else 0.0

    def may_land(self, height: float, within: float) -> bool:
        """Whether a layer of one may come as near (mm) to a layer of the other below it."""
        if not may_come(self.landing_least(height), within):
            return False
        return may_come(self.landing(height, min(within + 2 * ROUNDING, BESIDE)), within)


def may_come(distance: float, within: float) -> bool:
    """Whether bodies may be as near as ``within``, by a distance that was measured (mm)."""
    return distance <= within + ROUNDING or within >= BESIDE


def _gap(one: Manifold, other: Manifold, search: float, about: float | None = None) -> float:
    gap = gap_between(one, other, search, about or NEAR)
    if gap > 0 and nested(one, other) and overlap(one, other) > 0:
        return 0.0  # one lies wholly inside the other: their surfaces are apart
    return gap
