"""A model that was inspected, its bearings loaded by finite elements.

Of a stranger's model nobody knows where it leans and pries, how solid it prints, or which places
have names: so its bearings are loaded by forces, as if printed solid, and the verdict says what was
not covered.
"""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from scadgen.findings.finding import NO_DUTY, Finding
from scadgen.strength.lasting import modulus_left, strength_left, untold
from scadgen.strength.place import often
from scadgen.tables.documents import JobError

if TYPE_CHECKING:
    from scadgen.elements.judged import Asked
    from scadgen.inspection.result import FoundJoint, Inspection
    from scadgen.mechanism.joint import Joint, Tell
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic

#: What the load on a solid from elsewhere does not cover, each in words.
NOT_COVERED = (
    "no lever: the load acts on the bearing itself, and what pries at it is not known",
    "walls and infill were not asked: it is reckoned as printed solid",
    "leaves beyond half-way from the bearing to their end were held, not loaded",
)


def loaded(found: Inspection, duty: Duty, plastic: Plastic, tell: Tell) -> Inspection:
    """The inspection with what each of its bearings bears of a duty, in a plastic.

    Of the duty the load, the pull, how often, how long, how warm, and the margin count. Raises
    JobError where nothing can be loaded: without a joint, without the libraries, or where nobody
    knows what the plastic bears then.
    """
    from scadgen.elements.solver import EXTRA

    if not found.joints:
        raise JobError(
            "solid: no body turns in another, and only bearings are loaded. Ask without."
        )
    if duty.tilt or duty.lever:
        raise JobError("solid: a model is loaded at its bearing only; ask no lever and no offset.")
    if not duty.load and not duty.pull:
        raise JobError("solid: neither a load nor a pull is asked. This works: a load of 10 N.")
    if unknown := next(untold(plastic, duty), None):
        raise JobError(f"solid: {unknown}")
    if any(importlib.util.find_spec(name) is None for name in ("pyamg", "scipy")):
        raise JobError(EXTRA)
    findings = (*found.verdict.findings, *_findings(found, _asked(duty, plastic), tell))
    unasked = (*(one for one in found.verdict.unasked if one != NO_DUTY), *NOT_COVERED)
    return replace(found, verdict=replace(found.verdict, findings=findings, unasked=unasked))


def _asked(duty: Duty, plastic: Plastic) -> Asked:
    from scadgen.elements.judged import Asked

    return Asked(
        aside=float(duty.load),
        along=float(duty.pull),
        plastic=plastic,
        share=float(often(duty)) * strength_left(plastic, duty),
        stiff=modulus_left(plastic, duty),
        margin=float(duty.margin),
    )


def _findings(found: Inspection, asked: Asked, tell: Tell) -> Iterator[Finding]:
    whole = found.mechanism()
    for joint, one in zip(found.joints, whole.joints, strict=True):
        try:
            yield from _of_joint(whole, _with_gap(one, joint), asked, tell)
        except ValueError as error:  # a part hangs on nothing, or nothing looks at the other body
            yield _unsolved(joint, str(error))


def _unsolved(joint: FoundJoint, why: str) -> Finding:
    one, other = joint.pair
    words = f"bodies {one} and {other} could not be loaded: {why}"
    return Finding(f"solid, bodies {one} and {other}", False, words)


def _of_joint(whole: Mechanism, one: Joint, asked: Asked, tell: Tell) -> Iterator[Finding]:
    from scadgen.elements.judged import Judged, cut_twice

    yield from Judged(whole, one, cut_twice(whole, one, asked, tell), asked).findings()


def _with_gap(one: Joint, found: FoundJoint) -> Joint:
    """The joint with the least gap that was measured of it, if any was."""
    return replace(one, clearance=found.closest.gap) if found.closest else one  # type: ignore[call-arg]
