"""The rooms of the house: each imports only from those above it in the guide's map."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.support import ROOT

PACKAGE = ROOT / "scadgen"


def rooms() -> list[str]:
    """The rooms in the order of the map."""
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    house = guide.partition("```text\nscadgen/\n")[2].partition("\nlibrary/")[0]
    return re.findall(r"^  (\w+)/", house, re.MULTILINE)


def imported(source: str) -> Iterator[str]:
    """The modules below scadgen that a file imports when it runs, wherever in it."""
    waiting: list[ast.AST] = [ast.parse(source)]
    while waiting:
        node = waiting.pop()
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            continue
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports tell the whole path"
            yield f"{node.module}."
        elif isinstance(node, ast.Import):
            yield from (f"{alias.name}." for alias in node.names)
        waiting += ast.iter_child_nodes(node)


def test_an_import_is_seen_wherever_it_stands() -> None:
    source = (
        "def f():\n    from scadgen.a.b import c\nif TYPE_CHECKING:\n    from scadgen.d import e"
    )
    assert list(imported(source)) == ["scadgen.a.b."]


@pytest.mark.parametrize("room", sorted(p.parent.name for p in PACKAGE.glob("*/__init__.py")))
def test_a_room_imports_only_from_rooms_above_it(room: str) -> None:
    order = rooms()
    above = order[: order.index(room)]
    for path in sorted((PACKAGE / room).rglob("*.py")):
        for module in imported(path.read_text(encoding="utf-8")):
            if module.startswith("scadgen."):
                name = module.split(".")[1]
                where = f"{_short(path)} imports {module[:-1]}"
                assert name in (room, *above, "version", ""), where


def _short(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()
