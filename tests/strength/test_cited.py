"""Every formula says where it comes from: a publication, a derivation, or no source at all."""

from __future__ import annotations

import functools
import importlib
import inspect
import re
from collections.abc import Callable, Iterator
from types import FunctionType, ModuleType, SimpleNamespace
from typing import Any

import pytest

from scadgen.hinge.family import Hinge, all_families, bounds
from scadgen.strength import leaf
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material
from tests.strength.calls import Named, noted
from tests.support import mended, some_hinges

PETG = material("petg")
#: How a docstring says where a formula comes from.
MARK = re.compile(r"\bsources?\b|\bderived\b|common practice, no source", re.IGNORECASE)


def cited(function: Callable[..., Any], module: ModuleType | SimpleNamespace) -> bool:
    """Whether the function's own words, or its module's, say where it comes from."""
    words = (inspect.getdoc(function), module.__doc__)
    return any(MARK.search(said or "") for said in words)


def public(module: ModuleType) -> Iterator[FunctionType]:
    """The public functions that a module defines."""
    for name, found in vars(module).items():
        own = inspect.isfunction(found) and found.__module__ == module.__name__
        if own and not name.startswith("_"):
            yield found


@functools.cache
def hinges() -> list[Hinge]:
    """Hinges of every family, some with screws."""
    found = [hinge for cls in all_families().values() for hinge in some_hinges(cls, 1)]
    screwed = (cls for cls in all_families().values() if "screw" in bounds(cls))
    return found + [mended(cls, {"screw": 1, "leaf_length": 20}) for cls in screwed]


def used() -> set[Named]:
    """Module and name of each function of the room that any family's strengths call."""
    found: set[Named] = set()
    duty = Duty(load=10, lever=100, offset=60, pull=5, pull_lever=30, cycles=20_000)
    every = hinges()
    with noted(found):
        for hinge in every:
            list(hinge.strengths(duty, PETG))
    return found


@functools.cache
def named() -> set[str]:
    """The modules that the strengths of any family name as their sources."""
    return {s.source for h in hinges() for s in h.strengths(Duty(), PETG)}


def test_every_formula_that_a_strength_names_or_uses_says_where_it_comes_from() -> None:
    calls = used()
    modules = {name: importlib.import_module(name) for name in named() | {m for m, _ in calls}}
    assert named() <= {module for module, _ in calls}
    looked_at = []
    for name, module in modules.items():
        for function in public(module):
            if name in named() or (name, function.__name__) in calls:
                looked_at.append(function)
                assert cited(function, module), f"{name}.{function.__name__} has no source"
    assert leaf.root_stress in looked_at
    assert len(looked_at) > 40


@pytest.mark.parametrize("words", ["", None, "Stress: F/A.", "Resourceful: outsourced to a table."])
def test_a_formula_without_a_source_is_seen(words: str | None) -> None:
    def formula() -> float:
        return 1.0

    formula.__doc__ = words
    assert not cited(formula, SimpleNamespace(__doc__="Plates. mm, N, MPa."))
    assert cited(formula, SimpleNamespace(__doc__="Plates. Source: beam theory."))
    formula.__doc__ = "Stress: F/A (common practice, no source)."
    assert cited(formula, SimpleNamespace(__doc__=None))
