"""What several tests share: values drawn from the fields' own ranges, and sound hinges."""

from __future__ import annotations

import contextlib
import dataclasses
import functools
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import settings
from hypothesis import strategies as st

from scadgen.hinge.automatic import resolved
from scadgen.hinge.family import Bounds, Hinge, all_families, definition
from scadgen.hinge.rules import HingeError
from scadgen.sizing.changes import changes
from scadgen.sizing.choose import choose
from scadgen.text.numbers import shown
from scadgen.trees.to_numpy import Numbers

ROOT = Path(__file__).resolve().parents[1]

#: Share of the range of facets, from the fewest on, in which hinges are drawn that are proven: with
#: the most a proof takes ten times as long, and few keep a round farthest from its circle. A
#: thorough run draws from the whole range.
FEW = 0.1
#: Draws of arrays that are kept: searches that breed settings ask for the same ones, rule by rule.
DRAWS = 32

each_family = pytest.mark.parametrize("cls", all_families().values(), ids=all_families())


def thorough() -> bool:
    """Whether the run is one that looks at everything, not at a fair part of it."""
    told = getattr(settings, "get_current_profile_name", None)  # not in the lowest versions
    return (told() if told else getattr(settings, "_current_profile", "")) == "thorough"


def field_values(bounds: Bounds) -> st.SearchStrategy[float]:
    """Any value that the bounds accept: on the slider's steps and, unless whole, between them."""
    last = int((bounds.high - bounds.low) / bounds.step + 1e-9)
    stepped = st.integers(0, last).map(lambda k: round(bounds.low + k * bounds.step, 6))
    drawn = stepped if bounds.whole else stepped | st.floats(bounds.low, bounds.high)
    return drawn | st.just(0) if bounds.automatic else drawn


def values(cls: type[Hinge]) -> st.SearchStrategy[dict[str, Any]]:
    """Values over the whole declared range of every field; one left out has its default."""
    drawn = {name: field_values(limits) for name, limits in definition(cls).bounds.items()}
    return st.fixed_dictionaries({}, optional=drawn)


def sound(cls: type[Hinge]) -> st.SearchStrategy[Hinge]:
    """Hinges over the whole declared range: any values, mended as the error says where refused.

    Unless the run is thorough all have few facets.
    """
    drawn = values(cls)
    if not thorough():
        facets = dataclasses.replace(definition(cls).bounds["facets"], high=few_facets(cls))
        few = field_values(facets)
        drawn = st.builds(lambda given, count: given | {"facets": count}, drawn, few)
    return drawn.map(lambda given: mended(cls, given))


def few_facets(cls: type[Hinge]) -> float:
    """The most facets of a hinge that is drawn to be proven or rendered."""
    facets = definition(cls).bounds["facets"]
    return facets.on_step(facets.low + FEW * (facets.high - facets.low))


def mended(cls: type[Hinge], given: Mapping[str, Any]) -> Hinge:
    """The hinge with the given values, and with the changes that its error offers if it has one."""
    try:
        return cls(**given)
    except HingeError as error:
        assert_tells_all(cls, given, error)
        return remedied(cls, given, error)


def remedied(cls: type[Hinge], given: Mapping[str, Any], error: HingeError) -> Hinge:
    """The hinge with the changes that the error offers."""
    return cls(**{**given, **error.works})


def assert_short_line(words: str, path: Path) -> None:
    """A refusal of a file names its path first, steers no terminal and fits into a few lines."""
    assert words.startswith(f"{path}: ")
    assert words.isprintable()
    assert len(words) < 2000


def refusal(cls: type[Hinge], given: Mapping[str, Any]) -> HingeError:
    """The error with which the family refuses the values."""
    with pytest.raises(HingeError) as caught:
        cls(**given)
    return caught.value


