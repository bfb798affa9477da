"""Every place that may give way, of every family, beside a section that is cut from its own solid.

The stress that a family tells is held against a nominal one, from statics and measured polygons. A
formula that is wrong by a factor is seen, wherever it stands.
"""

from __future__ import annotations

import dataclasses
import functools
import importlib
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from scadgen.hinge.family import Hinge, all_families, bounds
from scadgen.strength.carried import Carrier
from scadgen.strength.duty import Duty
from scadgen.strength.life import Permissible
from scadgen.strength.materials import material
from scadgen.strength.place import Strength
from tests.strength.carried import held, nominal
from tests.support import each_family, mended, some_hinges

PETG = material("petg")
#: Each asks one thing: a load on the bearing, one that pries, one beside the middle, a pull, one at
#: a lever.
DUTIES = (
    Duty(10, 0, 0, 1),
    Duty(2, 300, 0, 1),
    Duty(2, 0, 0, 1, offset=100),
    Duty(0, 0, 10, 1),
    Duty(0, 0, 2, 1, pull_lever=200),
)
#: What is told over what is measured: nominal stresses have no peaks, and sections have corners
#: that a formula leaves out. A factor of 3 is beyond it for whatever is near 1.
LEAST, MOST = 0.5, 2.0
ACROSS = ", across layers"


@dataclasses.dataclass(frozen=True)
class Row:
    """A place of a hinge under a duty: what was measured there, and what it may bear if given.

    peak: how many times that a corner makes of it.
    """

    hinge: Hinge
    duty: Duty
    place: str
    measured: float
    borne: float | None
    peak: float


def subjects(cls: type[Hinge]) -> list[Hinge]:
    """The default hinge, one with screws if it can have any, and some drawn ones."""
    screwed = [mended(cls, {"screw": 1, "leaf_length": 20})] if "screw" in bounds(cls) else []
    return [*screwed, *some_hinges(cls, 2)]


def plain(name: str) -> str:
    """The name of a place without what its stress crosses."""
    return name.removesuffix(ACROSS)


def rows(cls: type[Hinge]) -> tuple[Row, ...]:
    """All that was measured of a family, once."""
    return _measured(cls.family)


@functools.cache
def _measured(family: str) -> tuple[Row, ...]:
    cls = all_families()[family]
    return tuple(
        row
        for hinge in subjects(cls)
        for duty in DUTIES
        for carrier in hinge.carriers()
        for row in _rows(hinge, duty, carrier)
    )


def _rows(hinge: Hinge, duty: Duty, carrier: Carrier) -> Iterator[Row]:
    names = [s.name for s in hinge.strengths(duty, PETG) if plain(s.name) == carrier.place]
    for name in names:
        measured = nominal(hinge, carrier, duty, PETG)
        yield Row(hinge, duty, name, measured, _borne(hinge, carrier, name), carrier.peak)


def _borne(hinge: Hinge, carrier: Carrier, name: str) -> float | None:
    """About what the plastic bears once, by its own figures; None where a field of it says that."""
    if carrier.kind == "snap":
        return None
    if carrier.kind == "held":
        return held(hinge, carrier, PETG)
    if carrier.kind in ("bend", "twist", "wound"):
        assert PETG.yield_strain is not None
        return PETG.yield_strain.low
    pulled = (PETG.strength_across if ACROSS in name else PETG.strength).low
    return pulled / 3**0.5 if carrier.kind == "shear" else pulled


def wrong(cls: type[Hinge]) -> Iterator[str]:
    """The places whose strength is not near what was measured, in words."""
    told: dict[tuple[int, Duty], dict[str, Strength]] = {}
    for row in rows(cls):
        key = id(row.hinge), row.duty
        if key not in told:
            told[key] = {s.name: s for s in row.hinge.strengths(row.duty, PETG)}
        place = told[key][row.place]
        pairs = [("actual", float(place.actual), row.measured, row.peak)]
        if row.borne is not None:
            pairs.append(("permissible", float(place.permissible), row.borne, 1.0))
        for what, ours, theirs, peak in pairs:
            if not LEAST * theirs <= ours <= MOST * peak * theirs:
                yield f"{cls.family}, {row.place}: {what} {ours:.4g}, measured {theirs:.4g}"


