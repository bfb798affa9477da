"""One structure for every comparison with something outside: asserted, and shown on a page.

A group is a function that yields comparisons, in a file of ``tests/strength/comparisons``. The
tests assert each one; ``python -m tests.validation`` writes the same into a table.
"""

from __future__ import annotations

import functools
import importlib
import pkgutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from tests.strength.calls import Named, noted

LOOKED_UP = "looked up"
MEMORY = "from memory"
DERIVED = "derived, second method"
COMPUTED = "computed here by another library or method"


@dataclass(frozen=True)
class Source:
    """Where a figure comes from, and how that is known."""

    words: str
    mark: str


@dataclass(frozen=True)
class Within:
    """How far two figures may differ: as a share of theirs, or in their own unit."""

    amount: float
    share: bool = True

    @property
    def words(self) -> str:
        return f"{self.amount * 100:g} %" if self.share else f"{self.amount:g}"


@dataclass(frozen=True)
class Comparison:
    """A figure of ours beside one from outside. ``model`` says why they may differ, if they may."""

    formula: str
    case: str
    ours: float
    theirs: float
    within: Within
    source: Source
    model: str = ""

    @property
    def error(self) -> float:
        """Ours less theirs: a share of theirs, or in their unit."""
        apart = float(self.ours) - float(self.theirs)
        return apart / abs(float(self.theirs)) if self.within.share else apart

    @property
    def holds(self) -> bool:
        return abs(self.error) <= self.within.amount


Group = Callable[[], tuple[Comparison, ...]]
_groups: dict[str, tuple[str, Group]] = {}
_called: set[Named] = set()


def share(amount: float) -> Within:
    """Within a share of the figure from outside."""
    return Within(amount)


def off(amount: float) -> Within:
    """Within an amount in the figure's own unit."""
    return Within(amount, share=False)


def compares(subject: str) -> Callable[[Callable[[], Iterator[Comparison]]], Group]:
    """Register a group under its subject. It runs once, however often it is asked for."""

    def register(group: Callable[[], Iterator[Comparison]]) -> Group:

        @functools.cache
        def made() -> tuple[Comparison, ...]:
            with noted(_called):
                return tuple(group())

        name = f"{group.__module__.rpartition('.')[2]}.{group.__name__}"
        _groups[name] = (subject, made)
        return made

    return register


def called() -> set[Named]:
    """The strength functions that the groups called, of those that have run."""
    return _called


def all_groups() -> dict[str, tuple[str, Group]]:
    """Every group by name, with its subject: whatever files the folder holds."""
    folder = importlib.import_module("tests.strength.comparisons")
    for module in sorted(module.name for module in pkgutil.iter_modules(folder.__path__)):
        importlib.import_module(f"{folder.__name__}.{module}")
    return dict(sorted(_groups.items()))