def assert_tells_all(cls: type[Hinge], given: Mapping[str, Any], error: HingeError) -> None:
    """The error names family, parameter, value, unit, rule and changes, as data and in words."""
    bounds = definition(cls).bounds
    assert error.family == cls.family
    wanted = given.get(error.param, bounds[error.param].initial)
    if bounds[error.param].automatic and wanted == 0:  # it is told what 0 stands for
        wanted = resolved(definition(cls), {n: given.get(n, b.initial) for n, b in bounds.items()})[
            error.param
        ]
    assert error.value is wanted or error.value == pytest.approx(wanted, rel=0, abs=1e-6)
    assert error.unit == bounds[error.param].suffix
    assert error.rule.startswith("it must be ")
    assert error.works
    assert set(error.works) <= set(bounds)
    opening = f"{cls.family}(): {error.param} = {shown(error.value)}{error.unit}; {error.rule}"
    assert str(error) == opening + error.remedy
    assert all(f"{n} = {shown(v)}" in error.remedy for n, v in error.works.items())


def many(cls: type[Hinge], count: int, seed: int = 0, *, stepped: bool = False) -> dict[str, Any]:
    """``count`` sets of values as arrays: each field at its default or anywhere in its range.

    Anywhere is more often near the low end, where sizes are tight, and is on a step or, half of
    the time unless the field is whole or all are ``stepped``, between steps.
    """
    family: Any = cls  # to a type checker a class that is a key has no hash
    return dict(_many(family, count, seed, stepped))


@functools.lru_cache(maxsize=DRAWS)
def _many(cls: Any, count: int, seed: int, stepped: bool) -> dict[str, Any]:
    rng = np.random.default_rng([seed, *cls.family.encode()])

    def half_of_the_time(yes: Any, no: Any) -> Any:
        return np.where(rng.random(count) < 0.5, yes, no)

    drawn = {}
    for name, limits in definition(cls).bounds.items():
        share = half_of_the_time(rng.random(count), 10 ** rng.uniform(-3, 0, count))
        between = share * (limits.high - limits.low)
        on_step = np.round(between / limits.step) * limits.step
        way = on_step if limits.whole or stepped else half_of_the_time(on_step, between)
        drawn[name] = half_of_the_time(limits.default, (limits.low + way).round(6))
        drawn[name].flags.writeable = False  # others get the same
    return drawn


def row(drawn: Mapping[str, Any], index: int) -> dict[str, Any]:
    """One set of values out of :func:`many`."""
    return {name: column[index].item() for name, column in drawn.items()}


def some_hinges(cls: type[Hinge], count: int, **fixed: float) -> list[Hinge]:
    """The default hinge and ``count`` drawn ones, the same in every run.

    Unless the run is thorough the drawn ones have few facets.
    """
    family: Any = cls
    return [cls(), *_some_hinges(family, count, tuple(fixed.items()))]


@functools.cache
def _some_hinges(cls: Any, count: int, fixed: tuple[tuple[str, float], ...]) -> list[Hinge]:
    drawn = many(cls, count)
    if not thorough():
        drawn["facets"] = np.minimum(drawn["facets"], few_facets(cls))
    return [mended(cls, row(drawn, k) | dict(fixed)) for k in range(count)]


def some_refused(
    cls: type[Hinge], count: int, seed: int = 0
) -> Iterator[tuple[dict[str, Any], HingeError]]:
    """Of ``count`` sets of values, a few of each off the usual ones, those that are refused."""
    drawn, rng = many(cls, count, seed), np.random.default_rng(seed)
    usual = {name: limits.initial for name, limits in definition(cls).bounds.items()}
    for index in range(count):
        changes = rng.choice(list(usual), rng.integers(1, 5), replace=False)
        given = usual | {name: row(drawn, index)[name] for name in changes}
        try:
            cls(**given)
        except HingeError as error:
            yield given, error


def fewest(cls: type[Hinge]) -> dict[str, Any]:
    """The values with which a hinge has the fewest corners: it is drawn in least time."""
    limits = definition(cls).bounds.items()
    return {name: each.low for name, each in limits if each.group == "Quality" and each.whole}


