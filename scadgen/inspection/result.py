"""What an inspection found."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.findings.finding import Verdict
from scadgen.inspection.bodies import FoundBody
from scadgen.inspection.nearest import Closest
from scadgen.inspection.pivot import FoundAxis

if TYPE_CHECKING:
    from collections.abc import Iterator

    from scadgen.motion.swing import Swing


@dataclass(frozen=True, eq=False)
class Inspection:
    """A model's bodies, its axis, and the verdict on it.

    bodies: all of them, largest first. pair: the numbers of the fixed and of the moving one; empty
        where there is one body only, of which only the printing is judged.
    axis, turn, closest: None with one body; ``closest`` also while the bodies overlap. All places
        are mm, as in the file. notes: what else a maker should know, in sentences.
    """

    verdict: Verdict
    bodies: tuple[FoundBody, ...]
    pair: tuple[int, ...]
    axis: FoundAxis | None
    turn: Swing | None
    closest: Closest | None
    notes: tuple[str, ...]

    @property
    def passed(self) -> bool:
        """Whether every finding passed."""
        return self.verdict.passed

    def lines(self) -> Iterator[str]:
        """What was found before anything was judged."""
        roles = dict(zip(self.pair, ("fixed", "moving"), strict=False))
        for body in self.bodies:
            role = roles.get(body.number, "left out" if self.pair else "alone")
            yield f"body {body.number} ({role}): {body.words}"
        if self.axis:
            yield f"axis: {self.axis.words}"
        if self.turn and self.axis:
            yield f"turn: {_end(self.turn.low, self.turn.stopped_low)} and " + _end(
                self.turn.high, self.turn.stopped_high
            )
        if self.closest:
            yield f"closest: {closest_words(self.closest)}"
        yield from self.notes

    def to_dict(self) -> dict[str, Any]:
        """Plain data, as for JSON."""
        axis, turn, near = self.axis, self.turn, self.closest
        bodies = [
            {
                "number": body.number,
                "volume": body.volume,
                "box": [list(body.box[:3]), list(body.box[3:])],
                "bed": body.bed,
                "hollows": body.hollows,
            }
            for body in self.bodies
        ]
        return self.verdict.to_dict() | {
            "bodies": bodies,
            "pair": list(self.pair),
            "axis": axis and axis.to_dict(),
            "turn": turn and {name: getattr(turn, name) for name in turn.__dataclass_fields__},
            "closest": near and {name: getattr(near, name) for name in near.__dataclass_fields__},
            "notes": list(self.notes),
        }


def closest_words(near: Closest) -> str:
    """How near, where and when."""
    here, there = ("({:.2f}, {:.2f}, {:.2f})".format(*p) for p in (near.fixed, near.moving))
    return f"{near.gap:.3f} mm between {here} and {there}, turned by {near.angle:.0f} deg"


def _end(angle: float, stopped: bool) -> str:
    if not stopped:
        return f"no stop up to {angle:.0f} deg"
    return f"stopped at {angle:.1f} deg"
