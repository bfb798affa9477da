"""The proof of one hinge: every measure held against what the hinge promises."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING

from scadgen.findings import on_motion
from scadgen.findings.finding import Finding, Verdict
from scadgen.findings.on_bending import bend_in_layers
from scadgen.hinge.kinds.flexure import Flexure
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.meshing import mesh
from scadgen.motion.axis import Axis
from scadgen.motion.rest import body, rest
from scadgen.motion.swing import swing
from scadgen.proof.fleet.findings import fleet_finding
from scadgen.proof.heights import LAYER_HEIGHTS
from scadgen.proof.on_strength import strength

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.hinge.family import Hinge
    from scadgen.proof.fleet.population import Population
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic

#: How closely flat faces must meet at the angle of the stop, degrees.
STOPPED = 0.2
#: This near the end of the swing, degrees, the faces that stop it close in.
CLOSING = 5.0
#: Stop faces have come within the clearance at this many times the turn at which an arc from the
#: leaves' reach is as long: they do not face the axis squarely.
SLANT = 1.2


def check(
    hinge: Hinge,
    layer_heights: Sequence[float] | None = None,
    progress: Callable[[str], None] | None = None,
    *,
    population: Population | None = None,
    duty: Duty | None = None,
    plastic: Plastic | None = None,
) -> Verdict:
    """Prove ``hinge`` on its solids, printed in layers of each of the heights (mm).

    Without heights those that are usual are tried, up to the hinge's own thickest layer.
    ``progress`` is told in a word what is being measured. With a ``population`` enough of its
    printers must make it work; with a ``duty`` and a ``plastic`` it must bear the one in the
    other. Raises TypeError for a hinge that is neither a pivot nor a flexure.
    """
    tell = progress or (lambda _: None)
    usual = [height for height in LAYER_HEIGHTS if height < hinge.layer]
    heights = layer_heights or [*usual, hinge.layer]
    if isinstance(hinge, Pivot):
        found = _pivot(hinge, heights, tell)
    elif isinstance(hinge, Flexure):
        found = _flexure(hinge, heights, tell, plastic)
    else:
        raise TypeError(f"{hinge.family} is neither a pivot nor a flexure")
    findings = list(found)
    if population:
        tell(f"{population.name} fleet")
        findings.append(fleet_finding(hinge, population))
    if duty and plastic:
        tell("strength")
        findings.extend(strength(hinge, duty, plastic))
    return Verdict(hinge.family, tuple(findings), hinge.figures())


def _pivot(hinge: Pivot, heights: Sequence[float], tell: on_motion.Tell) -> Iterator[Finding]:
    fixed, moving = mesh(hinge, "fixed", angle=0), mesh(hinge, "moving", angle=0)
    axis = Axis(*hinge.axis())
    tell("bodies")
    still = rest(fixed, moving)
    yield on_motion.sound("fixed link", still.fixed)
    yield on_motion.sound("moving link", still.moving)
    yield on_motion.gap_at_rest(still, hinge.clearance)
    tell("swing")
    low, high = hinge.lowest(), hinge.swing
    away = (low + CLOSING if low < 0 else low, _before_closing(hinge))
    turn = swing(fixed, moving, axis, facets=hinge.facets, within=away)
    yield on_motion.free_turn(turn, low, high)
    if hinge.stop_at:
        yield Finding(
            "stop",
            abs(turn.high - hinge.stop_at) <= STOPPED,
            f"flat faces meet at {turn.high:.2f} deg; the stop is set to {hinge.stop_at:g} deg.",
        )
    yield on_motion.gap_on_the_way(turn, hinge.clearance)
    tell("hold")
    yield from on_motion.holding(fixed, moving, axis, (0.0, high - CLOSING))
    names = ("the fixed link", "the moving link")
    yield from _printed(hinge, (fixed, moving), names, heights, tell)


def _before_closing(hinge: Pivot) -> float:
    """The turn, degrees, from which on the faces that stop the hinge close in."""
    swung = hinge.swing - CLOSING
    if not hinge.stop_at:
        return swung
    return min(swung, hinge.stop_at - math.degrees(SLANT * hinge.clearance / hinge.reach))


def _flexure(
    hinge: Flexure, heights: Sequence[float], tell: on_motion.Tell, plastic: Plastic | None
) -> Iterator[Finding]:
    tell("bodies")
    flat = mesh(hinge, angle=0)
    still = body(flat)
    yield on_motion.sound("sheet", still)
    yield bend_in_layers(hinge, plastic)
    for angle in (hinge.lowest(), hinge.swing):
        whole = body(mesh(hinge, angle=angle))
        yield Finding(
            f"bent by {angle:g} deg",
            whole.pieces == 1 and whole.watertight and whole.openings == still.openings,
            f"{whole.pieces} piece, {whole.openings} of {still.openings} openings through it "
            "still open.",
        )
    yield from _printed(hinge, (flat,), ("the sheet",), heights, tell)


def _printed(
    hinge: Hinge,
    bodies: Sequence[Manifold],
    names: Sequence[str],
    heights: Sequence[float],
    tell: on_motion.Tell,
) -> Iterator[Finding]:
    bridge, line = hinge.longest_bridge(), hinge.line_width
    yield from on_motion.printing(bodies, heights, bridge, tell, line_width=line, names=names)
