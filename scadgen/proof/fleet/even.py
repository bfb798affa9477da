"""A small fleet spread evenly over a population: as good as a random one many times as large.

Each quantity is drawn from so many equally likely slices of it, once from each; which slices go
together is a lattice by powers of one irrational number, the golden ratio of more dimensions (M.
Roberts, 2018, from memory). Nothing in it is random: whoever draws it draws the same printers.
"""

from __future__ import annotations

import functools
from statistics import NormalDist
from typing import TYPE_CHECKING, Any, cast

import numpy as np

from scadgen.proof.fleet.population import Population
from scadgen.proof.fleet.printer import Printer

if TYPE_CHECKING:
    from numpy.random import Generator

#: Quantities that are drawn at the most: more than a printer has.
QUANTITIES = 8


def even(population: Population, count: int) -> Printer:
    """So many printers (at least 1) of the population, as arrays; the same in every run."""
    return population.sample(count, cast("Generator", _Slices()))


@functools.cache
def _ratio() -> float:
    """The root above 1 of x ** (QUANTITIES + 1) = x + 1."""
    x = 2.0
    for _ in range(64):  # each comes nearer by far more than a bit
        x = (1 + x) ** (1 / (QUANTITIES + 1))
    return x


class _Slices:
    """Stands in for a random generator: gives each quantity that is drawn its slices."""

    def __init__(self) -> None:
        self._drawn = 0

    def random(self, count: int) -> Any:
        """The middles of the slices, 0 to 1."""
        self._drawn += 1
        places = np.arange(1, count + 1) * _ratio() ** -self._drawn % 1
        return (places.argsort().argsort() + 0.5) / count

    def standard_normal(self, count: int) -> Any:
        """The same of the normal distribution."""
        return np.array([*map(NormalDist().inv_cdf, self.random(count).tolist())])
