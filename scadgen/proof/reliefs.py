"""The reliefs of a hinge, held against what each makes room for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.findings.on_reliefs import relieved
from scadgen.hinge.family import definition
from scadgen.hinge.meshing import raised_alike
from scadgen.motion.relief import left_by

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.mechanism.mechanism import Mechanism


def reliefs(hinge: Hinge, whole: Mechanism) -> Iterator[Finding]:
    """A finding for each relief that the family draws of a side; none for a family without.

    It fails where no joint tells what moves past that side.
    """
    start, parts = hinge.as_printed(), definition(type(hinge)).parts
    turn = hinge.lowest() - start, hinge.highest() - start
    sides = [(joint, side) for joint in whole.joints for side in joint.pair]
    sides = [(joint, side) for joint, side in sides if f"{side}_relief" in parts]
    drawn = raised_alike(hinge, [f"{side}_relief" for _, side in sides], angle=0)
    for (joint, side), relief in zip(sides, drawn, strict=True):
        past = joint.past(whole, side)
        if past is None:
            words = "not covered: its joint does not tell what moves past."
            yield Finding(f"{side} relief", False, words)
            continue
        left = left_by(relief, past, turn, hinge.stride, hinge.clearance, joint.phases)
        told = replace(left, angle=left.angle + start)
        yield relieved(f"{side} relief", told, hinge.clearance)
