"""What sizing and choosing found, as lines for a person and as data."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from scadgen.hinge.family import bounds
from scadgen.jobs.job import job_keys
from scadgen.sizing.changes import Change
from scadgen.sizing.choose import Choice, Ranking
from scadgen.sizing.postures import POSTURES, other_way
from scadgen.sizing.size import Refused, Sized
from scadgen.text.quoting import toml
from scadgen.trees.to_scad import number

UNTOLD = "its family tells no strength, so nothing is known of what it bears"


def sized_lines(sized: Sized) -> Iterator[str]:
    """The values that were found, and what they bear."""
    hinge = sized.hinge
    bears = "that bears the duty" if sized.strengths else f"there are; {UNTOLD}"
    yield f"{hinge.family}: from the smallest of {sized.tried} sound candidates {bears}, shrunk"
    yield "  until no step of any one of these makes it smaller"
    for name in type(hinge).free_beside({"screw": getattr(hinge, "screw", 0)}):
        limits = bounds(type(hinge))[name]
        value = f"{number(getattr(hinge, name))}{limits.suffix}"
        yield f"  {job_keys(type(hinge))[name]:<22} {value:<9} {limits.sentence}"
    for place in sorted(sized.strengths, key=lambda place: float(place.factor)):
        factor = f"{float(place.factor):>6.2f} times" if place.acts else "nothing acts"
        yield f"  {factor}  {place.name}: {place.words}"


def ranking_lines(ranking: Ranking, changes: Sequence[Change] = ()) -> Iterator[str]:
    """What serves, its points and the reasons; what does not, and why; what would change it."""
    width = max((len(part) for part in ranking.weights), default=0)
    for choice in ranking.choices:
        yield f"{choice.family:<17} {choice.score:.1f} points"
        for part, most in ranking.weights.items():
            points = f"{choice.points[part]:.1f}"
            yield f"  {part:<{width}} {points:>5} of {most:<4.3g} {choice.words[part]}"
    for refused in ranking.refused:
        yield f"{refused.family:<17} no: {refused}"
    yield _favoured(ranking)
    if ranking.given and ranking.favourite:
        yield _given(ranking, ranking.favourite)
    if ranking.better_turned:
        yield _turned(ranking, ranking.better_turned)
    if changes:
        yield "another form would be first"
        yield from (f"  {change.words}" for change in changes)


def _favoured(ranking: Ranking) -> str:
    if ranking.favourite is None:
        if ranking.given:
            return f"favourite: none; {ranking.given} was asked for, and does not serve."
        return f"favourite: none; nothing serves a part that is {ranking.posture}."
    sized = ranking.favourite.sized
    real = sized.weakest if sized.weakest and sized.weakest.acts else None
    hold = f"; first to give way, at {sized.factor:.2g} times the duty: " if real else ""
    hold = hold if sized.strengths else f"; {UNTOLD}"
    weakest = real.name if real else ""
    return f"favourite: {ranking.favourite.family}{hold}{weakest}."


def _given(ranking: Ranking, choice: Choice) -> str:
    """How the family that was asked for ranks, and where it loses most against the first."""
    place, first = ranking.choices.index(choice) + 1, ranking.choices[0]
    told = f"{choice.family} was asked for; it ranks {place} of {len(ranking.choices)}"
    if first is choice:
        return f"{told}."
    lost = {part: first.points[part] - choice.points[part] for part in ranking.weights}
    part = max(lost, key=lambda name: lost[name])
    return (
        f"{told}, {first.score - choice.score:.1f} points behind {first.family}, most of it for "
        f"{part}: {first.words[part]}."
    )


def _turned(ranking: Ranking, other: Choice) -> str:
    return (
        f"turned so that its axis is {other_way(ranking.posture)}, the part could have "
        f"{other.family} ({other.score:.0f} points)."
    )


def ranking_data(ranking: Ranking, changes: Sequence[Change] = ()) -> dict[str, Any]:
    """The ranking as plain data, as for JSON."""
    turned = ranking.better_turned
    return {
        "posture": ranking.posture,
        "families": POSTURES[ranking.posture],
        "choices": [_choice_data(choice) for choice in ranking.choices],
        "refused": [vars(refused) for refused in ranking.refused],
        "favourite": ranking.favourite.family if ranking.favourite else None,
        "given": ranking.given,
        "weights": dict(ranking.weights),
        "better_turned": turned.family if turned else None,
        "changes": [_change_data(change) for change in changes],
    }


def _change_data(change: Change) -> dict[str, Any]:
    value = toml(change.value) if isinstance(change.value, list) else change.value
    return {"key": change.key, "value": value, "family": change.family}


def _choice_data(choice: Choice) -> dict[str, Any]:
    facts = {"family": choice.family, "score": choice.score, "points": dict(choice.points)}
    facts |= {"words": dict(choice.words)}
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
