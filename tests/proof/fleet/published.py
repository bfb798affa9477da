"""What others published of their prints, beside what the fleets take of printers."""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from scadgen.proof.fleet.population import POPULATIONS, Population
from scadgen.proof.fleet.printer import Printer

PUBLISHED = Path(__file__).with_name("published.toml")
#: Printers that are drawn, and how they are.
COUNT, RANDOM = 200_000, 18
#: A print that fewer of the printers than this share come to, or beyond, is one the fleet misses.
RARE = 0.025
#: How a ladder's gap that is said so is to be divided: on each side, or of the diameters.
SIDES = {"each side": (1.0,), "diameter": (2.0,), "not told": (1.0, 2.0)}
_READ = {1.0: "read as on each side", 2.0: "read as of the diameters"}


@dataclass(frozen=True)
class Print:
    """A print beside a fleet. told: what came out, in words.

    above, below: share of the fleet's printers that come to as much or more, and as little or less.
    """

    name: str
    source: str
    told: str
    fleet: str
    above: float
    below: float

    @property
    def missed(self) -> bool:
        """Whether hardly a printer of the fleet is like it."""
        return min(self.above, self.below) < RARE


def told() -> dict[str, list[dict[str, Any]]]:
    """What is published, as it stands."""
    return tomllib.loads(PUBLISHED.read_text(encoding="utf-8"))


def prints(fleets: Iterable[Population] = tuple(POPULATIONS.values())) -> Iterator[Print]:
    """Every print beside each fleet."""
    published = told()
    for fleet in fleets:
        for one in published["ladder"]:
            for per in SIDES[one["gap"]]:
                yield _ladder(one, fleet, per)
        for one in published["size"]:
            yield _size(one, fleet)
        for one in published["hole"]:
            yield _hole(one, fleet)


@functools.cache
def _drawn(fleet: Population) -> Printer:
    return fleet.sample(COUNT, np.random.default_rng(RANDOM))


def _ladder(one: dict[str, Any], fleet: Population, per: float) -> Print:
    """A gap beside a bore is free if more is left of it than the slicer closes."""
    printer = _drawn(fleet)
    needed = printer.loss(bore=True) + printer.closes
    fused, free = one["fused"] / per, one["free"] / per
    read = f", {_READ[per]}" if one["gap"] == "not told" else ""
    words = f"{fused:g} mm on each side fused, {free:g} mm free{read}"
    above, below = (needed > fused).mean(), (needed <= free).mean()
    return Print(one["name"], one["source"], words, fleet.name, float(above), float(below))


def _size(one: dict[str, Any], fleet: Population) -> Print:
    grown = float((np.array(one["printed"]) - one["drawn"]).mean() / 2)
    words = f"each side {grown:+.3f} mm on average, of {np.size(one['printed'])} sizes"
    return _beside(one, fleet, words, _drawn(fleet).growth, grown)


def _hole(one: dict[str, Any], fleet: Population) -> Print:
    """A hole is as wide as the middle of the gauges that pass and stop."""
    wide = (np.array(one["passes"]) + one["stops"]) / 2
    lost = float((one["drawn"] - wide).mean() / 2)
    words = f"radius {-lost:+.3f} mm on average, of {len(wide)} holes"
    printer = _drawn(fleet)
    return _beside(one, fleet, words, printer.growth + printer.hole_shrinkage, lost)


def _beside(one: dict[str, Any], fleet: Population, words: str, has: Any, theirs: float) -> Print:
    above, below = (has >= theirs).mean(), (has <= theirs).mean()
    return Print(one["name"], one["source"], words, fleet.name, float(above), float(below))
