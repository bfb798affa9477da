"""OpenSCAD tells the same ends of a range as Python, and the same rules where these cross."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from scadgen.hinge.automatic import resolved
from scadgen.hinge.family import Hinge, all_families, definition
from scadgen.trees.to_numpy import Numbers
from tests.openscad.test_refusals import assert_all_refused, words_in_python
from tests.support import each_family, many, refusal, row, some_refused

pytestmark = pytest.mark.openscad

DRAWN, RUNS = 500, 8


@each_family
def test_ends_are_the_same(cls: type[Hinge], tmp_path: Path) -> None:
    """Of refusals for different reasons."""
    seen: dict[tuple[str, str], Any] = {}
    for given, error in some_refused(cls, DRAWN, seed=9):
        if " here, " in error.rule:
            seen.setdefault((error.param, error.rule[-9:]), given)
        if len(seen) == RUNS:
            break
    assert len(seen) >= RUNS / 2
    assert_all_refused_alike(cls, tmp_path, list(seen.values()))


def assert_all_refused_alike(cls: type[Hinge], folder: Path, sets: list[Mapping[str, Any]]) -> None:
    words = [words_in_python(cls, values) for values in sets]
    assert_all_refused(cls, folder, sets, words, strict=False)


def crossed(cls: type[Hinge]) -> Iterator[dict[str, Any]]:
    """Values of which the first broken rule is on a field that its bounds and rules leave nothing.

    One set for each such rule.
    """
    family, count = definition(cls), 20_000
    drawn = many(cls, count, seed=9)
    numbers = Numbers(resolved(family, drawn))
    broken = np.array([~np.broadcast_to(numbers(rule.holds), count) for rule in family.rules])
    first = np.where(broken.any(0), broken.argmax(0), -1)
    for place, rule in enumerate(family.rules):
        limits = family.bounds[rule.param]
        low, high = np.full(count, limits.low), np.full(count, limits.high)
        for other in family.rules:
            if other.param == rule.param and other.direct:
                near = numbers(other.nearest(limits.step))
                low, high = (
                    (np.maximum(low, near), high)
                    if other.at_least
                    else (low, np.minimum(high, near))
                )
        found = np.flatnonzero((first == place) & (low > high) & rule.direct)
        yield from (row(drawn, int(index)) for index in found[:1])


def test_rules_that_leave_nothing_are_the_same(tmp_path: Path) -> None:
    """In all families but those of which other rules are broken before."""
    alike = 0
    for cls in all_families().values():
        sets: list[Mapping[str, Any]] = list(crossed(cls))
        assert all(refusal(cls, given).rule.endswith(" works here.") for given in sets)
        if sets:
            folder = tmp_path / cls.family
            folder.mkdir()
            assert_all_refused_alike(cls, folder, sets)
        alike += len(sets)
    assert alike >= len(all_families())
