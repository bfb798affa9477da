"""The smallest hinge of a family that bears a duty, or what stands in the way."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, cast

import numpy as np

from scadgen.batch import batch
from scadgen.duty import Duty
from scadgen.family import Hinge, bounds
from scadgen.rules import shown
from scadgen.sizing.candidates import COUNT, Columns, candidates
from scadgen.strength.margin import Strength
from scadgen.strength.materials import Plastic
from scadgen.units import meant

Array = np.ndarray[Any, Any]


@dataclass(frozen=True)
class Sized:
    """The smallest hinge found, and what it bears.

    strengths: every way in which it may give way. tried: sound candidates that were looked at.
    """

    hinge: Hinge
    strengths: tuple[Strength, ...]
    tried: int

    @property
    def weakest(self) -> Strength | None:
        """What gives way first; None where nothing is asked of it."""
        real = [s for s in self.strengths if not (s.limit or s.caution)]
        return min(real, key=lambda strength: float(strength.factor), default=None)

    @property
    def factor(self) -> float:
        """How many times the duty it bears; infinite where nothing is asked."""
        return float(self.weakest.factor) if self.weakest else float("inf")


@dataclass(frozen=True)
class Refused:
    """Why no hinge of a family serves: a sentence, and what would help, if anything does."""

    family: str
    why: str
    help: str = ""

    def __str__(self) -> str:
        return f"{self.why}{f' {self.help}' if self.help else ''}"


@dataclass(frozen=True)
class Envelope:
    """The room that there is for a hinge as it prints, along x, y and z (mm); inf for no limit."""

    x: float = float("inf")
    y: float = float("inf")
    z: float = float("inf")

    def room(self, hinges: Hinge) -> Array:
        """Which hinges of a batch fit; standing ones may be turned about z."""
        sides = [np.broadcast_to(side, np.shape(hinges.clearance)) for side in hinges.extents()]
        flat = ((sides[0] <= self.x) & (sides[1] <= self.y)) | (
            (sides[0] <= self.y) & (sides[1] <= self.x)
        )
        return cast(Array, flat & (sides[2] <= self.z))


@dataclass(frozen=True)
class Wanted:
    """What a hinge is wanted for.

    fixed: fields of the family that are given, by name; ``swing`` is nearly always one.
    """

    duty: Duty
    plastic: Plastic
    envelope: Envelope = Envelope()
    fixed: Mapping[str, float] = field(default_factory=dict)


def size(cls: type[Hinge], wanted: Wanted, count: int = COUNT) -> Sized | Refused:
    """The hinge with the least bulk that keeps all rules and bears the duty with its margin.

    The same wish gives the same hinge, and a harder duty never a smaller one.
    """
    fixed, refusal = _fixed(cls, wanted)
    if refusal:
        return refusal
    columns = candidates(cls, fixed, count)
    tried = len(columns["clearance"])
    if not tried:
        return Refused(cls.family, "no values keep the family's rules together with what is given.")
    hinges = batch(cls, columns)
    fits = wanted.envelope.room(hinges)
    if not fits.any():
        return _too_large(cls, hinges, wanted.envelope)
    strengths = list(hinges.strengths(wanted.duty, wanted.plastic))
    borne = {s.name: _borne(s, wanted.duty, tried) for s in strengths}
    good = np.all([fits, *borne.values()], axis=0)
    if not good.any():
        return _too_weak(cls, strengths, borne, fits, wanted.duty)
    hinge = _hinge(cls, columns, int(np.argmax(good)))
    return Sized(hinge, tuple(hinge.strengths(wanted.duty, wanted.plastic)), tried)


def _fixed(cls: type[Hinge], wanted: Wanted) -> tuple[dict[str, float], Refused | None]:
    """What is given, with what follows from the plastic; refused where a field cannot hold it."""
    fixed = dict(wanted.fixed)
    for name, value in fixed.items():
        if name not in bounds(cls):
            return fixed, Refused(cls.family, f"it has no {name}.")
        limits = bounds(cls)[name]
        if not limits.low <= value <= limits.high or limits.nearest(value) != value:
            why = f"{name} = {shown(value)}{limits.suffix}; {limits.words}"
            return fixed, Refused(
                cls.family, why, meant(limits.unit, value, limits.low, limits.high)
            )
    for name, value in cls.fitted(_any(cls), wanted.duty, wanted.plastic).items():
        limits = bounds(cls)[name]
        if value < limits.low:
            why = (
                f"{wanted.plastic.name} bears {shown(round(value, 3))}{limits.suffix} only; "
                f"{name} is {limits.low:g}{limits.suffix} at least."
            )
            return fixed, Refused(cls.family, why, "A more ductile plastic, or fewer turns.")
        steps = np.floor(value / limits.step + 1e-9)
        fixed.setdefault(name, limits.nearest(round(float(steps * limits.step), 6)))
    return fixed, None


def _any(cls: type[Hinge]) -> Hinge:
    return batch(cls, {})


def _borne(strength: Strength, duty: Duty, count: int) -> Array:
    if strength.caution:
        return np.ones(count, bool)
    needed = 1.0 if strength.limit else duty.margin
    return np.broadcast_to(np.asarray(strength.factor) >= needed - 1e-9, count)


def _hinge(cls: type[Hinge], columns: Columns, index: int) -> Hinge:
    fields = bounds(cls)
    values = {name: float(column[index]) for name, column in columns.items()}
    whole = {name: int(value) if fields[name].whole else value for name, value in values.items()}
    return cls(**cast(Any, whole))


def _too_large(cls: type[Hinge], hinges: Hinge, envelope: Envelope) -> Refused:
    sides = [float(np.min(side)) for side in hinges.extents()]
    least = " x ".join(f"{side:.1f}" for side in sides)
    room = " x ".join("any" if np.isinf(s) else f"{s:g}" for s in dataclasses.astuple(envelope))
    why = f"it needs {least} mm at least, along x, y and z; there is room for {room} mm."
    return Refused(cls.family, why, "Shorter leaves, or more room.")


def _too_weak(
    cls: type[Hinge],
    strengths: Iterable[Strength],
    borne: Mapping[str, Array],
    fits: Array,
    duty: Duty,
) -> Refused:
    """Names what no candidate in the room bears; else what fails most of them."""
    rows = [(s, np.broadcast_to(s.factor, len(fits))[fits]) for s in strengths]
    never = [(s, best) for s, best in rows if not borne[s.name][fits].any()]
    strength, factors = min(never or rows, key=lambda row: float(np.max(row[1])))
    if strength.limit:
        limit = f"{np.min(np.broadcast_to(strength.permissible, 1)):g} {strength.unit}"
        asked = f"{np.min(np.broadcast_to(strength.actual, 1)):g}"
        return Refused(cls.family, f"{strength.name}: {asked} asked, at most {limit}.")
    best = float(np.max(factors))
    why = f"{strength.name}: {best:.2g} times the duty at best; {duty.margin:g} times are asked."
    if not never:
        why = f"nothing bears all of it within the room; hardest is {strength.name}."
    return Refused(cls.family, why, f"It would take {strength.change}, or another plastic.")
