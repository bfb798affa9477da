"""Places in the code that decide: each is found by its form, and can be made to let all pass.

A finding decides by what it is told of ``passed`` and ``leaves_open``; the checker of certificates
and the reader of proofs that files carry decide by what they raise. Nothing of scadgen is imported
here: a mutant is made while it is imported.
"""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
#: What the checker of certificates and the reader of carried proofs refuse by.
REFUSALS = ("RefusedError", "NotBelievedError")
PASSED, OPEN, REFUSES = "passed", "leaves_open", "refuses"

Function = ast.FunctionDef | ast.AsyncFunctionDef


def all_sites() -> dict[str, str]:
    """The module of each site by the site's name."""
    found: dict[str, str] = {}
    for path in sorted((ROOT / "scadgen").rglob("*.py")):
        source = path.read_text(encoding="utf-8")
        if not any(f"{name}(" in source for name in ("Finding", *REFUSALS)):
            continue
        module = ".".join(path.relative_to(ROOT).with_suffix("").parts)
        sites = Sites(module)
        sites.visit(ast.parse(source))
        found |= dict.fromkeys(sites.names, module)
    return found


def switched_off(source: str, module: str, name: str) -> ast.Module:
    """The module with the site of that name made to let all pass. Raises KeyError for none such."""
    sites = Sites(module, name)
    tree = ast.parse(source)
    sites.visit(tree)
    if name not in sites.names:
        raise KeyError(name)
    return ast.fix_missing_locations(tree)


class Sites(ast.NodeTransformer):
    """Collects the names of a module's sites, and switches off the one that is asked for."""

    def __init__(self, module: str, off: str = "") -> None:
        self.module, self.off = module, off
        self.names: list[str] = []
        self._within: list[str] = []
        self._count: Counter[str] = Counter()

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.AST:
        return self._inside(node)

    def visit_ClassDef(self, node: ast.ClassDef) -> ast.AST:
        return self._inside(node)

    def visit_Call(self, node: ast.Call) -> ast.AST:
        self.generic_visit(node)
        for kind, value in decisions(node):
            harmless = ast.Constant("" if kind == OPEN else True)
            if self._is_off(kind):
                put(node, kind, value, harmless)
        return node

    def visit_Raise(self, node: ast.Raise) -> ast.AST:
        self.generic_visit(node)
        if getattr(getattr(node.exc, "func", None), "id", "") not in REFUSALS:
            return node
        return ast.Pass() if self._is_off(REFUSES) else node

    def _inside(self, node: ast.FunctionDef | ast.ClassDef) -> ast.AST:
        self._within.append(node.name)
        self.generic_visit(node)
        self._within.pop()
        return node

    def _is_off(self, kind: str) -> bool:
        place = f"{self.module}:{'.'.join(self._within)}"
        self._count[place + kind] += 1
        number = self._count[place + kind]
        name = f"{place} {kind}" + (f" ({number})" if number > 1 else "")
        self.names.append(name)
        return name == self.off


def decisions(call: ast.Call) -> Iterator[tuple[str, ast.expr]]:
    """What a call tells a finding that may keep it from passing, or a verdict from being proven."""
    name = getattr(call.func, "id", "")
    if name not in ("Finding", "replace"):
        return
    told = {word.arg: word.value for word in call.keywords}
    if name == "Finding" and len(call.args) > 1:
        told[PASSED] = call.args[1]
    for kind in (PASSED, OPEN):
        value = told.get(kind)
        if value is not None and not (
            isinstance(value, ast.Constant) and value.value in (True, "")
        ):
            yield kind, value


def put(call: ast.Call, kind: str, old: ast.expr, new: ast.expr) -> None:
    """Put another value in the place of one that a call tells."""
    call.args = [new if value is old else value for value in call.args]
    for word in call.keywords:
        if word.arg == kind:
            word.value = new
