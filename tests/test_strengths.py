"""What families say of their strength: whole, in words, and moving the right way."""

from __future__ import annotations

import dataclasses
import importlib
import re
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest

from scadgen.hinge.batch import batch
from scadgen.hinge.family import Hinge, bounds
from scadgen.hinge.rules import HingeError
from scadgen.strength.asked import EVERY
from scadgen.strength.duty import QUANTITIES, Duty
from scadgen.strength.materials import Entry, Plastic, Range, material, materials
from scadgen.strength.place import Strength
from tests.support import changed, each_family, mended, some_hinges

PETG = material("petg")
DUTIES = (
    Duty(),
    Duty(load=0, lever=0, pull=0),
    Duty(40, 80, 20, 20_000, offset=30, pull_lever=50),
    Duty(1, 5, 60, 1),
)
each_plastic = pytest.mark.parametrize("name", materials())
#: Units of what a plastic's stiffness decides, not its strength.
STIFFNESS = ("N", "mm")
#: Words of a change that ask for less of a field; all others ask for more of it.
LESS = ("fewer", "thinner", "narrower")


def by_name(hinge: Hinge, duty: Duty, plastic: Plastic = PETG) -> dict[str, Strength]:
    return {strength.name: strength for strength in hinge.strengths(duty, plastic)}


def factors(hinge: Hinge, duty: Duty, plastic: Plastic = PETG) -> dict[str, Any]:
    """Of the strengths on which a margin is asked."""
    return {n: s.factor for n, s in by_name(hinge, duty, plastic).items() if not s.limit}


def screwed(cls: type[Hinge]) -> Hinge:
    """A hinge of the family with screws, if it can have any."""
    return mended(cls, {"screw": 1, "leaf_length": 20} if "screw" in bounds(cls) else {})


@each_family
def test_each_says_in_words_what_gives_way_by_a_formula_with_a_source(cls: type[Hinge]) -> None:
    for hinge in (cls(), screwed(cls)):
        found = list(hinge.strengths(Duty(), PETG))
        assert len({strength.name for strength in found}) == len(found) > 0
        for strength in found:
            assert re.fullmatch(r"[a-z][a-z ,]+", strength.name)
            assert strength.unit in ("MPa", "%", "N mm", "turns", *STIFFNESS)
            module = importlib.import_module(strength.source)
            assert re.search(r"[Ss]ource|derived", module.__doc__ or ""), strength.source
            assert strength.limit or named(cls, strength.change), strength.change


@each_family
@each_plastic
def test_numbers_are_real_over_all_sound_hinges(cls: type[Hinge], name: str) -> None:
    for hinge in some_hinges(cls, 6):
        for strength in (s for duty in DUTIES for s in hinge.strengths(duty, material(name))):
            assert np.isfinite(strength.actual), strength
            assert strength.actual >= 0, strength
            assert 0 < strength.permissible < np.inf, strength
            assert strength.factor > 0, strength


@each_family
def test_a_batch_bears_what_each_of_its_hinges_bears(cls: type[Hinge]) -> None:
    hinges = [*some_hinges(cls, 6), screwed(cls)]
    columns = {n: np.array([getattr(h, n) for h in hinges]) for n in bounds(cls)}
    for duty in DUTIES:
        together = by_name(batch(cls, columns), duty)
        for k, hinge in enumerate(hinges):
            alone = by_name(hinge, duty)
            assert set(alone) <= set(together)
            for name, strength in together.items():
                factor = float(np.broadcast_to(strength.factor, len(hinges))[k])
                wanted = float(alone[name].factor) if name in alone else np.inf
                assert factor == pytest.approx(wanted), (name, hinge)


def named(cls: type[Hinge], change: str) -> dict[str, int]:
    """The fields that a change names, each with the way in which it asks to move them.

    A field is named by all its words, as in "more web length", or else by its first.
    """
    found = {}
    for wish in re.split(" or ", change):
        words = wish.split()
        singular = [word.removesuffix("s") for word in words]
        whole = [f for f in cls.free_fields() if f.replace("_", " ") in wish]
        first = [f for f in cls.free_fields() if f.split("_")[0].removesuffix("s") in singular]
        found.update(
            dict.fromkeys(sorted(whole, key=len)[-1:] or first, -1 if words[0] in LESS else 1)
        )
    return found


def moves(cls: type[Hinge], count: int) -> Iterator[tuple[Hinge, str, Strength, Strength]]:
    """Hinges, a field that a change names, and the strength before and after it is moved so."""
    duty = Duty(20, 60, 10, 5000)
    for hinge in some_hinges(cls, count):
        for name, strength in by_name(hinge, duty).items():
            for field, way in {} if strength.limit else named(cls, strength.change).items():
                step = bounds(cls)[field].step
                for steps in (1, 4):
                    value = round(getattr(hinge, field) + way * steps * step, 6)
                    try:
                        after = by_name(changed(hinge, {field: value}), duty)[name]
                    except HingeError:
                        continue
                    yield hinge, field, strength, after


