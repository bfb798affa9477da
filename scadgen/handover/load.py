"""What gives way under the duty, the weakest first; which plastics bear it; how often."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from scadgen.handover.rows import Row, significant
from scadgen.hinge.family import Hinge
from scadgen.jobs.job import Job
from scadgen.proof.fleet.population import ROUGH
from scadgen.strength.bearing import bears, borne, needed, weakest_first
from scadgen.strength.duty import Duty
from scadgen.strength.filling import Filling
from scadgen.strength.lasting import modulus_left, strength_left, untold
from scadgen.strength.life import band, strain_share, strength_share
from scadgen.strength.materials import Plastic, material, materials
from scadgen.strength.place import Strength

NO_LOAD = "no load"
NO_DUTY = "No duty was given, so nothing is said here of loads, life and plastics."


@dataclass(frozen=True)
class Place:
    """One way in which the hinge may give way, in words and numbers as they are shown.

    verdict: whether it bears what is asked: "enough" or "too little", of a limit "kept" or "not
    kept"; of a caution, on which nothing is decided, "see". good: the same as a truth value.
    """

    name: str
    actual: str
    permissible: str
    factor: str
    asked: str
    verdict: str
    good: bool
    source: str


def places(job: Job) -> list[Place]:
    """Every way in which it may give way, the weakest first; none without duty and plastic.

    None either where nobody knows what the plastic bears so long and so warm.
    """
    duty, plastic = job.duty, job.plastic
    if duty is None or plastic is None or any(untold(plastic, duty)):
        return []
    found = weakest_first(job.hinge.strengths(duty, plastic), duty)
    return [_place(strength, duty) for strength in found]


def _place(strength: Strength, duty: Duty) -> Place:
    good, factor = bool(borne(strength, duty)), float(strength.factor)
    words = ("kept", "not kept") if strength.limit else ("enough", "too little")
    verdict = "see" if strength.caution else words[0 if good else 1]
    return Place(
        name=strength.name,
        actual=f"{significant(strength.actual)} {strength.unit}",
        permissible=f"{significant(strength.permissible)} {strength.unit}",
        factor=NO_LOAD if math.isinf(factor) else significant(factor),
        asked="-" if strength.caution else significant(needed(strength, duty)),
        verdict=verdict,
        good=good,
        source=strength.source,
    )


def weakest(found: list[Place], left: tuple[str, ...]) -> str:
    """What gives way first, after what is not answered at all, in sentences."""
    if not found:
        return " ".join(left) or "Its family knows of no place that gives way."
    first = found[0]
    told = f"{first.name}: {first.actual} of {first.permissible}"
    times = f"{first.factor} times" if first.factor != NO_LOAD else NO_LOAD
    weak = f"Weakest is {told}, {times} ({first.asked} asked): {first.verdict}."
    return " ".join([*left, weak])


def load_rows(job: Job) -> Iterator[Row]:
    """Load, life and plastics in words."""
    duty, plastic = job.duty, job.plastic
    if plastic is not None:
        fails = duty is not None and not bears(job.hinge, duty, plastic)
        but = ". It does not bear the duty" if fails else ""
        yield Row("Plastic", f"{plastic.name}: {plastic.note}{but}")
    if duty is None:
        yield Row("Load and life", NO_DUTY)
        return
    yield Row("Load", _duty_words(duty))
    if plastic is not None and plastic.filling is not None:
        yield Row("Walls and infill", _filling_words(job.hinge, duty, plastic, plastic.filling))
    yield Row("Life", _life_words(duty))
    if (duty.hours, duty.celsius) != (Duty.hours, Duty.celsius):
        yield Row("Time and warmth", _lasting_words(duty, plastic))
    if not list(job.hinge.strengths(duty, plastic or material(materials()[0]))):
        yield Row("Plastics that bear it", "its family tells no strength: nothing is known")
        return
    good, bad, unknown = _plastics(job.hinge, duty, plastic)
    others = "others that bear it" if plastic else "plastics that bear it"
    yield Row(others.capitalize(), "; ".join(good) or "none of those known")
    yield Row("Do not use", "; ".join(bad) or "none of those known fails")
    if unknown:
        yield Row("Too warm for, or not known of", "; ".join(unknown))


def _duty_words(duty: Duty) -> str:
    level = f"{significant(duty.offset)} mm beside the middle" if duty.offset else "in the middle"
    where = f"{significant(duty.lever)} mm from the axis, {level} of the hinge"
    across = f"{significant(duty.load)} N square to the axis, {where}, any way"
    at = f"{significant(duty.pull_lever)} mm from it" if duty.pull_lever else "at it"
    along = f"{significant(duty.pull)} N along the axis, {at}"
    return f"{across}; {along}; margin {significant(duty.margin)}"


#: Walls up to which it is looked for how many a hinge needs: more print all of it solid.
MOST_WALLS = 12


def _filling_words(hinge: Hinge, duty: Duty, plastic: Plastic, filling: Filling) -> str:
    """With what walls and infill it was reckoned, and which it needs."""

    def enough(walls: int) -> bool:
        more = replace(filling, walls=walls)
        return bears(hinge, duty, replace(plastic, filling=more))

    infill = f"{100 * filling.infill:.0f} % infill"
    asked = f"reckoned with {filling.words}"
    if enough(filling.walls):
        fewest = next(walls for walls in range(1, filling.walls + 1) if enough(walls))
        return f"{asked}; ask for {fewest} walls or more, and {infill} or more"
    more = next((walls for walls in range(filling.walls + 1, MOST_WALLS) if enough(walls)), None)
    if more is None:
        return f"{asked}, which is not enough; nor are more walls"
    return f"{asked}, which is not enough; it needs {more} walls with {infill}"


def _life_words(duty: Duty) -> str:
    at = band(duty.cycles)
    most = f"up to {at.most:,.0f}" if math.isfinite(at.most) else "any number"
    strain = f"{100 * strain_share(duty.cycles):.0f} % of the strain that one bend may take"
    load = f"{100 * strength_share(duty.cycles):.0f} % of the strength (tests of printed PLA)"
    shares = f"band '{at.name}' ({most}), {strain} and {load}"
    return f"{duty.cycles:,.0f} times: {shares}. Basis: {at.basis}"


def _lasting_words(duty: Duty, plastic: Plastic | None) -> str:
    asked = f"{duty.hours:,.10g} h at a stretch, up to {duty.celsius:.10g} deg C"
    if plastic is None:
        return asked
    if any(untold(plastic, duty)):
        return f"{asked}: nobody here knows what {plastic.name} bears then"
    left = f"{100 * strength_left(plastic, duty):.0f} % of the strength"
    return f"{asked}: {left} and {100 * modulus_left(plastic, duty):.0f} % of the modulus are left"


def _plastics(hinge: Hinge, duty: Duty, named: Plastic | None) -> tuple[list[str], ...]:
    """Names of the plastics, other than the named one, that bear the duty, that do not, and of
    which nobody knows what they bear so long and so warm.
    """
    good: list[str] = []
    bad: list[str] = []
    unknown: list[str] = []
    solid = named.filling if named is not None else ROUGH.filling(hinge.line_width)
    for plastic in (replace(material(name), filling=solid) for name in materials()):
        if named is not None and plastic.name == named.name:
            continue
        if any(untold(plastic, duty)):
            unknown.append(plastic.name)
        else:
            (good if bears(hinge, duty, plastic) else bad).append(plastic.name)
    return good, bad, unknown
