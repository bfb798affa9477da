"""What can hurt someone, or wear the hinge out before its time."""

from __future__ import annotations

from collections.abc import Iterator

from scadgen.handover.pinch import RULES, openings
from scadgen.handover.rows import Row, listed, span
from scadgen.handover.small_parts import may_be_small_part
from scadgen.jobs.job import Job
from scadgen.mechanism.mechanism import Mechanism
from scadgen.openscad.emitter import CAUTION
from scadgen.strength.duty import ROOM
from scadgen.strength.lasting import BELOW_SOFTENING, warmest
from scadgen.text.numbers import digits


def cautions(job: Job, whole: Mechanism) -> Iterator[Row]:
    """Every caution, each with what was measured for it."""
    yield Row("Pinching", _pinching(whole))
    yield Row("Small parts", _small_parts(whole))
    yield Row("Heat", _heat(job))
    yield Row("Lasting load", _lasting(job))
    yield from (Row(label, words) for label, words in job.hinge.cautions().items())
    yield Row(
        "Safety",
        f"Not for safety-critical use. {CAUTION[-1]} Toy-safety rules may apply to what you sell.",
    )


def _pinching(whole: Mechanism) -> str:
    found = openings(whole)
    worst = [gap for gap in found if gap.caught]
    if not worst:
        why = "Gaps between the leaves keep the gap rule of toy standards" if found else ""
        return f"{why or 'Leaves that turn can pinch'}; keep fingers out while it moves."
    low, high = min(gap.low for gap in worst), max(gap.high for gap in worst)
    rods = " or ".join(f"{rule.thin:g} to {rule.thick:g} mm ({rule.name})" for rule in RULES)
    return (
        f"It can pinch: edges of the leaves stand {digits(low, 1)} to {digits(high, 1)} mm apart "
        f"as it turns; a finger is caught at {rods}. Cover the gap, or keep children away."
    )


def _small_parts(whole: Mechanism) -> str:
    small = [f"{body.name} side" for body in whole.bodies if may_be_small_part(body.solid)]
    cylinder = "the small-parts cylinder (16 CFR 1501.4, EN 71-1, ISO 8124-1)"
    broken = "A piece that breaks off may be a small part too."
    if small:
        named = " or the ".join(small)
        return f"By itself the {named} may be a small part: it may fit {cylinder}. {broken}"
    return f"Neither side by itself fits {cylinder}. {broken}"


def _heat(job: Job) -> str:
    plastic = job.plastic
    if plastic is None:
        return (
            f"Stay {BELOW_SOFTENING:g} K below the temperature at which its plastic softens: "
            "a closed car in the sun is too hot for many."
        )
    most = warmest(plastic)
    marks = listed(list(dict.fromkeys(entry.mark for entry in plastic.softening.entries)))
    soft = plastic.softening.low
    return (
        f"Keep it below {most:g} deg C: {plastic.name} softens from {soft:g} deg C on ({marks}); "
        f"{BELOW_SOFTENING:g} K below that it is still stiff (assumed)."
    )


def _lasting(job: Job) -> str:
    duty, plastic = job.duty, job.plastic
    hold = "for short loads"
    if duty is not None and duty.hours:
        hold = f"for loads that last {duty.hours:,.10g} h at a stretch at most"
    warm = ROOM if duty is None else duty.celsius
    up_to = "at" if warm == ROOM else "up to"
    words = (
        "Plastic creeps: under a load that stays, or held bent, it gives way in time at far less "
        f"than it bears for a moment. Figures hold {up_to} {warm:g} deg C, dry, {hold}."
    )
    kept = plastic and plastic.permanent_set
    if not kept:
        return words
    sets = (f"{span(entry.low, entry.high)} % ({entry.of})" for entry in kept.entries)
    return f"{words} Held bent, it keeps part of the bend: {'; '.join(sets)}."
