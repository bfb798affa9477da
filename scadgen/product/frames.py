"""Places on the bed: a shift along x and y, and a turn about the upright."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.motion.axis import Axis, cos_sin

if TYPE_CHECKING:
    from manifold3d import Manifold


@dataclass(frozen=True)
class Frame:
    """Where something stands on the bed: its origin, mm, and its turn about z, degrees."""

    x: float = 0.0
    y: float = 0.0
    turn: float = 0.0

    def point(self, x: float, y: float) -> tuple[float, float]:
        """A point of the frame as seen from outside, mm."""
        cos, sin = cos_sin(self.turn)
        return self.x + cos * x - sin * y, self.y + sin * x + cos * y

    def then(self, inner: Frame) -> Frame:
        """A frame that stands in this one, as seen from outside."""
        x, y = self.point(inner.x, inner.y)
        return Frame(x, y, (self.turn + inner.turn) % 360)

    @property
    def back(self) -> Frame:
        """The frame that undoes this one."""
        cos, sin = cos_sin(self.turn)
        x, y = -(cos * self.x + sin * self.y), sin * self.x - cos * self.y
        return Frame(x, y, -self.turn % 360)

    def carry(self, solid: Manifold) -> Manifold:
        """A solid drawn in the frame, as seen from outside."""
        return solid.rotate((0, 0, self.turn)).translate((self.x, self.y, 0))

    def carry_axis(self, axis: Axis) -> Axis:
        """An axis told in the frame, as seen from outside."""
        (x, y, z), (along, across, up) = axis.origin, axis.direction
        cos, sin = cos_sin(self.turn)
        turned = cos * along - sin * across, sin * along + cos * across, up
        return Axis((*self.point(x, y), z), turned)
