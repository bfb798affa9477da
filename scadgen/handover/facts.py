"""What a spec sheet says, gathered: every figure from the hinge, its proof, its duty, its fleet."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass

from scadgen.findings.finding import NO_GAPS, Verdict
from scadgen.findings.page import summary
from scadgen.handover.cautions import cautions
from scadgen.handover.load import Place, load_rows, places, weakest
from scadgen.handover.rows import Row, listed, span
from scadgen.handover.values import value_rows
from scadgen.hinge.family import bounds, definition
from scadgen.hinge.meshing import mesh
from scadgen.jobs.job import Job
from scadgen.mechanism.joint import Joint
from scadgen.mechanism.mechanism import Mechanism, titled
from scadgen.proof.fleet.findings import met_words
from scadgen.proof.fleet.findings import words as share_words
from scadgen.proof.fleet.population import POPULATIONS
from scadgen.proof.fleet.shares import fleet
from scadgen.strength.materials import Range, material, materials
from scadgen.text.dates import document_date
from scadgen.text.numbers import digits
from scadgen.text.quoting import plain
from scadgen.text.units import labelled

#: Printers drawn for the fleet's share, which is then known within 0.3 %.
PRINTERS = 100_000
#: Longest free text on the page, in characters, so that it stays one page.
LONGEST_TITLE, LONGEST_NOTE = 120, 400


@dataclass(frozen=True)
class Facts:
    """All that the sheet says. Texts are plain: what shows them quotes them.

    stance: how it lies on the bed, in one word. places: what may give way, the weakest first.
    left: what the duty asks and the family does not answer, in sentences. date: ISO 8601.
    """

    heading: str
    note: str
    family: str
    about: str
    stance: str
    posture: str
    proven: bool
    verdict: str
    printing: tuple[Row, ...]
    moving: tuple[Row, ...]
    load: tuple[Row, ...]
    places: tuple[Place, ...]
    left: tuple[str, ...]
    weakest: str
    cautions: tuple[Row, ...]
    values: tuple[Row, ...]
    date: str

    @property
    def bears(self) -> bool:
        """Whether all that is asked is answered, and no place bears too little."""
        return not self.left and all(place.good for place in self.places)

    @property
    def sources(self) -> str:
        """The modules in which the formulas stand, with their publications."""
        return listed(sorted({place.source for place in self.places}))


def facts(job: Job, verdict: Verdict) -> Facts:
    """Gather what the sheet says of a job that was proven so; measures its solids."""
    hinge, found, whole = job.hinge, places(job), job.hinge.mechanism()
    return Facts(
        heading=_short(job.heading, LONGEST_TITLE),
        note=_short(job.note, LONGEST_NOTE),
        family=hinge.family,
        about=hinge.title,
        stance=hinge.stance(),
        posture=hinge.posture,
        proven=verdict.proven,
        verdict=summary(verdict),
        printing=tuple(_printing(job, verdict)),
        moving=tuple(_moving(job, verdict, whole)),
        load=tuple(load_rows(job)),
        places=tuple(found),
        left=job.unanswered,
        weakest=weakest(found, job.unanswered) if job.duty and job.plastic else "",
        cautions=tuple(cautions(job, whole)),
        values=tuple(value_rows(job)),
        date=document_date(),
    )


def _short(text: str, longest: int) -> str:
    return textwrap.shorten(plain(text), longest, placeholder=" ...")


def _printing(job: Job, verdict: Verdict) -> Iterator[Row]:
    hinge = job.hinge
    hangs = f" But something hangs in the air: {hinge.hangs}." if hinge.hangs else ""
    yield Row("On the bed", f"{hinge.posture}. No supports.{hangs}")
    yield Row("Layers", _layers(verdict))
    yield Row("Line width", f"{hinge.line_width:g} mm")
    bridge = hinge.longest_bridge()
    yield Row("Longest bridge", f"{digits(bridge, 1)} mm" if bridge > 0 else "none")
    solid = mesh(hinge, angle=0)
    box = solid.bounding_box()
    sides = " x ".join(digits(box[k + 3] - box[k], 1) for k in range(3))
    yield Row("Size as it prints", f"{sides} mm")
    if hinge.left_open:
        yield Row("As needed", listed(list(_opened(job))))
    yield Row("Amount of plastic", _amount(job, float(solid.volume())))
    yield Row("Fleet of printers", _share(job))


def _opened(job: Job) -> Iterator[str]:
    """The values that its job leaves open, with what they have come to."""
    for name, limits in bounds(type(job.hinge)).items():
        if name in job.hinge.left_open:
            value = digits(getattr(job.hinge, name), 2)
            yield f"{name.replace('_', ' ')} {value}{limits.suffix}"


def _layers(verdict: Verdict) -> str:
    heights: dict[bool, list[str]] = {True: [], False: []}
    for finding in verdict.findings:
        height = re.fullmatch(r"layers of (\S+) mm", finding.name)
        if height:
            heights[finding.passed].append(height[1])
    good, bad = map(listed, (heights[True], heights[False]))
    proven = f"{good} mm, proven" if good else "none proven"
    return f"{proven}; not in {bad} mm" if bad else proven


def _amount(job: Job, volume: float) -> str:
    if job.plastic:
        density, of = job.plastic.density, job.plastic.name
    else:
        known = [material(name).density for name in materials()]
        density = Range("g/cm3", tuple(entry for one in known for entry in one.entries))
        of = "by plastic"
    cm3 = volume / 1000
    mass = span(cm3 * density.low, cm3 * density.high, 1)
    return f"{digits(cm3, 1)} cm3; {mass} g {of}, printed solid"


def _share(job: Job) -> str:
    hinge, population = job.hinge, job.population
    if not definition(type(hinge)).spoilable:
        return NO_GAPS
    found = fleet(hinge, population, PRINTERS)
    met = "".join(f" {met_words(met)}." for met in found.met)
    ours = population in POPULATIONS.values()
    of = "settings counted, errors assumed" if ours else "as its file says"
    return f"'{population.name}', {of}: {share_words(found)}{met}"


def _motion(whole: Mechanism, joint: Joint) -> Row:
    """How far a joint is free to move."""
    low, high = joint.asked or (0.0, 0.0)
    what = "Turn" if joint.unit == "deg" else "Way"
    of = f" of {titled(whole, joint.pair)}" if len(whole.joints) > 1 else ""
    other = f"and {digits(-low)} {joint.unit} the other" if low else "and no other"
    words = f"{digits(high)} {joint.unit} one way {other}, from how it prints"
    if joint.asked_told and joint.printed_at:
        ends = " to ".join(map(digits, joint.asked_told))
        words = f"{ends} {joint.unit}, from flat; it prints at {digits(joint.printed_at)}"
    return Row(f"{what}{of}", words)


def _moving(job: Job, verdict: Verdict, whole: Mechanism) -> Iterator[Row]:
    hinge = job.hinge
    yield from (_motion(whole, joint) for joint in whole.joints if joint.asked)
    yield Row("Stop", "; ".join(joint.stop_words for joint in whole.joints))
    for name in dict.fromkeys(("clearance", hinge.fit)):
        limits = bounds(type(hinge))[name]
        yield Row(name.capitalize(), f"{getattr(hinge, name):g}{limits.suffix} ({limits.sentence})")
    for name, value in verdict.figures.items():
        label, unit = labelled(name)
        yield Row(label.capitalize(), f"{digits(value)} {unit}".strip())
