"""Each place's formula beside its solid: what is kept of the solids, the formulas worked out anew.

The bars: where it governs, a formula is never unsafe by more than 15 %, and never safe by more than
a factor of two. Of gaps two things are assumed, as drawn and spread evenly: printed ones are
neither, so that the worse of both counts.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from scadgen.elements.bears import WAYS
from scadgen.hinge.family import all_families
from scadgen.strength.place import Strength
from scadgen.text.numbers import shown
from tests.solids import arms
from tests.solids.subjects import BORNE, DUTIES, PETG, REACH, SIZE, SMALLER, subject, told

#: The solid over the formula, where it governs.
UNSAFE, SAFE = 1.15, 0.5
#: A place gives way first, too, if it is asked by so much of the worst.
AS_MUCH = 0.8
TITLE = "## Formula, solid and ratio"
_HEAD = """\
Every family's stresses beside finite elements on its own solid (`scadgen/elements`), in {plastic},
weak ends: {borne}.
Shares are of these. Each link is held beyond its leaf's root, and pushed where the other one bears;
cubes of {size:g} mm, stress fitted within {reach:g} mm. Of a flexure what bends is pulled at its
moving border, in cubes of half its web or slit; how far it bends, and the strain of that, is left
out. *As drawn*: a bearing's stretches share a push as both links give way. *Even*: the push is
spread evenly along the bearing, as if gaps that print unequal closed anyhow. The ratio is that of
the worse of both over the formula. Where a place governs it is to be {unsafe:g} at most, or the
formula is unsafe, and {safe:g} at least; a test holds it to that. At other places what
another one's formula tells may count as well: a sharp corner nearby, or the twist of a web that is
pulled sideways; and a strip of a lattice is cut half-way between its roots.

The solids' figures are kept in `tests/solids/figures.json`, with a fingerprint of what they hang
on; a test says when they are of something else. `python -m tests.solid_table` measures those anew.
"""


@dataclass(frozen=True)
class Governed:
    """What gives way first of a family under a duty, by formula and by solid."""

    family: str
    duty: str
    place: Strength
    solid: Mapping[str, Mapping[str, Any]]
    places: Mapping[str, Mapping[str, float]]

    @property
    def formula(self) -> float:
        """Share of what is borne, by the formulas."""
        return share(self.place)

    @property
    def worse(self) -> Mapping[str, Any]:
        """The solid's, for the worse of what is assumed of gaps."""
        return max(self.solid.values(), key=lambda one: float(one["share"]))

    @property
    def ratio(self) -> float:
        """The solid's share over the formula's."""
        return float(self.worse["share"]) / self.formula

    @property
    def name(self) -> str:
        """The place that governs by formula, as its carrier has it."""
        return self.place.name.removesuffix(", across layers")

    def where(self, gaps: str) -> str:
        """Where the solid gives way first: at the formulas' own place if it is asked as much."""
        worst = self.solid[gaps]
        own = self.places.get(self.place.name, {}).get(gaps, 0.0)
        return self.name if own >= AS_MUCH * worst["share"] else str(worst["near"])

    @property
    def agree(self) -> bool:
        """Whether the solid gives way first at the place that the formulas name."""
        return self.name in map(self.where, self.solid)


def share(place: Strength) -> float:
    """How much of what a place bears is asked of it."""
    return float(place.actual) / float(place.permissible)


def governed(kept: Mapping[str, Any]) -> Iterator[Governed]:
    """What governs, for each family that is kept and each duty."""
    for family, duty, places in _told(kept):
        most = max(places, key=share)
        figures = kept[family]["duties"][duty]
        yield Governed(family, duty, most, figures["governs"], figures["places"])


def _told(kept: Mapping[str, Any]) -> Iterator[tuple[str, str, list[Strength]]]:
    for family in kept:
        found = subject(all_families()[family])
        assert found is not None
        for duty, asked in DUTIES.items():
            yield family, duty, told(found.hinge, asked)


def section(kept: Mapping[str, Any]) -> Iterator[str]:
    """The part of the page, line by line."""
    borne = ", ".join(f"{mpa:.3g} MPa {way}" for mpa, way in zip(BORNE.each, WAYS, strict=True))
    figures = {"size": SIZE, "reach": REACH, "unsafe": UNSAFE, "safe": SAFE}
    yield f"{TITLE}\n"
    yield _HEAD.format(plastic=PETG.name, borne=borne, **figures)
    yield "### What governs\n"
    yield "| family | duty | by formula | share | by solid, as drawn | even | ratio |"
    yield "|---|---|---|---:|---|---|---:|"
    yield from map(_governed_row, governed(kept))
    without = [
        name
        for name, cls in all_families().items()
        if subject(cls) is None and name not in arms.SUBJECTS
    ]
    named = ", ".join(f"`{name}`" for name in without)
    yield f"\nNot loaded, as they answer no load, or have no bearing and no bend: {named}.\n"
    yield "### All places\n"
    yield "| family | duty | place | formula | as drawn | even | ratio |"
    yield "|---|---|---|---:|---:|---:|---:|"
    for family, duty, places in _told(kept):
        for place in places:
            yield from _place_row(kept, family, duty, place)
    yield ""
    yield from arms.section()


def _governed_row(one: Governed) -> str:
    cells = " | ".join(_of(one, gaps) for gaps in ("as drawn", "even"))
    told = f"{_called(one.family)} | {one.duty} | {one.name} | {one.formula:.1%}"
    return f"| {told} | {cells} | {one.ratio:.2f} |"


def _of(one: Governed, gaps: str) -> str:
    if gaps not in one.solid:
        return ""
    found = one.solid[gaps]
    at = ", ".join(f"{value:g}" for value in found["at"])
    where = one.where(gaps) or "no place that is named"
    return f"{found['share']:.1%}: {where}, {found['way']} ({found['acts']:.2g} MPa), at ({at})"


def _place_row(kept: Mapping[str, Any], family: str, duty: str, place: Strength) -> Iterator[str]:
    found = kept[family]["duties"][duty]["places"].get(place.name)
    if found is None:
        return
    even = f"{found['even']:.1%}" if "even" in found else ""
    ratio = max(found.values()) / share(place)
    called = f"| {_called(family)} | {duty} | {place.name} | {share(place):.1%} "
    yield f"{called}| {found['as drawn']:.1%} | {even} | {ratio:.2f} |"


def _called(family: str) -> str:
    given = ", ".join(f"{key} {shown(value)}" for key, value in SMALLER.get(family, {}).items())
    return f"`{family}`" + (f" ({given})" if given else "")
