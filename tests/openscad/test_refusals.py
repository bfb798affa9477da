"""The emitted module refuses what Python refuses, in the same words."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from scadgen.hinge.family import Bounds, Hinge, definition
from tests.engine import Run, opened, run
from tests.support import each_family, first_broken, refusal, thorough

pytestmark = pytest.mark.openscad


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


def assert_refused_alike(
    cls: type[Hinge], folder: Path, values: Mapping[str, Any], *, strict: bool = False
) -> None:
    error = refusal(cls, values)
    done = edited(cls, folder, values, strict=strict)
    assert done.refusal == str(error).removesuffix(error.remedy)
    assert (done.code, done.output.exists()) == (1, False)


@each_family
def test_each_rule_has_the_words_of_the_error(cls: type[Hinge], tmp_path: Path) -> None:
    for rule, breaking in zip(definition(cls).rules, first_broken(cls), strict=True):
        assert breaking is not None, rule.why
        assert_refused_alike(cls, tmp_path, breaking, strict=True)


def outside(bounds: Bounds) -> list[float]:
    """A value on each side of the bounds, and one between two steps of a whole number."""
    below = bounds.low - bounds.step
    if bounds.automatic and below == 0:  # which stands for something
        below = -bounds.step
    beyond = [below, bounds.high + bounds.step]
    return [*beyond, bounds.low + bounds.step / 2] if bounds.whole else beyond


@each_family
def test_each_bound_has_the_words_of_the_error(cls: type[Hinge], tmp_path: Path) -> None:
    """Both ends are in one assert: unless the run is thorough each field passes one of them."""
    for number, (name, bounds) in enumerate(definition(cls).bounds.items()):
        wrongs = outside(bounds)
        for wrong in wrongs if thorough() or bounds.whole else wrongs[number % 2 :][:1]:
            assert_refused_alike(cls, tmp_path, {name: wrong})


@each_family
def test_what_is_no_number_is_refused(cls: type[Hinge], tmp_path: Path) -> None:
    for name, bounds in definition(cls).bounds.items():
        done = edited(cls, tmp_path, {name: "wide"})
        assert done.refusal == f"{cls.family}(): {name} = wide{bounds.suffix}; {bounds.words}"
        assert (done.code, done.output.exists()) == (1, False)


@each_family
def test_a_part_that_the_family_has_not_is_refused(cls: type[Hinge], tmp_path: Path) -> None:
    done = edited(cls, tmp_path, {"part": "lid"})
    assert done.code == 1
    assert done.refusal is not None
    assert done.refusal.startswith(f"{cls.family}(): part = lid; it must be one of ")
    assert all(f'"{name}"' in done.refusal for name in definition(cls).parts)
