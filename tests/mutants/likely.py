"""Which tests are likely to fail with a mutant: those that speak of what it is of.

A test speaks of a finding that it names as text, and of a measure that it calls by name.
"""

from __future__ import annotations

import ast
import functools
import re
from collections import Counter
from collections.abc import Iterator

from tests.mutants.sites import ROOT

#: Most tests that are tried so; what a test of the same room is worth, in mentions of its own.
MOST, NEAR = 10, 0.2
#: Folders whose tests start programs of their own, or take long.
LEFT_OUT = ("browser", "openscad", "packaging", "benchmarks", "fuzz", "gallery", "mutants")
_WORD = re.compile(r"[a-z][a-z -]+[a-z]")


def likely(mutant: str) -> list[str]:
    """Tests, those first that speak of what few others do."""
    words, tests = set(_words(mutant)), _tests()
    often = Counter(word for said in tests.values() for word in words & said)
    room = f"tests/{mutant.split('.')[1]}/"
    worth = {
        test: sum(1 / often[word] for word in words & said) + NEAR * test.startswith(room)
        for test, said in tests.items()
        if words & said
    }
    return sorted(worth, key=lambda test: -worth[test])[:MOST]


def named_after(mutant: str) -> list[str]:
    """The files of tests that have the name of the mutant's module: its own room's, or others'."""
    _, *room, module = mutant.partition(":")[0].split(".")
    name, own = f"test_{module}.py", ROOT.joinpath("tests", *room)
    found = [own / name] if (own / name).exists() else sorted((ROOT / "tests").rglob(name))
    return [path.relative_to(ROOT).as_posix() for path in found]


def _words(mutant: str) -> Iterator[str]:
    """The names of what a mutant is of: its function, and the texts that stand in that."""
    module, _, rest = mutant.partition(":")
    name = rest.split(" ")[0].split(".")[-1]
    yield name.strip("_")
    path = ROOT / f"{module.replace('.', '/')}.py"
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.FunctionDef) and node.name == name:
            yield from _said(node)


def _said(node: ast.AST) -> Iterator[str]:
    """The short texts in a piece of code, without what is put into them."""
    for part in ast.walk(node):
        if isinstance(part, ast.Constant) and isinstance(part.value, str) and len(part.value) < 60:
            yield from _WORD.findall(part.value)


@functools.cache
def _tests() -> dict[str, set[str]]:
    """The words of each test: texts and names."""
    found: dict[str, set[str]] = {}
    for path in sorted((ROOT / "tests").rglob("test_*.py")):
        place = path.relative_to(ROOT)
        if place.parts[1] in LEFT_OUT:
            continue
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.FunctionDef) and node.name.startswith("test_"):
                names = {part.id for part in ast.walk(node) if isinstance(part, ast.Name)}
                attributes = {p.attr for p in ast.walk(node) if isinstance(p, ast.Attribute)}
                told = names | attributes | set(_said(node)) | set(node.name.split("_"))
                found[f"{place.as_posix()}::{node.name}"] = told
    return found
