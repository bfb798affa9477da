"""The emitted module refuses what Python refuses, in the same words."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest

from scadgen import emit
from scadgen.hinge.family import Bounds, Hinge, all_families, definition
from tests.engine import Run, echoed, literal, opened, run
from tests.support import each_family, first_broken, refusal, thorough

pytestmark = pytest.mark.openscad

#: Of the settings that a module must refuse one in so many ends a run of its own, but all in a
#: thorough run; the rest are told in one run for all.
ALONE = 8
#: What is asserted is told instead, so that one run goes through many calls.
TOLD = "module told(holds, words) if (!holds) echo(refused = words);\n"

Values = Mapping[str, Any]


def edited(
    cls: type[Hinge], folder: Path, values: Mapping[str, Any], *, strict: bool = False
) -> Run:
    """The family's file, opened with other values as a maker might type them.

    OpenSCAD reckons all values before it asserts anything: of a wrong kind of value, or of a row
    that a table has not, it may warn first. So only a ``strict`` run ends at the first warning.
    """
    path = folder / f"{cls.family}.scad"
    if not path.exists():
        path.write_text(opened(cls()), encoding="utf-8")
    return run(
        path, folder, strict=strict, **{f"{cls.family}_{name}": v for name, v in values.items()}
    )


def words_of(cls: type[Hinge], sets: Sequence[Values], folder: Path) -> Iterator[str]:
    """The words of the first assertion that fails with each set of values, all asked in one run."""
    named = (", ".join(f"{n} = {literal(v)}" for n, v in values.items()) for values in sets)
    calls = (f"echo(set = {k}); {cls.family}({given});" for k, given in enumerate(named))
    text = emit(cls())
    text, count = re.subn(r"(?m)^( +)assert\(", r"\1told(", text)
    assert count > 2
    told = echoed("\n".join([text, TOLD, *calls]), folder)
    for said in re.split(r"ECHO: set = \d+\n", told)[1:]:
        found = re.search(r'^ECHO: refused = "(.*)"$', said, re.MULTILINE)
        yield found[1] if found else "nothing is refused"


def assert_all_refused(
    cls: type[Hinge], folder: Path, sets: Sequence[Values], words: Sequence[str], *, strict: bool
) -> None:
    """Each set of values is refused with its words; some in a run of their own, which ends."""
    assert list(words_of(cls, sets, folder)) == list(words)
    every = 1 if thorough() else ALONE
    first = list(all_families()).index(cls.family) % every
    for values, said in list(zip(sets, words, strict=True))[first::every]:
        done = edited(cls, folder, values, strict=strict)
        assert (done.refusal, done.code, done.output.exists()) == (said, 1, False)


def words_in_python(cls: type[Hinge], values: Values) -> str:
    error = refusal(cls, values)
    return str(error).removesuffix(error.remedy)


@each_family
def test_each_rule_has_the_words_of_the_error(cls: type[Hinge], tmp_path: Path) -> None:
    sets = []
    for rule, breaking in zip(definition(cls).rules, first_broken(cls), strict=True):
        assert breaking is not None, rule.why
        sets.append(breaking)
    words = [words_in_python(cls, values) for values in sets]
    assert_all_refused(cls, tmp_path, sets, words, strict=True)


def outside(bounds: Bounds) -> list[float]:
    """A value on each side of the bounds, and one between two steps of a whole number."""
    below = bounds.low - bounds.step
    if bounds.automatic and below == 0:  # which stands for something
        below = -bounds.step
    beyond = [below, bounds.high + bounds.step]
    return [*beyond, bounds.low + bounds.step / 2] if bounds.whole else beyond


@each_family
def test_each_bound_has_the_words_of_the_error(cls: type[Hinge], tmp_path: Path) -> None:
    bounds = definition(cls).bounds.items()
    sets = [{name: wrong} for name, limits in bounds for wrong in outside(limits)]
    words = [words_in_python(cls, values) for values in sets]
    assert_all_refused(cls, tmp_path, sets, words, strict=False)


@each_family
def test_what_is_no_number_is_refused(cls: type[Hinge], tmp_path: Path) -> None:
    bounds = definition(cls).bounds.items()
    sets = [{name: "wide"} for name, _ in bounds]
    words = [f"{cls.family}(): {name} = wide{b.suffix}; {b.words}" for name, b in bounds]
    assert_all_refused(cls, tmp_path, sets, words, strict=False)


@each_family
def test_a_part_that_the_family_has_not_is_refused(cls: type[Hinge], tmp_path: Path) -> None:
    done = edited(cls, tmp_path, {"part": "lid"})
    assert done.code == 1
    assert done.refusal is not None
    assert done.refusal.startswith(f"{cls.family}(): part = lid; it must be one of ")
    assert all(f'"{name}"' in done.refusal for name in definition(cls).parts)
