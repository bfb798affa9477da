"""Motions that are no turn about one line: bodies are looked at along the way, and not between."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding, Place
from scadgen.findings.on_motion import LEAST_GAP, SEARCHED
from scadgen.motion.contact import meet

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.joint import Joint
    from scadgen.mechanism.mechanism import Piece

#: Most positions that are looked at, and how far apart they are at least, in the joint's unit.
MOST, LEAST_STEP = 121, 1.0


def passing(name: str, joint: Joint, pairs: Sequence[tuple[Piece, Piece]]) -> Finding:
    """Whether a joint carries bodies past others: of each pair the first stays, the second moves.

    It fails where the joint cannot tell how what hangs on it moves, and leaves open what lies
    between the positions, unless the chain of turns in which it bends shows them to be free.
    """
    if joint.asked is None or not pairs or joint.moved(pairs[0][1].solid, 0.0) is None:
        return Finding(name, False, "not covered: its motion past other bodies is not told.")
    least, at = SEARCHED, 0.0
    for to in positions(*joint.asked):
        for still, moving in pairs:
            there = joint.moved(moving.solid, to)
            if there is None:
                continue
            gap = 0.0 if meet(still.solid, there) else float(still.solid.min_gap(there, SEARCHED))
            if gap <= 0:
                return _met(name, joint, still, moving, to, there)
            least, at = min((least, at), (gap, to))
    low, high = joint.asked
    count = len(positions(low, high))
    more = " or more" if least >= SEARCHED else f" at {at:.0f} {joint.unit}"
    between = least >= LEAST_GAP and free_between(joint, pairs)
    certain = "; free for certain between them, too" if between else ""
    return Finding(
        name,
        least >= LEAST_GAP,
        f"{least:.3f} mm{more} at {count} positions from {low:g} to {high:g} {joint.unit}; less "
        f"than {LEAST_GAP:g} mm is as good as met{certain}.",
        measured=least,
        needed=LEAST_GAP,
        unit="mm",
        leaves_open="" if between else "was looked at in steps, not between them",
    )


def free_between(joint: Joint, pairs: Sequence[tuple[Piece, Piece]]) -> bool:
    """Whether a joint that bends in a chain of turns never has its bodies meet, for certain."""
    from scadgen.motion.arms import Arm
    from scadgen.motion.at_once import at_once
    from scadgen.motion.chains import Bend

    if joint.chain is None or joint.asked is None:
        return False
    bend = Bend(joint.chain, 0)
    return all(
        at_once(
            Arm(still.solid), Arm(moving.solid, (bend,)), [joint.asked], apart=LEAST_GAP
        ).certain
        for still, moving in pairs
    )


def positions(low: float, high: float) -> list[float]:
    """Positions from one end to the other, both of them and 0 included."""
    count = max(2, min(MOST, int((high - low) / LEAST_STEP) + 1))
    even = {low + (high - low) * k / (count - 1) for k in range(count)}
    return sorted(even | {0.0})


def _met(
    name: str, joint: Joint, still: Piece, moving: Piece, to: float, there: Manifold
) -> Finding:
    from scadgen.motion.meeting import meeting

    where = meeting(still.solid, there)
    place = Place(where, to) if where else None
    at = place.words if place else f"at {to:g} {joint.unit}"
    return Finding(name, False, f"{moving.title} meets {still.title} {at}.", place=place)
