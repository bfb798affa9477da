"""Tests that share what is made once run in one process; what takes long begins early."""

from __future__ import annotations

import pytest

from tests.groups import ALONE, LONG, TOGETHER, family, group, rank
from tests.support import ROOT

FAMILY = "tests/proof/test_x.py::test_it[0.2-rod_loops]"


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (FAMILY, "tests/test_y.py::test_other[rod_loops-3]", True),
        (FAMILY, "tests/proof/test_x.py::test_it[0.2-side_cones]", False),
        (FAMILY, "tests/test_y.py::test_other[rod_loops: wall at least ..., or else]", True),
        ("tests/test_y.py::test_a", "tests/test_y.py::test_b[3]", True),
        ("tests/test_y.py::test_a", "tests/test_z.py::test_a", False),
        ("tests/test_docs.py::test_a[README.md]", "tests/test_docs.py::test_a[x.md]", False),
        ("tests/browser/test_a.py::test_a[rod_loops]", "tests/browser/test_b.py::test_b", True),
        ("tests/strength/test_used.py::test_a", "tests/strength/test_page.py::test_b", True),
    ],
)
def test_what_goes_together(one: str, other: str, same: bool) -> None:
    assert (group(one) == group(other)) == same


def test_families_come_first_then_what_takes_long() -> None:
    last, long, longer = "tests/a.py::b", "tests/product/test_a.py::a", "tests/test_docs.py::a"
    assert sorted([last, longer, FAMILY, long], key=rank) == [FAMILY, longer, long, last]
    assert family(FAMILY) == "rod_loops"
    assert family("tests/browser/test_a.py::test_a[rod_loops]") is None


def test_every_path_is_there() -> None:
    missing = [path for path in (*TOGETHER, *ALONE, *LONG) if not (ROOT / path).exists()]
    assert missing == []
