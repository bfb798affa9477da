"""What moves beside a joint: bodies that it carries past others, and all joints at once."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding, Place
from scadgen.findings.on_motion import (
    LEAST_GAP,
    LEAST_TURN,
    REACHED,
    SEARCHED,
    certainty,
    unsure_within,
)

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.joint import Case, Joint, JointProof
    from scadgen.mechanism.mechanism import Mechanism, Piece

#: Most poses of all joints together that are looked at.
POSES = 243


def beside(whole: Mechanism, proofs: Sequence[JointProof], case: Case) -> Iterator[Finding]:
    """Bodies that share no joint: whether they stand apart, and pass as a joint moves."""
    strangers = list(_strangers(whole))
    for one, other in strangers:
        yield from _apart(one, other)
    for proof in proofs:
        carried = whole.carried(proof.joint)
        if proof.joint.fixed in carried:
            yield _loop(whole, proof.joint)
            continue
        pairs = [_ordered(pair, carried) for pair in strangers]
        passing = [pair for pair in pairs if pair is not None]
        if passing:
            case.tell("others")
            yield _passing(whole, proof, passing)


def _strangers(whole: Mechanism) -> Iterator[tuple[Piece, Piece]]:
    """Pairs of pieces between which there is no joint."""
    joined = {frozenset(joint.pair) for joint in whole.joints}
    for one, other in itertools.combinations(whole.pieces, 2):
        between = [frozenset(pair) for pair in itertools.product(one.bodies, other.bodies)]
        met = {name for pair in between if pair in joined for name in pair}
        if not met:
            yield one, other
        elif len(between) > 1:  # what is fused to a body of the joint has no part in it
            rest = [_without(whole, piece, met) for piece in (one, other)]
            yield from _unjoined((one, other), rest)


def _without(whole: Mechanism, piece: Piece, met: set[str]) -> Piece | None:
    """What is left of a piece without some of its bodies; None for nothing."""
    left = tuple(name for name in piece.bodies if name not in met)
    solid = piece.solid
    for name in set(piece.bodies) & met:
        solid = solid - whole.body(name).solid
    return replace(piece, solid=solid, bodies=left) if left else None


def _unjoined(
    whole: tuple[Piece, Piece], rest: Sequence[Piece | None]
) -> Iterator[tuple[Piece, Piece]]:
    """Each rest with the other piece as a whole."""
    if rest[0] is not None:
        yield rest[0], whole[1]
    if rest[1] is not None:
        yield whole[0], rest[1]


def _apart(one: Piece, other: Piece) -> Iterator[Finding]:
    from scadgen.motion.contact import overlap
    from scadgen.motion.meeting import meeting

    gap = float(one.solid.min_gap(other.solid, SEARCHED))
    if gap >= SEARCHED:
        return
    shared = overlap(one.solid, other.solid)
    where = meeting(one.solid, other.solid) if shared else None
    good = not shared and gap >= LEAST_GAP
    into = f", overlapping by {shared:.2f} mm3" if shared else ""
    at = f" They meet {Place(where).words}." if where else ""
    yield Finding(
        f"{one.title} and {other.title}: gap at rest",
        good,
        f"{gap:.3f} mm at rest{into}; less than {LEAST_GAP:g} mm fuses.{at}",
        measured=gap,
        needed=LEAST_GAP,
        unit="mm",
        place=Place(where) if where else None,
    )


def _loop(whole: Mechanism, joint: Joint) -> Finding:
    from scadgen.mechanism.mechanism import titled

    return Finding(
        f"{titled(whole, joint.pair)}: loop",
        False,
        "not covered: other joints tie both bodies together, so that this one cannot move alone.",
        change="leave one joint of the loop out of the file, and prove it by itself",
    )


def _ordered(pair: tuple[Piece, Piece], carried: frozenset[str]) -> tuple[Piece, Piece] | None:
    """The piece that stays and the one that is carried past it; None where both do the same."""
    moves = [bool(carried & set(piece.bodies)) for piece in pair]
    if moves[0] == moves[1]:
        return None
    return (pair[1], pair[0]) if moves[0] else pair


def _passing(whole: Mechanism, proof: JointProof, pairs: Sequence[tuple[Piece, Piece]]) -> Finding:
    """How far a joint carries bodies past others that it has no part in."""
    from scadgen.mechanism.mechanism import titled
    from scadgen.motion.meeting import meeting
    from scadgen.motion.swing import swing

    joint, turn = proof.joint, proof.swing
    name = f"{titled(whole, joint.pair)}: turn beside the others"
    if turn is None or joint.axis is None:
        from scadgen.proof.sampled import passing

        return passing(name, joint, pairs)
    low, high, met, unsure = turn.low, turn.high, None, turn.unsure
    for still, moving in pairs:
        found = swing(still.solid, moving.solid, joint.axis, within=(0.0, 0.0))
        for end, further in ((found.low, found.low < low), (found.high, found.high > high)):
            if further or end in (low, high):
                continue
            angle = end + (0.02 if end > 0 else -0.02)
            where = meeting(still.solid, joint.axis.turn(moving.solid, angle))
            met = (f"{moving.title} meets {still.title}", Place(where, angle) if where else None)
        low, high = max(low, found.low), min(high, found.high)
        unsure += found.unsure
    asked = joint.asked
    good = high - low >= LEAST_TURN
    if asked:
        good = low <= asked[0] + REACHED and high >= asked[1] - REACHED
    span = asked or (low, high)
    good = good and not unsure_within(unsure, span)
    wanted = f"{asked[0]:g} to {asked[1]:g} deg are asked" if asked else "none is asked"
    place = met[1] if met else None
    how = f" {met[0]}{f' {place.words}' if place else ''}." if met else ""
    free = f"free from {low:.1f} to {high:.1f} deg, {certainty(unsure_within(unsure, span))}"
    words = f"with all other joints at rest, {free}; {wanted}.{how}"
    return Finding(name, good, words, place=place)


def together(whole: Mechanism, proofs: Sequence[JointProof], case: Case) -> Iterator[Finding]:
    """What meets when several joints are at the ends of their turn at once; nothing for one joint.

    It tells, and never fails: bodies that stop each other limit a motion, and break nothing. As
    what lies between the poses is not tried, nothing is proven then.
    """
    from scadgen.motion.contact import meet

    turns = [p for p in proofs if p.swing is not None and p.joint.axis is not None]
    if len(turns) < 2 or any(p.joint.fixed in whole.carried(p.joint) for p in turns):
        return
    case.tell("all joints")
    ends = [sorted({_far(p, -1), 0.0, _far(p, 1)}) for p in turns]
    every = list(itertools.islice(itertools.product(*ends), POSES))
    strangers = list(_strangers(whole))
    met: list[str] = []
    for pose in every:
        placed = posed(whole, dict(zip((p.joint for p in turns), pose, strict=True)))
        for one, other in strangers:
            if meet(placed[one.title], placed[other.title]):
                at = ", ".join(f"{angle:.0f}" for angle in pose)
                met.append(f"{one.title} and {other.title} at {at} deg")
    first = f": {met[0]}" if met else ""
    words = (
        f"{len(every)} poses of {len(turns)} joints at the ends of their turns and at rest: bodies "
        f"that share no joint meet in {len(met)} of them{first}. Others were not tried."
    )
    open_ = f"was tried in {len(every)} poses only"
    yield Finding("all joints together", True, words, leaves_open=open_)


def _far(proof: JointProof, way: int) -> float:
    """An end of a joint's turn: as asked, or as found, at most a right angle."""
    joint, turn = proof.joint, proof.swing
    if joint.asked:
        return joint.asked[0 if way < 0 else 1]
    end = (turn.low if way < 0 else turn.high) if turn else 0.0
    return max(-90.0, min(90.0, end))


def posed(whole: Mechanism, angles: Mapping[Joint, float]) -> dict[str, Manifold]:
    """Each piece by its title, all joints turned, the first body staying where it is.

    Of each joint the side without the first body is carried; those sides lie in each other or
    apart, and the smaller ones are turned first, while their axes are still where they print.
    """
    root = whole.bodies[0].name
    sides = []
    for joint, angle in angles.items():
        carried = whole.carried(joint)
        if root in carried:
            carried, angle = whole.reached(joint.fixed, joint), -angle
        sides.append((carried, joint, angle))
    placed = {piece.title: piece.solid for piece in whole.pieces}
    for carried, joint, angle in sorted(sides, key=lambda side: len(side[0])):
        for piece in whole.pieces:
            if carried & set(piece.bodies) and joint.axis is not None:
                placed[piece.title] = joint.axis.turn(placed[piece.title], angle)
    return placed
