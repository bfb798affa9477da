"""Switches one site or measure off: a module is changed while it is imported.

So whoever imports from it has the mutant.
"""

from __future__ import annotations

import importlib.machinery
import importlib.util
from collections.abc import Callable, Sequence
from types import CodeType, ModuleType
from typing import Any

from tests.mutants.measures import MEASURES, RAISE
from tests.mutants.sites import all_sites, switched_off


def module_of(name: str) -> str:
    """The module in which a mutant is. Raises KeyError for a mutant that is none."""
    return name.partition(":")[0] if name in MEASURES else all_sites()[name]


class Loader(importlib.machinery.SourceFileLoader):
    """Loads a module with a mutant in it; nothing of it is kept compiled."""

    def __init__(self, module: str, path: str, mutant: str) -> None:
        super().__init__(module, path)
        self.mutant = mutant

    def get_code(self, fullname: str) -> CodeType | None:
        if self.mutant in MEASURES:
            return super().get_code(fullname)
        source = self.get_source(fullname)
        assert source is not None
        tree = switched_off(source, fullname, self.mutant)
        return compile(tree, self.get_filename(fullname), "exec")

    def exec_module(self, module: ModuleType) -> None:
        super().exec_module(module)
        if self.mutant in MEASURES:
            switch(module, self.mutant)


class Finder:
    """Finds the one module that has the mutant in it."""

    def __init__(self, mutant: str) -> None:
        self.mutant, self.module = mutant, module_of(mutant)

    def find_spec(
        self, name: str, path: Sequence[str] | None = None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if name != self.module:
            return None
        found = importlib.machinery.PathFinder.find_spec(name, path, target)
        assert found is not None
        assert found.origin is not None
        loader = Loader(name, found.origin, self.mutant)
        return importlib.util.spec_from_file_location(name, found.origin, loader=loader)


def switch(module: ModuleType, mutant: str) -> None:
    """Put the harmless measure in the place of the one of that name."""
    owner: Any = module
    *above, last = mutant.partition(":")[2].split(".")
    for name in above:
        owner = getattr(owner, name)
    measure, harmless = getattr(owner, last), MEASURES[mutant]
    if isinstance(measure, property):
        setattr(owner, last, property(harmless))
    elif mutant in RAISE:
        setattr(owner, last, lambda *_, **__: None)
    else:
        setattr(owner, last, after(measure, harmless))


def after(measure: Callable[..., Any], harmless: Callable[[Any], Any]) -> Callable[..., Any]:
    """The measure, what it gives made harmless."""

    def mutant(*given: Any, **named: Any) -> Any:
        return harmless(measure(*given, **named))

    return mutant
