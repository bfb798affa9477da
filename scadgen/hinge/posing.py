"""Between which turns a hinge moves, at which it prints, and at which it is drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from scadgen.mechanism.mechanism import Mechanism


class Posing:
    """What every family says of its turns; a kind that knows better says so.

    swing: the turn, degrees, that it must be free for.
    """

    swing: float

    def mechanism(self) -> Mechanism:
        """Its bodies as they print, and the joints between them."""
        raise NotImplementedError

    def drawn_flat(self) -> Mechanism:
        """As :meth:`mechanism`, but drawn flat, however it prints: as its places are told."""
        return self.mechanism()

    def as_printed(self) -> float:
        """The turn at which it prints, degrees, as its swing is counted: as a rule 0."""
        return 0

    def lowest(self) -> float:
        """The other end of the turn that begins at ``swing`` (degrees)."""
        return -self.swing

    def drawn_from(self) -> float:
        """The least turn that may be drawn (degrees): at a stop both sides would touch."""
        return self.lowest()

    def highest(self) -> float:
        """The turn, degrees, up to which nothing but the hinge itself may be in the way."""
        return self.swing
