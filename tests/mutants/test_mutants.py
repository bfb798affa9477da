"""Mutants are made where they are said to be, and the table is of those there are."""

from __future__ import annotations

import ast
import json

import pytest

from tests.mutants.__main__ import KEPT
from tests.mutants.measures import MEASURES, TELLS
from tests.mutants.sites import OPEN, PASSED, ROOT, Sites, all_sites, switched_off

SOURCE = """
class Joint:
    def prove(self):
        yield Finding("gap", self.gap > 1, "words", leaves_open="is unsure" * self.near)
        yield Finding("tells", True, "words")
        return replace(found, passed=False)
"""
#: Rooms from which findings take their measures.
MEASURING = ("scadgen.motion", "scadgen.printing", "scadgen.caging")
#: Measures by which others, which are switched off, are made: poses, lengths, names, cut bodies.
OTHERS = {
    *("closest", "looseness", "in_words", "meeting", "closing", "play", "cuts", "rooted"),
    *("thickest_layer", "Certificate"),
}


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


def test_every_measure_that_findings_take_is_switched_off_or_only_tells() -> None:
    known = {name.rpartition(":")[2] for name in MEASURES} | OTHERS
    paths = [
        *(ROOT / "scadgen" / "findings").glob("*.py"),
        *(ROOT / "scadgen" / "proof").glob("*.py"),
    ]
    for node in (node for path in paths for node in ast.walk(ast.parse(path.read_text()))):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(MEASURING):
            taken = {alias.name for alias in node.names if alias.name[0].islower()}
            assert node.module in TELLS or taken <= known, (node.module, taken - known)


def test_most_mutants_are_known_to_fail_a_test_that_is_there() -> None:
    """One that is new has none until somebody lets the mutants run again."""
    kept = {name: test for name, test in json.loads(KEPT.read_text()).items() if test}
    assert len(kept.keys() & {*MEASURES, *all_sites()}) > 0.6 * (len(MEASURES) + len(all_sites()))