@each_family
def test_a_change_that_is_named_never_makes_it_weaker(cls: type[Hinge]) -> None:
    tried = set()
    for hinge, field, before, after in moves(cls, 25):
        tried.add((before.name, field))
        assert after.factor >= before.factor * (1 - 1e-9), (before.name, field, hinge)
    wanted = {
        (s.name, field)
        for s in cls().strengths(Duty(), PETG)
        if not s.limit
        for field in named(cls, s.change)
    }
    assert tried >= wanted


@each_family
@pytest.mark.parametrize("key", EVERY)
def test_a_harder_duty_never_raises_a_factor(cls: type[Hinge], key: str) -> None:
    hinges = [*some_hinges(cls, 5), screwed(cls)]
    for hinge in hinges:
        for duty in (Duty(), Duty(30, 50, 20, 90, offset=15, pull_lever=25)):
            before = by_name(hinge, duty)
            for times in (1.01, 3, 12):
                harder = QUANTITIES[key].nearest(times * getattr(duty, key))
                after = by_name(hinge, dataclasses.replace(duty, **{key: harder}))
                assert all(after[n].factor <= s.factor * (1 + 1e-9) for n, s in before.items())


@each_family
@each_plastic
def test_layers_never_bear_more_across_than_along(cls: type[Hinge], name: str) -> None:
    found = list(cls().strengths(Duty(), material(name)))
    along = [s for s in found if s.unit == "MPa" and "across layers" not in s.name]
    across = [s for s in found if "across layers" in s.name]
    most = max((s.permissible for s in along), default=np.inf)
    assert all(s.permissible <= most for s in across)


@each_family
@pytest.mark.parametrize("share", [0.9, 0.4])
def test_a_weaker_plastic_is_never_better(cls: type[Hinge], share: float) -> None:
    """Limits are apart: what must snap snaps sooner in a weak plastic."""
    weak: dict[str, Any] = {
        "strength": _cut(PETG.strength, share),
        "yield_strain": PETG.yield_strain and _cut(PETG.yield_strain, share),
        "break_strain": _cut(PETG.break_strain, share),
    }
    split: dict[str, Any] = {"layer_ratio": PETG.layer_ratio and _cut(PETG.layer_ratio, share)}
    for hinge in some_hinges(cls, 4):
        usual = factors(hinge, DUTIES[2])
        for change in ({n: r} for n, r in (*weak.items(), *split.items())):
            worse = factors(hinge, DUTIES[2], dataclasses.replace(PETG, **change))
            assert all(worse[n] <= factor * (1 + 1e-9) for n, factor in usual.items()), change
        all_of_it = factors(hinge, DUTIES[2], dataclasses.replace(PETG, **weak, **split))
        stiff = {n for n, s in by_name(hinge, DUTIES[2]).items() if s.unit in STIFFNESS}
        lost = [n for n, factor in usual.items() if np.isfinite(factor)]
        assert all(all_of_it[n] < usual[n] for n in lost if n not in stiff)
        softer = dataclasses.replace(PETG, modulus=_cut(PETG.modulus, share))
        all_of_it = factors(hinge, DUTIES[2], softer)
        assert all(all_of_it[n] < usual[n] for n in lost if n in stiff)


def _cut(whole: Range, share: float) -> Range:
    entries = (
        dataclasses.replace(e, low=e.low * share, high=e.high * share) for e in whole.entries
    )
    kept: tuple[Entry, ...] = tuple(entries)
    return Range(whole.unit, kept)


@each_family
def test_more_rows_never_strain_more(cls: type[Hinge]) -> None:
    if "rows" not in bounds(cls):
        assert not any("rows" in s.change for s in cls().strengths(Duty(), PETG))
        return
    drawn = {name: np.full(40, limits.default) for name, limits in bounds(cls).items()}
    drawn["rows"] = np.arange(8.0, 48)
    strains = [s for s in batch(cls, drawn).strengths(Duty(), PETG) if s.unit == "%"]
    assert strains
    assert all(np.all(np.diff(s.actual) < 0) for s in strains)


def test_nothing_asked_gives_an_infinite_factor_and_a_caution_is_only_looked_at() -> None:
    strength = Strength("a", np.array([0.0, 2.0]), 10.0, "MPa", "b", "c")
    assert strength.factor.tolist() == [np.inf, 5.0]
    from scadgen import WaistedSpindle

    hinge = screwed(WaistedSpindle)
    cautions = [s.name for s in hinge.strengths(Duty(), PETG) if s.caution]
    assert cautions == ["screw heads pulled through"]
