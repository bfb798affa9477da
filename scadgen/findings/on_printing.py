"""Findings on bodies as a printer meets them: layers, first layer, air between them, walls."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from scadgen.findings.finding import Finding
from scadgen.findings.on_standing import feet
from scadgen.printing.air import Air, air
from scadgen.printing.bed import FIRST_LAYER_SPREAD, Bed, bed
from scadgen.printing.cuts import TOLERANCE, Cuts
from scadgen.printing.cuts import cuts as cuts_of
from scadgen.printing.layers import TOUCH, Layers, layers, run_together
from scadgen.printing.lines import LAID, LINE_WIDTH, thickest_layer
from scadgen.printing.over_extrusion import Margin, least_margin
from scadgen.printing.parted import ONE_LINE, Parted, parted
from scadgen.printing.walls import Wall, thin_walls

if TYPE_CHECKING:
    from manifold3d import Manifold

Tell = Callable[[str], None]
Names = Callable[[int], str]

#: Over-extrusion per side, mm, and air on the bed, mm, that leave no doubt (assumed).
SURE_OVER, SURE_BED = 0.05, 0.1
#: Clearance that is less than this share of what it must be is not named as a factor.
SHARE = 0.1
#: What is said, and advised, of bodies between which nothing is left to be measured.
MET = "the bodies touch or overlap as drawn"
APART = "draw the bodies apart: they touch or overlap"


def printing(
    bodies: Sequence[Manifold] | Cuts,
    heights: Sequence[float],
    longest_bridge: float,
    tell: Tell,
    *,
    reach_angle: float = 45.0,
    touch: float = TOUCH,
    over: float = 0.0,
    spread: float = FIRST_LAYER_SPREAD,
    line_width: float = LINE_WIDTH,
    names: Sequence[str] = (),
) -> Iterator[Finding]:
    """Whether bodies print in layers of each of the heights (mm) with bridges up to so long (mm).

    One finding for each height, then the first layer, each body's foot, the air between bodies one
    over the other, the over-extrusion that they bear, and walls.

    reach_angle: steepest overhang, degrees from the vertical. touch: slicers close gaps below it,
    mm. over: over-extrusion, and spread: that of a first layer, mm on each side. line_width: mm.
    names: what the bodies are called.
    """

    def named(body: int) -> str:
        return names[body] if names else f"body {body + 1}"

    cuts = cuts_of(bodies)
    for height in heights:
        tell(f"layers of {height:g} mm")
        options = {"reach_angle": reach_angle, "touch": touch, "over": over}
        cut = layers(cuts, height, line=line_width, **options)
        found = _layers(cut, longest_bridge, thickest_layer(line_width))
        yield _whole(found, parted(cuts, height, line_width), named)
    tell("first layer")
    yield _first_layer([bed(cuts, height, spread=spread) for height in heights])
    yield from feet(cuts, heights, named)
    tell("air between layers")
    yield from _air([found for height in heights for found in air(cuts, height)])
    if cuts.pairs:
        tell("over-extrusion")
        worst = least_margin(cuts, heights, touch=touch, enough=over + SURE_OVER)
        laid = over + LAID if worst.over < over + LAID else over
        fused = any(any(run_together(cuts, height, touch, laid)) for height in heights)
        yield _over_extrusion(fused, worst, over)
    tell("walls")
    yield _walls(thin_walls(cuts, max(heights), line_width), named, line_width)


def _layers(cut: Layers, longest_bridge: float, thickest: float) -> Finding:
    bed_area = min(cut.bed)
    hanging = f"{cut.droop:.2f} mm2 droop, {cut.islands} islands"
    spans = f"bridges up to {cut.span:.1f} of {longest_bridge:g} mm"
    fused = f"{cut.fused:.2f} mm2 fused"
    at, far = _places(cut), cut.span > longest_bridge + TOLERANCE
    measured, needed, unit, change = _decisive(cut, longest_bridge)
    if cut.height > thickest + TOLERANCE:
        words = f"too high for its lines, which lay layers of {thickest:.3g} mm at most{at}."
        change = f"layers of {thickest:.3g} mm or less, or wider lines"
        name = f"layers of {cut.height:g} mm"
        return Finding(name, False, words, cut.height, thickest, "mm", False, change=change)
    return Finding(
        f"layers of {cut.height:g} mm",
        cut.droop == 0 and cut.fused == 0 and not far and bed_area > 0,
        f"{hanging}; {spans}; {fused}; {_area(bed_area)} mm2 or more of each body on the bed{at}.",
        measured=measured,
        needed=needed,
        unit=unit,
        at_least=bed_area == 0,
        change=change,
    )


def _whole(found: Finding, apart: Sequence[Parted], names: Names) -> Finding:
    """The finding on layers, failed where a body falls apart in them."""
    if not apart:
        return found
    worst = max(apart, key=lambda one: one.count)
    name = names(worst.body)
    at = f"one of them from {_at(worst.z, worst.x, worst.y)} on"
    words = f"{found.words[:-1]}; {name} prints as {worst.count} pieces, {at}."
    change = f"join its parts by more than a line and a layer: {name} falls apart"
    limits: dict[str, Any] = {"measured": worst.count, "needed": 1, "unit": "pieces"}
    if not found.passed:
        return replace(found, words=words)
    return replace(found, passed=False, words=words, at_least=False, change=change, **limits)


def _places(cut: Layers) -> str:
    """Where it hangs and fuses most, in words."""
    first = next(((layer.z, layer.islands_at[0]) for layer in cut.hanging if layer.islands), None)
    island = f"an island starts at {_at(first[0], *first[1])}" if first else ""
    droops = cut.worst is not None and cut.worst.droop > 0
    droop = f"it droops most at z = {cut.worst.z:.4g} mm" if droops and cut.worst else ""
    fused = "" if cut.fused_at is None else f"it fuses from z = {cut.fused_at:.4g} mm on"
    return "".join(f"; {place}" for place in (droop, island, fused) if place)


def _at(z: float, x: float, y: float) -> str:
    return f"z = {z:.4g}, x = {x:.1f}, y = {y:.1f} mm".replace("-0.0", "0.0")


def _decisive(cut: Layers, longest_bridge: float) -> tuple[float, float, str, str]:
    """The number that decides, its limit, its unit and what to change: the worst fault first."""
    thinner = "more clearance, or layers thinner"
    if min(cut.bed) == 0:
        return 0.0, 0.0, "mm2", "stand every body on the bed: one starts above it"
    if cut.landed and cut.landed == cut.fused:
        return (
            cut.fused,
            0.0,
            "mm2",
            "more air below what bridges: its threads reach down to a body",
        )
    if cut.tipped and cut.tipped == cut.fused:
        ends = "a single line along a narrow tip or end reaches beyond it, onto a body"
        return (
            cut.fused,
            0.0,
            "mm2",
            f"a wider gap beside it, or layers that fall otherwise: {ends}",
        )
    if cut.fused:
        return cut.fused, 0.0, "mm2", f"{thinner} than {cut.height:g} mm: two bodies fuse"
    if cut.islands:
        return cut.droop, 0.0, "mm2", "carry every part from below: one starts in the air"
    if cut.droop:
        steep = f"lean undersides {cut.reach_angle:g} deg or less from the vertical"
        return cut.droop, 0.0, "mm2", f"{steep}, or carry both ends of what is flat"
    far = cut.span > longest_bridge + TOLERANCE
    change = f"shorter bridges: {longest_bridge:g} mm at most" if far else ""
    return cut.span, longest_bridge, "mm", change


def _first_layer(beds: list[Bed]) -> Finding:
    worst = min(beds, key=lambda found: found.gap)
    least = min(found.least for found in beds)
    stands = f"{_area(least)} mm2 or more of each body on the bed"
    if least == 0 or math.isinf(worst.gap):
        change = "stand every body on the bed: one starts above it" if least == 0 else ""
        return Finding("first layer", least > 0, f"{stands}.", least, 0.0, "mm2", change=change)
    if worst.drawn == 0:
        words = f"{MET}, so they fuse; {stands}."
        return Finding("first layer", False, words, change=APART)
    joined = worst.gap <= 0
    short = 2 * worst.spread + SURE_BED - worst.drawn
    left = f"{worst.gap:.2f} mm between the bodies on the bed when each side"
    drawn = f"the bodies are drawn {worst.drawn:.2f} mm apart on the bed, and each side"
    more = f"more room between the bodies on the bed: {short:.2f} mm more, or chamfered feet"
    return Finding(
        "first layer",
        not joined,
        f"{drawn if joined else left} spreads by {worst.spread:g} mm (common practice, no source)"
        f"{', so they fuse' * joined}; {stands}.",
        measured=worst.gap,
        needed=0.0,
        unit="mm",
        slack=SURE_BED,
        change=more if short > 0 else "",
    )


def _air(found: list[Air]) -> Iterator[Finding]:
    """The fewest empty layers of all pairs and heights, if a body stands over another."""
    if not found:
        return
    worst = min(found, key=lambda air: (air.count, air.fewest, -air.height))
    held = f"{worst.fewest}" if worst.fewest == worst.most else f"{worst.fewest} or {worst.most}"
    falls = " as the layers fall" if worst.fewest < worst.most else ""
    here = f"here {worst.count} at the least, at z = {worst.z:.4g} mm"
    air = f"{worst.gap:.2f} mm of air hold {held} empty layers of {worst.height:g} mm{falls}"
    words = f"no air is left: {MET}" if worst.gap == 0 else air
    unsure = worst.fewest < 1
    yield Finding(
        "air between layers",
        worst.count > 0,
        f"{words}; {here}{', so they fuse' * (worst.count == 0)}.",
        measured=worst.count,
        needed=1,
        unit="layers",
        slack=1 if unsure else 0,
        change=_more_air(worst) if unsure else "",
    )


def _more_air(found: Air) -> str:
    """What leaves a whole empty layer between two bodies."""
    if found.gap == 0:
        return APART
    if found.gap < SHARE * found.height:
        return f"at least {found.height:g} mm of air between the bodies, where there is hardly any"
    thin = math.floor(found.gap * 100 + 1e-6) / 100
    more = f"more clearance: {found.height / found.gap:.2f} times as much"
    return f"{more}, or thinner layers: {thin:g} mm or less"


def _over_extrusion(fused: bool, worst: Margin, over: float) -> Finding:
    layers_of = f"in layers of {worst.height:g} mm wherever they fall; {over:g} mm are asked"
    if worst.beside == 0:
        words = f"lines may not spread at all: {MET}; {over:g} mm are asked."
        return Finding("over-extrusion", False, words, change=APART)
    if fused and over <= worst.over < over + LAID:
        layers_of += f", and slicers lay lines up to {LAID:g} mm beyond an outline"
    short = over + SURE_OVER - worst.over
    more = f"more clearance: {2 * short:.2f} mm more between the bodies"
    thinner = f", or layers thinner than {worst.height:g} mm"
    return Finding(
        "over-extrusion",
        not fused,
        f"{_spread(worst)}, {layers_of}.",
        measured=worst.over,
        needed=over,
        unit="mm",
        slack=SURE_OVER,
        change=more + thinner * (worst.landing < worst.beside) if short > 0 else "",
    )


def _spread(found: Margin) -> str:
    """How far lines may spread, or by how much they already are too wide."""
    if found.over < 0:
        short = f"{-found.over:.2f} mm short for the bodies not to fuse"
        return f"each side of a line would have to stay {short}"
    least = " or more" * found.whole
    return f"each side of a line may spread by {found.over:.2f} mm{least} before the bodies fuse"


def _area(area: float) -> str:
    """An area in whole mm2, a small one more closely."""
    return f"{area:.0f}" if area >= 10 else f"{area:.2g}"


def _walls(found: tuple[Wall, ...], names: Names, line_width: float) -> Finding:
    one, two = ONE_LINE * line_width, 2 * line_width
    if not found:
        words = f"none is thinner than two lines, {two:g} mm."
        return Finding("walls", True, words, measured=two, needed=one, unit="mm")
    worst = min(found, key=lambda wall: wall.width)
    others = f"; {len(found)} walls in all" if len(found) > 1 else ""
    gone = worst.width < one
    return Finding(
        "walls",
        not gone,
        f"{names(worst.body)} is {worst.width:.2f} mm thick, from z = {worst.low:.4g} "
        f"to {worst.high:.4g} mm about x = {worst.x:.4g}, y = {worst.y:.4g} mm, {worst.area:.2f} "
        f"mm2; two lines are {two:g} mm{', and it is too thin for one' * gone}{others}.",
        measured=worst.width,
        needed=one,
        unit="mm",
        slack=two - one,
        change=f"thicker walls: at least {two:g} mm",
    )
