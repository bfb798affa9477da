"""The proof of one hinge: every measure held against what the hinge promises."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from scadgen.findings.finding import NO_DUTY, NO_FLEET, NO_GAPS, NO_PLASTIC, Verdict
from scadgen.hinge.family import definition
from scadgen.mechanism.joint import Case
from scadgen.proof.certified import depth_of, on_fleet, under_load
from scadgen.proof.fleet.findings import fleet_findings
from scadgen.proof.fleet.population import ROUGH
from scadgen.proof.heights import usual_heights
from scadgen.proof.on_strength import strength
from scadgen.proof.parts import parts
from scadgen.proof.whole import Printed, prove

if TYPE_CHECKING:
    from scadgen.elements.arms import Flexed
    from scadgen.elements.judged import Bent, Judged
    from scadgen.hinge.family import Hinge
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.proof.fleet.population import Population
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic


def check(
    hinge: Hinge,
    layer_heights: Sequence[float] | None = None,
    progress: Callable[[str], None] | None = None,
    *,
    population: Population | None = ROUGH,
    duty: Duty | None = None,
    plastic: Plastic | None = None,
    whole: Mechanism | None = None,
    solid: bool | Callable[[Judged | Bent | Flexed], None] = False,
) -> Verdict:
    """Prove ``hinge`` on its solids, printed in layers of each of the heights (mm).

    Without heights those that are usual are tried, up to the hinge's own thickest layer.
    ``progress`` is told in a word what is being measured. Enough of the printers of the
    ``population`` must make it work; with None nothing is proven, and the verdict says so. With a
    ``duty`` and a ``plastic`` it must bear the one in the other, printed with the walls and infill
    that the plastic tells, or else with those of the weakest of the printers that are needed;
    gaps that the slicers of these close are none;
    ``solid`` asks that of its very shape, too, by finite elements, which takes minutes and the
    extra ``solid``; a function given as ``solid`` is told what they found. ``whole``: the hinge's
    mechanism, where it is made already.

    Raises ValueError where ``solid`` is asked without a duty and a plastic, or of a hinge that has
    no bearing to load.
    """
    if solid and (duty is None or plastic is None):
        raise ValueError(f"{hinge.family}: solid: give a duty and a plastic that it has to bear.")
    tell = progress or (lambda _: None)
    heights = layer_heights or usual_heights(hinge.layer)
    touch = (population or ROUGH).touch
    printed = Printed(heights, hinge.longest_bridge(), hinge.line_width, touch=touch)
    whole = whole or hinge.mechanism()
    findings = [*prove(whole, printed, Case(plastic, tell, duty)).findings]
    depth = depth_of(findings)
    tell("parts")
    findings.extend(parts(hinge, whole))
    if population is not None and definition(type(hinge)).spoilable:
        tell(f"{population.name} fleet")
        findings.extend(fleet_findings(hinge, population, whole.joints))
        if depth:
            findings.append(on_fleet(depth, population))
    if duty:
        tell("strength")
        if plastic is not None:
            plastic = (population or ROUGH).printed(plastic, hinge.line_width)
        findings.extend(strength(hinge, duty, plastic))
        if depth and plastic is not None:
            findings.extend(under_load(hinge, depth, duty, plastic))
    if solid and duty and plastic:
        from scadgen.elements.of_hinge import beside, solved

        found = solved(hinge, duty, plastic, tell)
        findings.extend(found.findings())
        for arm in beside(hinge, duty, plastic, tell):
            findings.extend(arm.findings())
        if callable(solid):
            solid(found)
    unasked = tuple(_unasked(hinge, population, duty, plastic))
    return Verdict(hinge.family, tuple(findings), hinge.figures(), unasked)


def _unasked(
    hinge: Hinge, population: Population | None, duty: Duty | None, plastic: Plastic | None
) -> Iterator[str]:
    if population is None:
        yield NO_FLEET
    elif not definition(type(hinge)).spoilable:
        yield NO_GAPS
    if duty is None:
        yield NO_DUTY
    elif plastic is None:
        yield NO_PLASTIC
