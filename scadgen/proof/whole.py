"""The proof of a whole mechanism: its bodies, its joints, what else moves, and its printing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.findings.on_printing import printing
from scadgen.mechanism.joint import Case, JointProof
from scadgen.mechanism.mechanism import titled
from scadgen.printing.cuts import Cuts
from scadgen.printing.layers import TOUCH
from scadgen.printing.lines import LINE_WIDTH
from scadgen.proof.at_once import together
from scadgen.proof.others import beside

if TYPE_CHECKING:
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.printing.nearness import Nearness


@dataclass(frozen=True)
class Printed:
    """How a mechanism is printed: layer heights, longest bridge and width of a line, all mm.

    floor: height at which it stands, mm; a slicer puts it on the bed. touch: widest gap that the
    slicer closes, mm.
    """

    heights: Sequence[float]
    bridge: float
    line_width: float = LINE_WIDTH
    floor: float = 0.0
    touch: float = TOUCH


@dataclass(frozen=True, eq=False)
class WholeProof:
    """All findings on a mechanism, and what was found of each joint."""

    findings: tuple[Finding, ...]
    joints: tuple[JointProof, ...]


def prove(whole: Mechanism, printed: Printed, case: Case) -> WholeProof:
    """Prove a mechanism: that every body is held, each joint moves and holds, and all of it prints.

    With several joints each finding is named after the bodies that it is about.
    """
    case.tell("bodies")
    proofs = tuple(joint.prove(whole, case) for joint in whole.joints)
    findings = [*_accounted(whole), *_sound(whole)]
    for proof in proofs:
        findings += _named(whole, proof)
    findings += [*beside(whole, proofs, case), *together(whole, proofs, case)]
    solids = [piece.solid for piece in whole.pieces]
    if printed.floor:
        solids = [solid.translate((0, 0, -printed.floor)) for solid in solids]
    findings += printing(
        Cuts(tuple(solids), _near(whole, proofs)),
        printed.heights,
        printed.bridge,
        case.tell,
        touch=printed.touch,
        line_width=printed.line_width,
        names=[piece.said for piece in whole.pieces],
    )
    return WholeProof(tuple(findings), proofs)


def _near(whole: Mechanism, proofs: Sequence[JointProof]) -> dict[tuple[int, int], Nearness]:
    """How near pieces come, by number, where it was measured between bodies."""
    number = {piece.bodies: k for k, piece in enumerate(whole.pieces)}
    found: dict[tuple[int, int], Nearness] = {}
    for proof in proofs:
        one, other = sorted(number.get((name,), -1) for name in proof.joint.pair)
        if proof.near and one >= 0:
            found[one, other] = proof.near
    return found


def _accounted(whole: Mechanism) -> Iterator[Finding]:
    """A finding that fails for each body that nothing holds, and one for each loose one."""
    if len(whole.bodies) == 1 and whole.unheld:
        yield Finding(
            "joint",
            False,
            "it is one body with no joint: no hinge, or links that are welded together.",
            change="more clearance where links are welded, or name it as a loose part",
        )
        return
    for body in whole.unheld:
        yield Finding(
            f"{body.title} is held",
            False,
            "no joint holds it, and nobody said that it is loose.",
            change="give it a bearing in another body, join it to one, or name it as a loose part",
        )
    for name in whole.loose:
        words = "a loose part, as told: only its printing and its gaps as it stands are judged."
        yield Finding(f"{whole.body(name).title} is loose", True, words)


def _sound(whole: Mechanism) -> Iterator[Finding]:
    """Whether bodies that are in no joint are closed pieces; joints look at their own."""
    from scadgen.findings.on_motion import sound
    from scadgen.motion.rest import body

    held = {name for joint in whole.joints for name in joint.pair}
    for one in whole.bodies:
        if one.name not in held:
            yield sound(one.title, body(one.solid))


def _named(whole: Mechanism, proof: JointProof) -> tuple[Finding, ...]:
    if len(whole.joints) == 1:
        return proof.findings
    joint = titled(whole, proof.joint.pair)
    return tuple(replace(found, name=f"{joint}: {found.name}") for found in proof.findings)
