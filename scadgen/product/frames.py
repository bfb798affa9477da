"""Places on the bed: a shift along x and y, and a turn about the upright."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.motion.axis import Axis

_QUARTER = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}


@dataclass(frozen=True)
class Frame:
    """Where something stands on the bed: its origin, mm, and its turn about z, degrees."""

    x: float = 0.0
    y: float = 0.0
    turn: float = 0.0

    def point(self, x: float, y: float) -> tuple[float, float]:
        """A point of the frame as seen from outside, mm."""
        cos, sin = self._cos_sin
        return self.x + cos * x - sin * y, self.y + sin * x + cos * y

    def then(self, inner: Frame) -> Frame:
        """A frame that stands in this one, as seen from outside."""
        x, y = self.point(inner.x, inner.y)
        return Frame(x, y, (self.turn + inner.turn) % 360)

    @property
    def back(self) -> Frame:
        """The frame that undoes this one."""
        cos, sin = self._cos_sin
        x, y = -(cos * self.x + sin * self.y), sin * self.x - cos * self.y
        return Frame(x, y, -self.turn % 360)

    def carry(self, solid: Manifold) -> Manifold:
        """A solid drawn in the frame, as seen from outside."""
        return solid.rotate((0, 0, self.turn)).translate((self.x, self.y, 0))

    def carry_axis(self, axis: Axis) -> Axis:
        """An axis told in the frame, as seen from outside."""
        from scadgen.motion.axis import Axis

        (x, y, z), (along, across, up) = axis.origin, axis.direction
        cos, sin = self._cos_sin
        turned = cos * along - sin * across, sin * along + cos * across, up
        return Axis((*self.point(x, y), z), turned)

    @property
    def _cos_sin(self) -> tuple[float, float]:
        turn = self.turn % 360
        return _QUARTER.get(turn, (math.cos(math.radians(turn)), math.sin(math.radians(turn))))
