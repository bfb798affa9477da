"""Which functions of the room of strength are called, and which of them anything leads to."""

from __future__ import annotations

import ast
import contextlib
import sys
from collections.abc import Iterator, Mapping
from cProfile import Profile
from types import CodeType

ROOM = "scadgen.strength."
#: Module and name of a function, class or constant.
Named = tuple[str, str]


@contextlib.contextmanager
def noted(found: set[Named]) -> Iterator[None]:
    """Note each function of the room that is called meanwhile."""
    seen = Profile(subcalls=False, builtins=False)
    before = sys.getprofile()
    seen.enable()
    try:
        yield
    finally:
        seen.disable()
        sys.setprofile(before)
    room = {vars(m).get("__file__"): n for n, m in sys.modules.items() if n.startswith(ROOM)}
    ran = [entry.code for entry in seen.getstats() if isinstance(entry.code, CodeType)]
    found |= {(room[code.co_filename], code.co_name) for code in ran if code.co_filename in room}


def reached(sources: Mapping[str, str]) -> set[Named]:
    """What of the room the code outside leads to, by names: ``sources`` by module."""
    leads: dict[Named, set[Named]] = {}
    waiting: set[Named] = set()
    for module, source in sources.items():
        tree = ast.parse(source)
        known = _imported(tree, sources)
        if not module.startswith(ROOM):
            waiting |= _told(tree, known)
            continue
        own = {name: node for node in tree.body for name in _names(node)}
        known |= {name: (module, name) for name in own}
        leads |= {(module, name): _told(node, known) for name, node in own.items()}
    found: set[Named] = set()
    while waiting:
        found |= waiting
        waiting = {to for name in waiting for to in leads.get(name, ())} - found
    return found


def public(source: str) -> set[str]:
    """The public functions that a module defines."""
    body = ast.parse(source).body
    names = {node.name for node in body if isinstance(node, ast.FunctionDef)}
    return {name for name in names if not name.startswith("_")}


def _names(node: ast.stmt) -> list[str]:
    """What a statement of a module defines."""
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        return [node.name]
    if not isinstance(node, ast.Assign | ast.AnnAssign):
        return []
    targets = node.targets if isinstance(node, ast.Assign) else [node.target]
    return [one.id for one in targets if isinstance(one, ast.Name)]


def _imported(tree: ast.Module, modules: Mapping[str, str]) -> dict[str, str | Named]:
    """What is imported, wherever: by its name there a module, or a module and a name in it."""
    found: dict[str, str | Named] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module:
            for one in node.names:
                whole = f"{node.module}.{one.name}"
                found[one.asname or one.name] = (
                    whole if whole in modules else (node.module, one.name)
                )
        elif isinstance(node, ast.Import):
            found |= {one.asname: one.name for one in node.names if one.asname}
    return found


def _told(node: ast.AST, known: Mapping[str, str | Named]) -> set[Named]:
    """What a piece of code speaks of; a function's own variables hide what has their names."""
    hidden = set()
    if isinstance(node, ast.FunctionDef):
        hidden = {one.arg for one in ast.walk(node) if isinstance(one, ast.arg)}
        names = (one for one in ast.walk(node) if isinstance(one, ast.Name))
        hidden |= {one.id for one in names if isinstance(one.ctx, ast.Store)}
    found = set()
    for one in ast.walk(node):
        if isinstance(one, ast.Name) and one.id not in hidden:
            told = known.get(one.id)
            if isinstance(told, tuple):
                found.add(told)
        elif isinstance(one, ast.Attribute) and isinstance(one.value, ast.Name):
            module = known.get(one.value.id)
            if isinstance(module, str):
                found.add((module, one.attr))
    return found
