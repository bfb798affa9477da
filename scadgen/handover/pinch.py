"""Gaps that open and close as leaves turn, and whether a finger can be caught in one.

The rule: a gap that lets a thin rod in must let a thick one in too, in every position; so it stays
below the one, or at or above the other.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from scadgen.mechanism.mechanism import Mechanism


@dataclass(frozen=True)
class GapRule:
    """Rods of a test (mm): where the ``thin`` one enters, the ``thick`` one must; its source."""

    name: str
    thin: float
    thick: float
    source: str


RULES = (
    GapRule("EN 71-1 and ISO 8124-1, hinge line", 5.0, 12.0, "a test-rod maker's procedure"),
    GapRule("ASTM F963, 4.18.1", 4.76, 12.7, "looked up: rods of 3/16 in and 1/2 in"),
)


@dataclass(frozen=True)
class Opening:
    """A gap between the leaves, as ``low`` to ``high`` (mm) over the whole turn."""

    low: float
    high: float

    def catches(self, rule: GapRule) -> bool:
        """Whether some position lets the thin rod in but not the thick one."""
        return self.high >= rule.thin and self.low < rule.thick

    @property
    def caught(self) -> bool:
        """Whether any of the rules finds it dangerous."""
        return any(self.catches(rule) for rule in RULES)


def openings(whole: Mechanism) -> tuple[Opening, ...]:
    """The gaps that open and close as a mechanism moves; none where no joint tells of any."""
    return tuple(Opening(low, high) for joint in whole.joints for low, high in joint.openings())
