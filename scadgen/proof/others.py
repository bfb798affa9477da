"""What moves beside a joint: bodies that it carries past others that it has no part in."""

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
    ROUNDING,
    SEARCHED,
    certainty,
    unsure_within,
)
from scadgen.mechanism.turn import Turn

if TYPE_CHECKING:
    from scadgen.mechanism.joint import Case, Joint, JointProof
    from scadgen.mechanism.mechanism import Mechanism, Piece
    from scadgen.motion.axis import Axis
    from scadgen.motion.swing import Swing

#: How findings are named that tell how near bodies pass others, after the joint's bodies.
PASSING = "turn beside the others"
#: How near bodies that pass each other are told of, mm: walls that printers lay too wide take less.
NEAR = 3 * LEAST_GAP
#: Joints between the same bodies may differ by so much in where they carry them, mm: rounding.
ALIKE = 1e-3


def beside(whole: Mechanism, proofs: Sequence[JointProof], case: Case) -> Iterator[Finding]:
    """Bodies that share no joint: whether they stand apart, and pass as a joint moves."""
    apart = list(strangers(whole))
    for one, other in apart:
        yield from _apart(one, other)
    for first, second in itertools.combinations([proof.joint for proof in proofs], 2):
        if first.pair == second.pair:
            yield from _tied(whole, first, second)
    for proof in proofs:
        carried = whole.carried(proof.joint)
        if proof.joint.fixed in carried:
            yield _loop(whole, proof.joint)
            continue
        pairs = [_ordered(pair, carried) for pair in apart]
        passing = [pair for pair in pairs if pair is not None]
        if passing:
            case.tell("others")
            yield _passing(whole, proof, passing)


def strangers(whole: Mechanism) -> Iterator[tuple[Piece, Piece]]:
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
    from scadgen.motion.contact import far_apart, overlap
    from scadgen.motion.meeting import meeting

    if far_apart(one.solid, other.solid, SEARCHED):
        return
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


def _tied(whole: Mechanism, one: Joint, other: Joint) -> Iterator[Finding]:
    """A finding that fails where two joints carry the same body to different places."""
    from scadgen.mechanism.mechanism import titled

    if one.asked is None or other.asked is None:
        return
    low, high = (max(one.asked[0], other.asked[0]), min(one.asked[1], other.asked[1]))
    solid = whole.body(one.moving).solid
    for to in (low, (low + high) / 2, high):
        there = [joint.moved(solid, to) for joint in (one, other)]
        boxes = [each.bounding_box() for each in there if each is not None]
        far = max(abs(a - b) for a, b in zip(boxes[0], boxes[-1], strict=True)) if boxes else 0.0
        if far > ALIKE:
            name = whole.body(one.moving).title
            yield Finding(
                f"{titled(whole, one.pair)}: one motion",
                False,
                f"its joints carry {name} to places {far:.2f} mm apart at {to:g} {one.unit}, so "
                "that each blocks the other.",
                change="one axis for both; of sheets the same lengths, or one wide sheet",
            )
            return


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


def _swings(
    joint: Joint, axis: Axis, pairs: Sequence[tuple[Piece, Piece]], free: tuple[float, float]
) -> dict[int, Swing]:
    """How far those of the pairs turn, by number, that may meet before others do, and how near
    they come away from the ends of the turn.

    free: how far it is free without them, degrees. Those are tried first whose boxes meet first:
    of many bodies in a row few are left to be tried.
    """
    import numpy as np

    from scadgen.motion.sweeps import Sweeps
    from scadgen.motion.swing import swing

    pieces = list({id(piece): piece for pair in pairs for piece in pair}.values())
    number = {id(piece): k for k, piece in enumerate(pieces)}
    still, moving = np.array([[number[id(piece)] for piece in pair] for pair in pairs]).T
    solids = [piece.solid for piece in pieces]
    down, up = map(np.degrees, Sweeps.of(solids, axis, NEAR).free(still, moving))
    found: dict[int, Swing] = {}
    within = (joint.within() if isinstance(joint, Turn) else None) or (0.0, 0.0)
    low, high = free
    for k in map(int, np.argsort(np.minimum(down, up), kind="stable")):
        if down[k] > -low and up[k] > high:
            continue
        one, other = pairs[k]
        found[k] = swing(one.solid, other.solid, axis, within=within, aim=LEAST_GAP)
        low, high = max(low, found[k].low), min(high, found[k].high)
    return found


def _passing(whole: Mechanism, proof: JointProof, pairs: Sequence[tuple[Piece, Piece]]) -> Finding:
    """How far a joint carries bodies past others that it has no part in."""
    from scadgen.mechanism.mechanism import titled
    from scadgen.motion.meeting import meeting

    joint, turn = proof.joint, proof.swing
    name = f"{titled(whole, joint.pair)}: {PASSING}"
    if turn is None or joint.axis is None:
        from scadgen.proof.sampled import passing

        return passing(name, joint, pairs)
    low, high, met, unsure = turn.low, turn.high, None, turn.unsure
    swings = _swings(joint, joint.axis, pairs, (low, high))
    for k in sorted(swings):
        (still, moving), found = pairs[k], swings[k]
        for end, further in ((found.low, found.low < low), (found.high, found.high > high)):
            if further or end in (low, high):
                continue
            angle = end + (0.02 if end > 0 else -0.02)
            where = meeting(still.solid, joint.axis.turn(moving.solid, angle))
            place = Place(where, angle + joint.printed_at) if where else None
            met = (f"{moving.title} meets {still.title}", place)
        low, high = max(low, found.low), min(high, found.high)
        unsure += found.unsure
    asked = joint.asked
    good = high - low >= LEAST_TURN
    if asked:
        good = low <= asked[0] + REACHED and high >= asked[1] - REACHED
    span = asked or (low, high)
    good = good and not unsure_within(unsure, span)
    least, near = _nearest(pairs, swings) if good else (None, "")
    told, start = joint.asked_told, joint.printed_at
    wanted = f"{told[0]:g} to {told[1]:g} deg are asked" if told else "none is asked"
    place = met[1] if met else None
    how = f" {met[0]}{f' {place.words}' if place else ''}." if met else ""
    open_ = [(a + start, b + start) for a, b in unsure_within(unsure, span)]
    free = f"free from {low + start:.1f} to {high + start:.1f} deg, {certainty(open_)}"
    words = f"with all other joints at rest, {free}; {wanted}.{how}"
    return Finding(
        name,
        good and (least is None or least >= LEAST_GAP),
        words + near,
        measured=least,
        needed=None if least is None else LEAST_GAP,
        unit="mm",
        place=place,
    )


def _nearest(
    pairs: Sequence[tuple[Piece, Piece]], swings: Mapping[int, Swing]
) -> tuple[float | None, str]:
    """How near the nearest of the pairs pass each other, mm, and in words; nothing for far ones."""
    k = min(swings, key=lambda k: swings[k].gap, default=None)
    if k is None or swings[k].gap >= NEAR - ROUNDING:
        return None, ""
    (still, moving), found = pairs[k], swings[k]
    at = f"{found.gap:.3f} mm, nearest at {found.gap_at:.0f} deg"
    good = found.gap >= LEAST_GAP - ROUNDING
    met = "" if good else f"; less than {LEAST_GAP:g} mm is as good as met"
    gap = max(found.gap, LEAST_GAP) if good else found.gap
    return gap, f" {moving.title} passes {still.title} by {at}{met}."