def few_candidates(monkeypatch: pytest.MonkeyPatch, count: int = 300) -> None:
    """Have ``scadgen choose`` look at few proportions of each family, and make few smaller.

    For what it says this is enough.
    """
    for name, few in (("size.STARTS", 8), ("descent.FINALISTS", 1), ("changes.FEW", count)):
        monkeypatch.setattr(f"scadgen.sizing.{name}", few)
    for name, command in (("choose", choose), ("changes", changes)):
        patched = functools.partial(command, count=count)
        monkeypatch.setattr(f"scadgen.sizing.{name}.{name}", patched)


def first_broken(cls: type[Hinge]) -> tuple[Mapping[str, Any] | None, ...]:
    """For each rule values that break it and none before it; None where the search finds none."""
    family: Any = cls  # to a type checker a class that is a key has no hash
    return _first_broken(family)


@functools.cache
def _first_broken(cls: Any) -> tuple[Mapping[str, Any] | None, ...]:
    drawn = many(cls, 20_000)
    held, _ = _rules_of(cls, drawn)  # most rules are broken there already
    at_once = [_alone(held[: index + 1]) for index in range(len(held))]
    return tuple(
        row(drawn, int(np.argmax(alone))) if alone.any() else _breaking(cls, index, drawn)
        for index, alone in enumerate(at_once)
    )


def _rules_of(cls: type[Hinge], drawn: dict[str, Any], most: int | None = None) -> tuple[Any, Any]:
    """Whether each rule holds of values that were drawn, and by how much."""
    numbers, count = Numbers(drawn), len(next(iter(drawn.values())))
    rules = definition(cls).rules[:most]
    held = np.array([np.broadcast_to(numbers(rule.holds), count) for rule in rules])
    margins = definition(cls).margins(numbers)[: len(rules)]
    return held, np.array([np.broadcast_to(margin, count) for margin in margins])


def _alone(held: Any) -> Any:
    """Where the last of the rules is broken, and none before it."""
    return held[:-1].all(0) & ~held[-1]


def _breaking(cls: type[Hinge], index: int, first: dict[str, Any]) -> dict[str, Any] | None:
    """Of many that were drawn keep those nearest to breaking the rule alone, redraw some of their
    values, and so on.
    """
    drawn, kept = dict(first), 200
    count = len(next(iter(drawn.values())))
    rng = np.random.default_rng(index)
    for generation in range(1, 30):
        held, margins = _rules_of(cls, drawn, index + 1)
        if _alone(held).any():
            return row(drawn, int(np.argmax(_alone(held))))
        best = np.lexsort((margins[index], ~held[:-1].all(0)))[:kept]
        family: Any = cls
        fresh = _fresh(family, count, generation)
        for name, column in drawn.items():
            again = rng.random(count) < 0.2
            drawn[name] = np.where(again, fresh[name], np.resize(column[best], count))
    return None


@functools.lru_cache(maxsize=2)  # of one family at a time; what is searched for is found early
def _fresh(cls: Any, count: int, generation: int) -> dict[str, Any]:
    return many(cls, count, generation)


def moved(cls: type[Hinge]) -> Hinge:
    """The hinge with each field one step from its default, up or else down, as the rules allow."""
    hinge = cls()
    bounds = definition(cls).bounds
    for name, limits in (*bounds.items(), *bounds.items()):  # a later move may free an earlier one
        for step in (limits.step, -limits.step):
            still = getattr(hinge, name) == limits.default
            with contextlib.suppress(HingeError):
                hinge = changed(hinge, {name: limits.default + step}) if still else hinge
    return hinge


def changed(hinge: Hinge, changes: Mapping[str, Any]) -> Hinge:
    """The hinge with some other values. Raises HingeError where these make no sound one."""
    return dataclasses.replace(hinge, **changes)


def hinges() -> set[str]:
    """The families that `choose` ranks: a catch is no hinge."""
    return {name for name, cls in all_families().items() if cls.serves == "hinge"}
