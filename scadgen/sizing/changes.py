"""What would put another form first: one thing of the wish changed, and the ranking made anew.

Nothing is guessed: every change that is told was tried, first with few candidates, then as the
ranking itself was made. Of each thing and each form the value is told that lies nearest to what was
asked.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any, get_args

from scadgen.proof.fleet.population import Population
from scadgen.sizing.candidates import COUNT
from scadgen.sizing.choose import choose
from scadgen.sizing.postures import Posture
from scadgen.sizing.wanted import Aim, Envelope, Wanted
from scadgen.strength.materials import Use, material, materials
from scadgen.text.quoting import toml

#: Proportions of each family with which a change is tried first.
FEW = 800
#: Values that are tried, by the name of what a duty asks.
TRIED = {
    "cycles": (1, 100, 10_000, 100_000),
    "load": (0, 2, 10, 50),
    "pull": (0, 20, 100),
}
ANGLES = (30, 90, 180)


@dataclass(frozen=True)
class Change:
    """With ``key`` of the wish as ``value``, ``family`` comes first."""

    key: str
    value: Any
    family: str

    @property
    def words(self) -> str:
        """The change in a sentence."""
        return f"with {self.key} = {toml(self.value)}: {self.family}"


@dataclass(frozen=True)
class _Try:
    value: Any
    wanted: Wanted


def changes(
    wanted: Wanted,
    posture: Posture,
    population: Population,
    first: str | None,
    count: int = COUNT,
    tell: Callable[[str], None] | None = None,
) -> list[Change]:
    """For each thing that a wish says, the nearest value that puts each other form first.

    Fields of the hinge that are given, and what it is printed on, stay as they are.
    """

    def best(tried: _Try, count: int, quick: bool) -> str | None:
        ranking = choose(tried.wanted, posture, population, count, turned=False, quick=quick)
        return ranking.favourite.family if ranking.favourite else None

    found, every = [], list(_tries(wanted))
    for k, (key, tries) in enumerate(every, 1):
        if tell:
            tell(f"what {key} would change, {k} of {len(every)}")
        seen = {first, None}
        for tried in tries:
            other = best(tried, FEW, True)
            if other not in seen and other and best(tried, count, False) == other:
                found.append(Change(key, tried.value, other))
                seen.add(other)
    return found


def _tries(wanted: Wanted) -> Iterator[tuple[str, list[_Try]]]:
    """For each key the other values to try, the nearest first."""
    stiff = math.log(wanted.plastic.weak_end("modulus", Use.CARRY))

    def apart(name: str) -> float:
        return abs(math.log(material(name).weak_end("modulus", Use.CARRY)) - stiff)

    others = [name for name in materials() if material(name).name != wanted.plastic.name]
    names = sorted(others, key=apart)
    solid = wanted.plastic.filling
    plastics = [replace(wanted, plastic=replace(material(name), filling=solid)) for name in names]
    yield "printers.material", _all(zip(names, plastics, strict=True))
    if "swing" in wanted.fixed:
        angles = _nearest(wanted.fixed["swing"], ANGLES)
        asked = [replace(wanted, fixed={**wanted.fixed, "swing": angle}) for angle in angles]
        yield "duty.angle", _all(zip(angles, asked, strict=True))
    for name, tried in TRIED.items():
        values = _nearest(getattr(wanted.duty, name), tried)
        duties = [replace(wanted, duty=replace(wanted.duty, **{name: v})) for v in values]
        yield f"duty.{name}", _all(zip(values, duties, strict=True))
    yield from _of_the_part(wanted)


def _of_the_part(wanted: Wanted) -> Iterator[tuple[str, list[_Try]]]:
    if wanted.envelope.given:
        free = replace(wanted, envelope=Envelope())
        yield "part.room", [_Try([math.inf] * 3, free)]
    prefers = wanted.prefers
    whole, stays = not prefers.one_piece, not prefers.must_not_come_off
    other = replace(wanted, prefers=replace(prefers, one_piece=whole))
    yield "part.one_piece", [_Try(whole, other)]
    other = replace(wanted, prefers=replace(prefers, must_not_come_off=stays))
    yield "part.must_not_come_off", [_Try(stays, other)]
    aims = [aim for aim in get_args(Aim) if aim != prefers.aim]
    aimed = [replace(wanted, prefers=replace(prefers, aim=aim)) for aim in aims]
    yield "part.aim", _all(zip(aims, aimed, strict=True))


def _all(pairs: Iterable[tuple[Any, Wanted]]) -> list[_Try]:
    return [_Try(value, wanted) for value, wanted in pairs]


def _nearest(asked: float, values: tuple[float, ...]) -> list[float]:
    """The other values, the nearest first, by how many times as large they are."""
    floor = min((value for value in values if value > 0), default=1) / 2
    at = math.log(max(asked, floor))
    others = [value for value in values if value != asked]
    return sorted(others, key=lambda value: abs(math.log(max(value, floor)) - at))
