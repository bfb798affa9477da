"""What a duty asks of a hinge, and what of it the hinge's family does not answer."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, fields, replace
from typing import TYPE_CHECKING

from scadgen.strength.duty import ROOM, Duty
from scadgen.strength.lasting import Untold, untold

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.strength.materials import Plastic


@dataclass(frozen=True)
class _Asks:
    """A quantity of a duty: ``idle`` is its value that asks nothing, ``what`` it is in words."""

    idle: float
    unit: str
    what: str


_QUANTITIES: Mapping[str, _Asks] = {
    "load": _Asks(0, "N", "a load"),
    "lever": _Asks(0, "mm", "a load at a lever"),
    "offset": _Asks(0, "mm", "a load beside its middle"),
    "pull": _Asks(0, "N", "a pull"),
    "pull_lever": _Asks(0, "mm", "a pull at a lever"),
    "cycles": _Asks(1, "turns", "many turns"),
    "hours": _Asks(0, "h", "a load that lasts"),
    "celsius": _Asks(ROOM, "deg C", "a load in the warm"),
}
#: Lengths that mean nothing without the force that acts there.
_PLACES = {"lever": "load", "offset": "load", "pull_lever": "pull"}
#: The quantities of a duty that a family may answer. All but the margin, which only scales them.
EVERY = tuple(_QUANTITIES)


@dataclass(frozen=True)
class Unanswered:
    """A quantity that is asked for and that no strength of the family depends on.

    ``value`` that is asked and ``idle``, the one that asks nothing, in ``unit``.
    """

    family: str
    name: str
    value: float
    idle: float
    unit: str

    @property
    def words(self) -> str:
        """Why that is no answer, and what works."""
        told = f"{self.family} tells no strength for {_QUANTITIES[self.name].what}"
        asked = f"{self.value:.10g} {self.unit} are asked"
        return f"{told}: {asked}; ask {self.idle:g} {self.unit}, or take another family."

    def __str__(self) -> str:
        return f"{self.name}: {self.words}"


def asked(duty: Duty) -> dict[str, float]:
    """The quantities that the duty asks for, with their values; no force asks for no lever."""
    values = {name: float(getattr(duty, name)) for name in EVERY}
    for place, force in _PLACES.items():
        if not values[force]:
            del values[place]
    return {name: value for name, value in values.items() if value != _QUANTITIES[name].idle}


def unanswered(
    cls: type[Hinge], duty: Duty, plastic: Plastic | None = None
) -> Iterator[Unanswered | Untold]:
    """What the duty asks that the family does not answer, or nobody knows of the plastic."""
    for name, value in asked(duty).items():
        if name not in cls.answers:
            of = _QUANTITIES[name]
            yield Unanswered(cls.family, name, value, of.idle, of.unit)
    if plastic is not None:
        yield from (one for one in untold(plastic, duty) if one.name in cls.answers)


def refusal(cls: type[Hinge], duty: Duty, plastic: Plastic | None = None) -> str:
    """All that is not answered, the first of it in full; empty where nothing is left."""
    left = list(unanswered(cls, duty, plastic))
    same = [one for one in left[1:] if isinstance(one, Unanswered)]
    named = ", ".join(f"{one.name} = {one.value:.10g} {one.unit}" for one in same)
    words = [f"The same holds for {named}."] if named else []
    words += [str(one) for one in left[1:] if isinstance(one, Untold)]
    return " ".join(map(str, [*left[:1], *words]))


def answerable(duty: Duty, answers: Iterable[str]) -> Duty:
    """The duty less what is not among the answers."""
    held = set(answers)
    idle = {name: of.idle for name, of in _QUANTITIES.items() if name not in held}
    for place, force in _PLACES.items():
        if force in idle:
            idle[place] = _QUANTITIES[place].idle
    return replace(duty, **idle)


def differing(duty: Duty, other: Duty) -> dict[str, float]:
    """The values of a duty that are not those of the other."""
    values = {field.name: getattr(duty, field.name) for field in fields(duty)}
    return {name: value for name, value in values.items() if value != getattr(other, name)}
