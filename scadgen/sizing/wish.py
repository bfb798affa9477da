"""Wishes: what a hinge is wanted for, read from TOML, before its form or its size is known.

The keys are those of a job; ``family`` may be left out, ``[size]`` holds only what is given, and
``[part]`` says how the part lies on the bed, what room there is, and what else is wanted of the
form.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, get_args

from scadgen.hinge.family import Hinge, all_families
from scadgen.jobs import demands
from scadgen.jobs.job import values_of
from scadgen.jobs.keys import LAYERS, SECTIONS, family_key, keys_of, usual_duty
from scadgen.proof.fleet.population import Population
from scadgen.proof.heights import refuse_too_high
from scadgen.sizing.postures import POSTURES, Posture, posture_of
from scadgen.sizing.wanted import Aim, Envelope, Prefers, Wanted
from scadgen.tables.kinds import Number, OneOf, refusal
from scadgen.tables.limits import is_number
from scadgen.tables.reading import Key, flat, load, read, read_one

POSTURE, ROOM, AIM = "part.posture", "part.room", "part.aim"
ONE_PIECE, STAYS = "part.one_piece", "part.must_not_come_off"


class Room:
    """Three lengths along x, y and z, mm."""

    def rule(self, key: str) -> str:
        return "it must be three lengths above 0 along x, y and z, mm; inf for no limit"

    def read(self, key: str, value: Any) -> Envelope:
        whole = isinstance(value, list) and len(value) == 3
        if not whole or not all(is_number(side) and side > 0 for side in value):
            raise refusal(self, key, value, "This works: [60, 40, inf].")
        return Envelope(*map(float, value))


class YesNo:
    """True or false."""

    def schema(self) -> dict[str, Any]:
        """What it accepts, as a JSON Schema."""
        return {"type": "boolean"}

    def rule(self, key: str) -> str:
        return "it must be true or false, without quotes"

    def read(self, key: str, value: Any) -> bool:
        if not isinstance(value, bool):
            raise refusal(self, key, value)
        return value


@dataclass(frozen=True)
class Wish:
    """What is wanted, of whom, and for which part.

    family: None where the form is still open. posture: how the part's axis lies; as the family
    prints where the file does not say. given: the texts
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

    @property
    def says_posture(self) -> bool:
        """Whether the file says how the part lies."""
        return POSTURE in self.given


def load_wish(path: str | Path) -> Wish:
    """The wish in a TOML file; a job is one too. Raises JobError for anything that makes none."""
    return load(path, _wish)


def _keys(cls: type[Hinge]) -> Iterator[Key]:
    yield from keys_of(cls, Number)
    note = "the axis upright, or parallel to the bed"
    yield Key(POSTURE, OneOf(tuple(POSTURES), note))
    yield Key(ROOM, Room(), default=Envelope())
    yield Key(ONE_PIECE, YesNo(), default=False)
    yield Key(STAYS, YesNo(), default=False)
    yield Key(AIM, OneOf(get_args(Aim), "what counts most"))


def _wish(document: Mapping[str, Any], folder: Path) -> Wish:
    demands.refuse_product(document)
    family = read_one(document, family_key(needed=False))
    cls = all_families()[family] if family else Hinge
    found = read(document, tuple(_keys(cls)))
    heights = demands.layer_heights(found)
    usual = usual_duty(cls)
    asked = demands.duty(found, usual)
    refuse_too_high(LAYERS, heights, demands.line_width(found))
    wanted = Wanted(
        duty=asked or usual,
        plastic=demands.plastic(found, folder),
        envelope=found[ROOM],
        fixed={**values_of(cls, found), "layer": max(heights)},
        prefers=Prefers(found[ONE_PIECE], found[STAYS], found[AIM]),
    )
    posture = found[POSTURE] or posture_of(cls)
    population = demands.population(found, folder)
    given = flat(document, (*SECTIONS, "part"))
    asks = asked is not None
    return Wish(family, wanted, posture, heights, population, given, folder, asks)
