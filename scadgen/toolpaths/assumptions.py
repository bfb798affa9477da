"""What a file shows of its settings, held against what the proof of a job reckons with."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from scadgen.findings.finding import Finding
from scadgen.printing.lines import thickest_layer
from scadgen.text.numbers import shown

if TYPE_CHECKING:
    from scadgen.jobs.job import Job
    from scadgen.strength.filling import Filling
    from scadgen.toolpaths.judged import Followed

#: Heights and widths that differ by less, mm, are the same to a printer.
SAME, WIDER = 0.011, 0.06


def filling_of(job: Job) -> Filling:
    """How solid the proof of a job reckons that it prints."""
    usual = job.population.filling(job.hinge.line_width)
    return usual if job.plastic is None or job.plastic.filling is None else job.plastic.filling


def assumptions(found: Followed, job: Job) -> Iterator[Finding]:
    """What the file does, and whether the proof has reckoned with it."""
    yield _heights(found, job)
    yield _width(found, job)
    yield _closing(found, job.population.touch)
    yield from _moved(found, job)
    yield from _solid(found, job)
    foot = found.settings.foot
    if foot is not None:
        words = f"the file takes back {foot:g} mm on each side; the proof reckons with none."
        yield Finding("first layer's outline", True, words)


def _heights(found: Followed, job: Job) -> Finding:
    heights = found.shown.layer_heights or [found.shown.first]
    most, proven = max(heights), max(job.layer_heights)
    told = ", ".join(f"{height:g}" for height in heights)
    asked = ", ".join(map(shown, job.layer_heights))
    return Finding(
        "layer heights",
        most <= proven + SAME,
        f"{told} mm, {found.shown.first:g} mm on the bed; the proof looks at {asked} mm.",
        measured=most,
        needed=proven,
        unit="mm",
        at_least=False,
        change=f"layers of {proven:g} mm or less" if most > proven + SAME else "",
    )


def _width(found: Followed, job: Job) -> Finding:
    width, line = found.shown.wall_width, job.hinge.line_width
    if width is None:
        return Finding("line width", True, f"no line tells it; the proof reckons with {line:g} mm.")
    highest = max(found.shown.layer_heights or [found.shown.first])
    thickest = thickest_layer(width)
    wide, high = width > line + WIDER, highest > thickest + SAME
    layers = f"; they lay layers of {thickest:.2g} mm at most" if high else ""
    narrower = f"lines of {line:g} mm, or a job with printers.line_width = {width:.2g}"
    return Finding(
        "line width",
        not wide and not high,
        f"walls are of lines {width:.2f} mm wide; the proof reckons with {line:g} mm{layers}.",
        measured=width,
        needed=line + WIDER,
        unit="mm",
        at_least=False,
        change=narrower if wide else "thinner layers, or wider lines" if high else "",
    )


def _closing(found: Followed, reckoned: float) -> Finding:
    """Gaps that the slicer closes beside those that the proof reckons with (mm)."""
    radius = found.settings.closing_radius
    if radius is None:
        words = f"the file does not tell; the proof reckons with gaps up to {reckoned:g} mm."
        return Finding("gaps that are closed", True, words)
    small = 2 * radius <= reckoned
    less = f"a gap closing radius of {reckoned / 2:g} mm or less"
    return Finding(
        "gaps that are closed",
        small,
        f"up to {2 * radius:.3g} mm wide (gap closing radius {radius:g} mm); the proof reckons "
        f"with {reckoned:g} mm.",
        measured=2 * radius,
        needed=reckoned,
        unit="mm",
        at_least=False,
        change="" if small else f"{less}, or a job with printers.closing_radius = {radius:g}",
    )


def _moved(found: Followed, job: Job) -> Iterator[Finding]:
    """Whether outlines are moved beyond what the proof reckons that printers do by themselves."""
    out, holes = found.settings.grown or 0.0, found.settings.opened or 0.0
    if not (out or holes):
        return
    growth = job.population.growth
    ends = sorted((out, out - holes))
    good = growth.low - SAME <= ends[0] and ends[1] <= growth.high + SAME
    told = f"{out:+g} mm on each side{f', and holes opened by {holes:+g} mm' * bool(holes)}"
    yield Finding(
        "outlines that are moved",
        good,
        f"{told}; the proof reckons with lines that come out by {growth.low:g} to {growth.high:g} "
        "mm by themselves: grips lose what sides lose, and gaps what they gain.",
        change="" if good else "outlines as they are drawn, or a job with a fleet of its own",
    )


def _solid(found: Followed, job: Job) -> Iterator[Finding]:
    walls, infill, reckoned = found.settings.walls, found.settings.infill, filling_of(job)
    if walls is None or infill is None:
        return
    enough = walls >= reckoned.walls and infill >= reckoned.infill - 1e-9
    asked = job.duty is not None
    few = asked and not enough
    yield Finding(
        "walls and infill",
        not few,
        f"{walls} walls and {100 * infill:.0f} % infill; {reckoned.words} are reckoned with"
        f"{'' if asked else ', but no duty is asked'}.",
        change=f"{reckoned.words} or more" if few else "",
    )
