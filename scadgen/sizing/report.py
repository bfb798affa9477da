"""What sizing and choosing found, as lines for a person and as data."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from scadgen.hinge.family import bounds
from scadgen.jobs.job import job_keys
from scadgen.sizing.choose import POSTURES, WEIGHTS, Choice, Ranking
from scadgen.sizing.size import Refused, Sized
from scadgen.trees.to_scad import number

UNTOLD = "its family tells no strength, so nothing is known of what it bears"


def sized_lines(sized: Sized) -> Iterator[str]:
    """The values that were found, and what they bear."""
    hinge = sized.hinge
    bears = "that bears the duty" if sized.strengths else f"there are; {UNTOLD}"
    yield f"{hinge.family}: the smallest of {sized.tried} sound candidates {bears}"
    for name in hinge.free_fields():
        limits = bounds(type(hinge))[name]
        value = f"{number(getattr(hinge, name))}{limits.suffix}"
        yield f"  {job_keys(type(hinge))[name]:<22} {value:<9} {limits.sentence}"
    for place in sorted(sized.strengths, key=lambda place: float(place.factor)):
        factor = f"{float(place.factor):>6.2f} times" if place.acts else "nothing acts"
        yield f"  {factor}  {place.name}: {place.words}"


def ranking_lines(ranking: Ranking) -> Iterator[str]:
    """The table of what serves, the reasons for what does not, and whether turning would help."""
    head = " ".join(f"{what:>9}" for what in WEIGHTS)
    yield f"{'family':<17} {'points':>6}  {head}  {'printers':>8}  {'plastic':>10}"
    for choice in ranking.choices:
        points = " ".join(f"{choice.points[what]:>9.1f}" for what in WEIGHTS)
        share, volume = f"{100 * choice.share:.1f} %", f"{choice.volume / 1000:.2f} cm3"
        yield f"{choice.family:<17} {choice.score:>6.1f}  {points}  {share:>8}  {volume:>10}"
    for refused in ranking.refused:
        yield f"{refused.family:<17} no: {refused}"
    yield _favoured(ranking)
    if ranking.better_turned:
        yield _turned(ranking, ranking.better_turned)


def _favoured(ranking: Ranking) -> str:
    if ranking.favourite is None:
        return f"favourite: none; nothing serves a part that is {ranking.posture}."
    sized = ranking.favourite.sized
    real = sized.weakest if sized.weakest and sized.weakest.acts else None
    hold = f"; first to give way, at {sized.factor:.2g} times the duty: " if real else ""
    hold = hold if sized.strengths else f"; {UNTOLD}"
    weakest = real.name if real else ""
    return f"favourite: {ranking.favourite.family}{hold}{weakest}."


def _turned(ranking: Ranking, other: Choice) -> str:
    way = {"standing": "parallel to the bed", "lying": "upright"}[ranking.posture]
    return (
        f"turned so that its axis is {way}, the part could have {other.family} "
        f"({other.score:.0f} points)."
    )


def ranking_data(ranking: Ranking) -> dict[str, Any]:
    """The ranking as plain data, as for JSON."""
    turned = ranking.better_turned
    return {
        "posture": ranking.posture,
        "families": POSTURES[ranking.posture],
        "choices": [_choice_data(choice) for choice in ranking.choices],
        "refused": [vars(refused) for refused in ranking.refused],
        "favourite": ranking.favourite.family if ranking.favourite else None,
        "better_turned": turned.family if turned else None,
    }


def _choice_data(choice: Choice) -> dict[str, Any]:
    facts = {"family": choice.family, "score": choice.score, "points": dict(choice.points)}
    return facts | {"share": choice.share, "volume_mm3": choice.volume} | sized_data(choice.sized)


def sized_data(sized: Sized | Refused) -> dict[str, Any]:
    """What sizing found as plain data, as for JSON."""
    if isinstance(sized, Refused):
        return {"refused": vars(sized)}
    places = [
        {"name": s.name, "factor": float(s.factor) if s.acts else None, "unit": s.unit}
        for s in sized.strengths
    ]
    hinge = sized.hinge
    values = {name: getattr(hinge, name) for name in bounds(type(hinge))}
    return {"values": values, "strengths": places}
