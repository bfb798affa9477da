"""Fleets of printers as data: the same printers that Python spreads over each population."""

from __future__ import annotations

import dataclasses
import functools
import json
from collections.abc import Iterator
from typing import Any

import numpy as np

from scadgen.proof.fleet.believed import FACTORS, scaled
from scadgen.proof.fleet.even import even
from scadgen.proof.fleet.population import POPULATIONS, Population
from scadgen.proof.fleet.printer import Printer
from scadgen.proof.fleet.traced import SYMBOLS

#: Printers of each population.
COUNT = 1000
#: Errors are written as whole numbers of steps, so many to a mm: far finer than any is known.
PER_MM = 10_000


@functools.cache
def fleet_script() -> bytes:
    """The fleets as a script for a page that lies on a disk."""
    told = {"perMm": PER_MM, "count": COUNT, "fleets": [*_fleets()]}
    data = json.dumps(told, separators=(",", ":"), ensure_ascii=False)
    return f"scadgenFleets({data});\n".encode()


def _fleets() -> Iterator[dict[str, Any]]:
    """Each population as it is assumed, then with all errors larger and smaller."""
    for factor in sorted(FACTORS, key=lambda factor: abs(factor - 1)):
        for population in POPULATIONS.values():
            told = {"name": population.name, "needed": population.needed, "factor": factor}
            yield told | {"errors": _errors(scaled(population, factor))}


def printers(population: Population) -> Printer:
    """The printers of a population that the data tell, as finely as they tell them."""
    spread = even(population, COUNT)
    return dataclasses.replace(
        spread, **{name: np.divide(steps, PER_MM) for name, steps in _steps(spread).items()}
    )


def _errors(population: Population) -> dict[str, Any]:
    """Of each error of a printer, by its symbol: one number for all printers, or one for each."""
    return {SYMBOLS[name]: n.tolist() for name, n in _steps(even(population, COUNT)).items()}


def _steps(spread: Printer) -> dict[str, Any]:
    names = [field.name for field in dataclasses.fields(spread)]
    return {n: np.rint(np.multiply(getattr(spread, n), PER_MM)).astype(int) for n in names}
