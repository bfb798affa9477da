"""What an inspection found."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from scadgen.findings.finding import Place, Verdict
from scadgen.inspection.bodies import FoundBody
from scadgen.inspection.pivot import FoundAxis
from scadgen.motion.nearest import Closest

if TYPE_CHECKING:
    from collections.abc import Iterator

    from scadgen.caging.certificate import Certificate, Uncertified
    from scadgen.inspection.carried import Carried
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.motion.swing import Swing


@dataclass(frozen=True, eq=False)
class FoundJoint:
    """A pair of bodies of which one turns in the other.

    pair: numbers of the fixed and of the moving one. closest: None while they overlap. fault: the
    first place in which a measure of it failed. cage: the certificate that neither leaves the
    other, or why there is none. Places are mm, as in the file.
    """

    pair: tuple[int, int]
    axis: FoundAxis
    turn: Swing | None
    closest: Closest | None
    fault: Place | None = None
    cage: Certificate | Uncertified | None = None

    def to_dict(self) -> dict[str, Any]:
        """Plain data, as for JSON."""
        turn, near = self.turn, self.closest
        return {
            "pair": list(self.pair),
            "axis": self.axis.to_dict(),
            "turn": turn and {name: getattr(turn, name) for name in turn.__dataclass_fields__},
            "closest": near and {name: getattr(near, name) for name in near.__dataclass_fields__},
        }


@dataclass(frozen=True, eq=False)
class Inspection:
    """A model's bodies, its joints, and the verdict on it.

    bodies: all of them, largest first. joints: every pair that has a bearing, or the one that was
    asked for. loose: numbers of bodies that nothing is meant to hold. notes: what else a maker
    should know, in sentences. carried: the proof that its file carries, if any.
    """

    verdict: Verdict
    bodies: tuple[FoundBody, ...]
    joints: tuple[FoundJoint, ...]
    loose: tuple[int, ...]
    notes: tuple[str, ...]
    carried: Carried | None = None

    @property
    def passed(self) -> bool:
        """Whether every finding passed."""
        return self.verdict.passed

    def mechanism(self) -> Mechanism:
        """The bodies with the joints that were found, to load its solids for example:
        :func:`scadgen.elements.judged.judged`."""
        from scadgen.mechanism.mechanism import Body, Mechanism
        from scadgen.mechanism.turn import Turn

        turns = (
            Turn(fixed=str(fixed), moving=str(moving), about=joint.axis.axis)
            for joint in self.joints
            for fixed, moving in (joint.pair,)
        )
        bodies = (
            Body(str(one.number), f"body {one.number}", partial(getattr, one, "solid"))
            for one in self.bodies
        )
        return Mechanism(
            self.verdict.family, tuple(bodies), tuple(turns), loose=tuple(map(str, self.loose))
        )

    def lines(self) -> Iterator[str]:
        """What was found before anything was judged."""
        for body in self.bodies:
            yield f"body {body.number} ({self._role(body.number)}): {body.words}"
        for joint in self.joints:
            several = len(self.joints) > 1
            of = f" of bodies {joint.pair[0]} and {joint.pair[1]}" if several else ""
            yield f"axis{of}: {joint.axis.words}"
            if joint.turn:
                low = _end(joint.turn.low, joint.turn.stopped_low)
                yield f"turn{of}: {low} and {_end(joint.turn.high, joint.turn.stopped_high)}"
            if joint.closest:
                yield f"closest{of}: {closest_words(joint.closest)}"
        yield from self.notes

    def _role(self, number: int) -> str:
        """What a body is in the model, in a word or two."""
        if number in self.loose:
            return "loose"
        roles = {
            f"{role} in {other}" if len(self.joints) > 1 else role
            for joint in self.joints
            for role, own, other in zip(
                ("fixed", "moving"), joint.pair, joint.pair[::-1], strict=True
            )
            if own == number
        }
        return ", ".join(sorted(roles)) or "no joint"

    def to_dict(self) -> dict[str, Any]:
        """Plain data, as for JSON."""
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
            "joints": [joint.to_dict() for joint in self.joints],
            "loose": list(self.loose),
            "notes": list(self.notes),
            "carried": self.carried and self.carried.to_dict(),
        }


def closest_words(near: Closest) -> str:
    """How near, where and when."""
    here, there = ("({:.2f}, {:.2f}, {:.2f})".format(*p) for p in (near.fixed, near.moving))
    return f"{near.gap:.3f} mm between {here} and {there}, turned by {near.angle:.0f} deg"


def _end(angle: float, stopped: bool) -> str:
    if not stopped:
        return f"no stop up to {angle:.0f} deg"
    return f"stopped at {angle:.1f} deg"