@each_family
def test_every_place_has_a_section_or_a_reason(cls: type[Hinge]) -> None:
    for hinge in subjects(cls):
        places = {plain(s.name) for s in hinge.strengths(DUTIES[0], PETG)}
        measured = [carrier.place for carrier in hinge.carriers()]
        assert len(set(measured)) == len(measured)
        assert set(measured) <= places <= set(measured) | set(cls.not_measured)
        assert not set(measured) & set(cls.not_measured)
    widest = mended(cls, {"swing": bounds(cls)["swing"].high})
    told = {plain(s.name) for hinge in (cls(), widest) for s in hinge.strengths(DUTIES[0], PETG)}
    assert set(cls.not_measured) <= told
    for place, reason in cls.not_measured.items():
        print(f"{cls.family}, {place}: not measured, {reason}")
        assert len(reason) > 10


@each_family
def test_what_is_told_is_near_what_its_section_bears(cls: type[Hinge]) -> None:
    assert rows(cls)
    assert not list(wrong(cls))


@each_family
def test_each_place_is_loaded_by_some_duty(cls: type[Hinge]) -> None:
    """Or nothing is compared there."""
    loaded = {row.place for row in rows(cls) if row.measured > 0}
    assert loaded == {row.place for row in rows(cls)}


def mutated(formula: Callable[..., Any], factor: float) -> Callable[..., Any]:
    """The formula, wrong by a factor."""

    @functools.wraps(formula)
    def other(*values: Any, **named: Any) -> Any:
        found = formula(*values, **named)
        if isinstance(found, Permissible):
            return dataclasses.replace(found, percent=factor * found.percent)
        return factor * found

    return other


def seen(formula: str, factor: float, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What the comparison says, in any family, where a formula is wrong by a factor."""
    for cls in all_families().values():
        rows(cls)  # measured while all is right
    module, _, name = formula.rpartition(".")
    home = importlib.import_module(f"scadgen.strength.{module}")
    with monkeypatch.context() as patched:
        patched.setattr(home, name, mutated(getattr(home, name), factor))
        return [words for cls in all_families().values() for words in wrong(cls)]


@pytest.mark.parametrize("factor", [50, 1 / 50, 3, 1 / 3])
@pytest.mark.parametrize(
    "formula",
    [
        "arm.together",
        "bent_web.web_strain",
        "break_away.most_snap_moment",
        "cones.neck_bending",
        "cones.ring_tension",
        "lattice.opening_stress",
        "leaf.root_stress",
        "life.strength_share",
        "loop.thick_ring_stress",
        "prying.bearing_force",
        "rod.bending_stress",
        "torsion.stiffness_factor",
    ],
)
def test_a_formula_that_is_wrong_by_a_factor_is_seen(
    formula: str, factor: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert seen(formula, factor, monkeypatch)


def test_a_family_that_spoils_a_stress_by_itself_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    """One by one: each place of each family, divided by fifty after its formula."""
    for cls in all_families().values():
        places = {row.place for row in rows(cls)}
        honest = cls.strengths

        def spoiled(
            self: Hinge, duty: Duty, plastic: Any, place: str, told: Any = honest
        ) -> Iterator[Strength]:
            for one in told(self, duty, plastic):
                by = 50 if one.name == place else 1
                yield dataclasses.replace(one, actual=one.actual / by)

        for place in places:
            with monkeypatch.context() as patched:
                patched.setattr(cls, "strengths", functools.partialmethod(spoiled, place=place))
                assert any(f", {place}: actual" in words for words in wrong(cls)), place


def test_nothing_is_seen_where_all_is_right(monkeypatch: pytest.MonkeyPatch) -> None:
    assert not seen("leaf.root_stress", 1, monkeypatch)
