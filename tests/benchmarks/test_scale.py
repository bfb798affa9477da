"""The scripts that look for what grows too fast, and for the slowest hinges, measure and tell."""

from __future__ import annotations

from collections import defaultdict
from functools import partial

import pytest

from scadgen.hinge.family import all_families
from tests.scale import SCALES, Row, measured, power, printed
from tests.worst import drawn, proof

FAMILY = "break_away_link"


def _took(megabytes: int) -> None:
    block = bytearray(megabytes * 1_000_000)
    block[::1000] = bytes(len(block) // 1000 * b"x")
    assert sum(k * k for k in range(200_000))


def test_time_and_memory_are_those_of_the_work() -> None:
    seconds, memory = measured(partial(_took, 60))
    assert seconds > 0
    assert 40 < memory < 120


@pytest.mark.parametrize("grew", [1, 2, 3])
def test_a_power_is_told_where_a_time_says_something(grew: int) -> None:
    rows = [Row(n, n**grew / 10, 5) for n in (1, 2, 8)]
    assert power(*rows[:2]) == power(*rows[1:]) == f"{grew:.1f}"
    assert power(Row(1, 0.001, 0), Row(2, 1, 0)) == ""
    table = printed("a thing", rows).splitlines()
    assert table[-1].startswith(f"| 8 | {8**grew / 10:.2f} | {8**grew:.1f} | {grew:.1f} |")


@pytest.mark.parametrize("name", SCALES)
def test_every_table_grows(name: str) -> None:
    sizes = defaultdict(list)
    for title, size, work in SCALES[name]():
        assert callable(work)
        sizes[title].append(size)
    assert sizes
    for column in sizes.values():
        assert column == sorted(set(column))
        assert len(column) > 1


def test_a_number_is_always_the_same_hinge_and_its_proof_is_timed() -> None:
    every = [*all_families()]
    assert [drawn(k, every) for k in range(5)] == [drawn(k, every) for k in range(5)]
    found = proof(3, [FAMILY])
    assert (found.number, found.family) == (3, FAMILY)
    assert found.verdict in ("passed", "not passed")
    assert 0 < found.seconds < 60
    assert found.seconds == pytest.approx(sum(found.phases.values()), rel=0.2)
    assert f"{FAMILY}: {found.verdict}" in str(found)
