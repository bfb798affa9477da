"""Mutants are made where they are said to be, and the table is of those there are."""

from __future__ import annotations

import ast
import json

import pytest

from tests.mutants.__main__ import KEPT
from tests.mutants.measures import MEASURES, unswitched
from tests.mutants.sites import OPEN, PASSED, Sites, switched_off

SOURCE = """
class Joint:
    def prove(self):
        yield Finding("gap", self.gap > 1, "words", leaves_open="is unsure" * self.near)
        yield Finding("tells", True, "words")
        return replace(found, passed=False)
"""


def made(name: str) -> str:
    return ast.unparse(switched_off(SOURCE, "scadgen.room", f"scadgen.room:Joint.prove {name}"))


def test_what_decides_is_found_and_switched_off() -> None:
    sites = Sites("scadgen.room")
    sites.visit(ast.parse(SOURCE))
    assert [name.partition(" ")[2] for name in sites.names] == [PASSED, OPEN, f"{PASSED} (2)"]
    assert "Finding('gap', True, 'words', leaves_open='is unsure' * self.near)" in made(PASSED)
    assert "Finding('gap', self.gap > 1, 'words', leaves_open='')" in made(OPEN)
    assert "replace(found, passed=True)" in made(f"{PASSED} (2)")
    with pytest.raises(KeyError):
        made("something else")


def test_measures_that_nobody_has_switched_off_are_named() -> None:
    """New ones are told by ``python -m tests.mutants``; here that it would tell of these."""
    assert unswitched() <= unswitched(known=set())
    assert {"overlap", "meet", "hold", "escape", "layers", "bed"} <= unswitched(known=set())
    assert not unswitched() & {name.rpartition(":")[2] for name in MEASURES}


def test_the_table_is_of_mutants_and_tests() -> None:
    kept = {name: test for name, test in json.loads(KEPT.read_text()).items() if test}
    assert len(kept) > len(MEASURES)
    assert all(test.startswith("tests/") for test in kept.values())
