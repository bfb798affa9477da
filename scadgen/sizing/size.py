"""The smallest hinge of a family that bears a duty, or what stands in the way."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, cast

import numpy as np

from scadgen.hinge.batch import batch
from scadgen.hinge.family import Hinge, bounds
from scadgen.sizing.candidates import COUNT, sound_chunks
from scadgen.sizing.descent import Columns, smallest
from scadgen.sizing.footing import on_its_feet
from scadgen.sizing.search import Search, serving
from scadgen.sizing.wanted import Envelope, Refused, Wanted
from scadgen.strength.asked import refusal
from scadgen.strength.place import Strength
from scadgen.text.numbers import shown

Array = np.ndarray[Any, Any]

__all__ = ("Envelope", "Refused", "Sized", "Wanted", "serves", "size")

#: Candidates from which the last steps go down.
STARTS = 96


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


def size(
    cls: type[Hinge], wanted: Wanted, count: int = COUNT, quick: bool = False
) -> Sized | Refused:
    """The hinge with the least bulk that keeps all rules and bears the duty with its margin.

    Refused where the family does not answer what the duty asks, or where nothing bears it. The
    same wish gives the same hinge. No step of one free field's slider makes it smaller: the last
    steps down from the best candidates see to that. They are local, so that a harder duty may, by
    luck of the way down, give a hinge that is smaller by a little. ``quick`` leaves them out: the
    smallest of the candidates has to do. What stands so tall that its foot would not hold it gets
    a larger one.
    """
    found = _found(cls, wanted, count, quick)
    if quick or isinstance(found, Refused):
        return found

    def again(more: Mapping[str, float]) -> Sized | Refused:
        return _found(cls, replace(wanted, fixed={**wanted.fixed, **more}), count, quick)

    return on_its_feet(found, wanted.fixed, again)


def _found(cls: type[Hinge], wanted: Wanted, count: int, quick: bool) -> Sized | Refused:
    """The smallest that bears the duty, whatever it stands on."""
    if left := refusal(cls, wanted.duty, wanted.plastic):
        return Refused(cls.family, left)
    fixed, refused = _fixed(cls, wanted)
    if refused:
        return refused
    free = [*cls.free_beside(fixed)]
    search = Search(cls, wanted, free)
    starts: Columns | None = None
    for columns, whole in sound_chunks(cls, fixed, count):
        found = search.good(columns, whole)
        if len(found):
            found = found[:1] if quick else found[_spread(len(found))]
            starts = {name: column[found] for name, column in columns.items()}
            break
    if quick:
        free = []
    starts = starts or search.last_resort(free)
    if starts is None:
        return Refused(cls.family, "no candidate serves.") if quick else search.refusal()
    values = smallest(cls, free, starts, _bulk, lambda near: serving(near, wanted))
    hinge = _hinge(cls, values)
    return Sized(hinge, tuple(hinge.strengths(wanted.duty, wanted.plastic)), search.tried)


def serves(cls: type[Hinge], wanted: Wanted, count: int = COUNT) -> bool:
    """Whether :func:`size` finds a hinge, however large: in less time."""
    found = size(cls, wanted, count, quick=True)
    return isinstance(found, Sized) or isinstance(size(cls, wanted, count), Sized)


def _spread(count: int) -> Array:
    """Which of so many that serve are starts: the smallest, and ever fewer of the larger ones."""
    ranks = np.unique(np.geomspace(1, count, min(count, STARTS)).astype(int)) - 1
    return np.union1d(ranks, np.arange(min(count, STARTS // 2)))


def _bulk(hinges: Hinge) -> Any:
    return hinges.bulk()


def _fixed(cls: type[Hinge], wanted: Wanted) -> tuple[dict[str, float], Refused | None]:
    """What is given, with what follows from the plastic; refused where a field cannot hold it."""
    fixed = {
        name: value for name, value in wanted.fixed.items() if not _left_open(cls, name, value)
    }
    for name, value in fixed.items():
        if name not in bounds(cls):
            return fixed, Refused(cls.family, f"it has no {name}.")
        limits = bounds(cls)[name]
        if not limits.accepts(value):
            why = f"{name} = {shown(value)}{limits.suffix}; {limits.words}"
            return fixed, Refused(cls.family, why, limits.meant(value))
    for name, value in cls.fitted(_any(cls), wanted.duty, wanted.plastic).items():
        limits = bounds(cls)[name]
        if value < limits.low:
            least = f"{name} is {limits.low:g}{limits.suffix} at least"
            why = f"{_borne(cls, wanted, name, value)}; {least}."
            return fixed, Refused(cls.family, why, "A more ductile plastic, or fewer turns.")
        grain = limits.step / 10
        on_grain = round(float(np.floor(value / grain + 1e-9)) * grain, 6)
        fixed.setdefault(name, limits.nearest(on_grain))
    return fixed, None


def _borne(cls: type[Hinge], wanted: Wanted, name: str, value: float) -> str:
    """What the plastic bears of a field, and that the margin is in it where it is."""
    plain = cls.fitted(_any(cls), replace(wanted.duty, margin=1), wanted.plastic)[name]
    suffix, margin = bounds(cls)[name].suffix, f"{wanted.duty.margin:g}"
    bears = f"{wanted.plastic.name} bears {shown(round(plain, 3))}{suffix} only"
    share = f"{shown(round(value, 3))}{suffix} with the margin of {margin} in it"
    return bears if plain == value else f"{bears}, {share}"


def _left_open(cls: type[Hinge], name: str, value: object) -> bool:
    """Whether 0 is given for an automatic field: then the search is free to choose it."""
    return name in bounds(cls) and bounds(cls)[name].automatic and value == 0


def _any(cls: type[Hinge]) -> Hinge:
    return batch(cls, {})


def _hinge(cls: type[Hinge], values: dict[str, float]) -> Hinge:
    fields = bounds(cls)
    whole = {name: int(value) if fields[name].whole else value for name, value in values.items()}
    return cls(**cast(Any, whole))
