"""What a family says of how well its form does something: a share, and the reason in words."""

from __future__ import annotations

from dataclasses import dataclass

from scadgen.strength.duty import Duty
from scadgen.strength.place import often
from scadgen.strength.temper import share

#: What a form for many turns is worth for one: more than a join that is made once asks for.
ONCE = 0.5


@dataclass(frozen=True)
class Judged:
    """``worth``: 0, not at all, to 1, as well as any form does. ``words``: why, without a stop."""

    worth: float
    words: str


@dataclass(frozen=True)
class WeakSpot:
    """A place of a form that practice does not trust under a force (common practice, no source).

    light: force (N), as a single turn would feel it, that it does not notice. heavy: the one from
    which on it has lost all that it loses. lost: share of the form's trust.
    """

    light: float
    heavy: float
    lost: float

    def left(self, force: float, duty: Duty) -> float:
        """Share of its trust that the form keeps under a force (N), as often as the duty asks."""
        felt = max(float(force) / often(duty), self.light)
        return 1 - self.lost * float(share(felt, self.light, self.heavy))
