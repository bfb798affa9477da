"""Wishes: what a hinge is wanted for, read from TOML, before its form or its size is known.

The keys are those of a job; ``family`` may be left out, ``[size]`` holds only what is given, and
``[part]`` says how the part lies on the bed and what room there is.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

from scadgen.hinge.family import Hinge, bounds
from scadgen.jobs import demands
from scadgen.jobs.job import family_named, flat, job_keys, refuse_unknown, refuse_words, texts
from scadgen.proof.fleet.population import Population
from scadgen.proof.heights import refuse_too_high
from scadgen.sizing.choose import POSTURES, Posture
from scadgen.sizing.size import Envelope, Wanted
from scadgen.strength.duty import Duty
from scadgen.tables.documents import JobError, document, is_number
from scadgen.text.numbers import shown
from scadgen.text.quoting import toml

POSTURE, ROOM = "part.posture", "part.room"
_SECTIONS = ("size", "printers", "duty", "part")


@dataclass(frozen=True)
class Wish:
    """What is wanted, of whom, and for which part.

    family: None where the form is still open. posture: how the part's axis lies. given: the texts
    and values of the file that go into a job as they are, by dotted key; folder: where the file is.
    asks_strength: whether the file says anything of what has to be borne, or of a plastic.
    """

    family: str | None
    wanted: Wanted
    posture: Posture
    layer_heights: tuple[float, ...]
    population: Population
    given: Mapping[str, Any]
    folder: Path
    asks_strength: bool


def load_wish(path: str | Path) -> Wish:
    """The wish in a TOML file; a job is one too. Raises JobError for anything that makes none."""
    path = Path(path)
    try:
        return _wish(flat(document(path), _SECTIONS), path.parent)
    except JobError as error:
        error.path = error.path or path
        raise


def _wish(found: Mapping[str, Any], folder: Path) -> Wish:
    cls = family_named(found["family"]) if "family" in found else Hinge
    keys = job_keys(cls)
    refuse_unknown(found, keys, (POSTURE, ROOM))
    texts(found)
    heights = demands.layer_heights(found)
    values = {name: found[key] for name, key in keys.items() if key in found}
    refuse_words(cls, values)
    for name, value in values.items():
        limits = bounds(cls)[name]
        if not limits.accepts(value):
            works = f"This works: {keys[name]} = {shown(limits.nearest(value))}."
            words = f"{keys[name]} = {shown(value)}{limits.suffix}; {limits.words} {works}"
            raise JobError(words, keys[name])
    usual = cls.usual_duty() if "family" in found else Duty()
    asked = demands.duty(found, usual)
    line_width = values.get("line_width", bounds(cls)["line_width"].default)
    refuse_too_high(demands.LAYERS, heights, line_width)
    wanted = Wanted(
        duty=asked or usual,
        plastic=demands.plastic(found, folder),
        envelope=_room(found.get(ROOM)),
        fixed={**values, "layer": max(heights)},
    )
    population = demands.population(found, folder)
    posture = _posture(found.get(POSTURE, "lying"))
    family = cls.family if "family" in found else None
    asks = asked is not None
    return Wish(family, wanted, posture, heights, population, found, folder, asks)


def _posture(value: object) -> Posture:
    if not isinstance(value, str) or value not in POSTURES:
        known = " or ".join(map(toml, POSTURES))
        words = f"it must be {known}: the axis upright, or parallel to the bed"
        raise JobError(f"{POSTURE} = {toml(value)}; {words}.", POSTURE)
    return cast(Posture, value)


def _room(value: object) -> Envelope:
    if value is None:
        return Envelope()
    whole = isinstance(value, list) and len(value) == 3
    if not whole or not all(is_number(v) and v > 0 for v in cast(list[Any], value)):
        words = "it must be three lengths above 0 along x, y and z, mm; inf for no limit"
        raise JobError(f"{ROOM} = {toml(value)}; {words}. This works: [60, 40, inf].", ROOM)
    return Envelope(*map(float, cast(list[Any], value)))
