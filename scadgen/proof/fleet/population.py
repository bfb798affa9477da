"""What is taken of a fleet of printers: settings that were counted, and errors that are assumed.

Settings (layer heights, what closes gaps, what is taken back from a first layer) are what published
profiles say (``counted``); walls and infill are assumed, below what they say. Errors are what a
machine does beside what it is told. No published mean or standard deviation was found that could be
read: every error here is assumed, and says so; how far that may be off is part of a share's
interval (``believed``). The two are told apart: nothing that slicers take back is in an error, and
no error in a setting. That the spread is real, and differs from machine to machine, is what these
studies are about (known by their abstracts only): S. L. Messimer et al., J. Manuf. Mater. Process.
3(1) (2019) 6: 6930 measurements on 11 materials in 3 orientations; C. Schmidt et al., J. Manuf.
Mater. Process. 7(4) (2023) 152: 14 printers, accuracy unrelated to price; L. Spitaels et al., J.
Manuf. Mater. Process. 8(1) (2024) 36: better in the plane than along z; A. J. Lopes et al., Addit.
Manuf. 35 (2020) 101291: 45 desktop printers; D. Popescu et al., Appl. Sci. 13(1) (2023) 41: holes.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from scadgen.printing.layers import TOUCH
from scadgen.proof.fleet import counted
from scadgen.tables.limits import Limits

if TYPE_CHECKING:
    import numpy

    from scadgen.proof.fleet.printer import Printer
    from scadgen.strength.filling import Filling
    from scadgen.strength.materials import Plastic


#: A share of printers below this is rounding.
GRAIN = 1e-9
#: How many of a fleet must make it, percent: what fewer than half manage is not called proven.
NEEDED = Limits("%", 50, 100, 90)


def uneven(weights: Sequence[float], of: Sequence[float], what: str) -> str | None:
    """Why these weights are none for so many values, if they are none."""
    if len(weights) != len(of):
        given = f"{len(weights)} numbers"
        return f"weights: {given}; it must have one for each of the {len(of)} {what}."
    if not all(0 <= weight < math.inf for weight in weights):
        return "weights: each must be 0 or more."
    return None if sum(weights) > 0 else "weights: all are 0; one of them must be above 0."


def _refuse_uneven(weights: Sequence[float], of: Sequence[float], what: str) -> None:
    words = uneven(weights, of, what)
    if words:
        raise ValueError(words)


@dataclass(frozen=True)
class Spread:
    """A quantity that differs from printer to printer: normal, values beyond an end moved to it.

    mean, std, low, high: mm. source: where the numbers are from, or that they are assumed.

    Raises ValueError for a std below 0, and a mean that is not between the ends.
    """

    mean: float
    std: float
    low: float
    high: float
    source: str

    def __post_init__(self) -> None:
        if not 0 <= self.std < math.inf:
            raise ValueError(f"spread: std = {self.std:g} mm; it must be 0 or more.")
        if not -math.inf < self.low <= self.mean <= self.high < math.inf:
            ends = f"{self.low:g} and {self.high:g} mm"
            raise ValueError(f"spread: mean = {self.mean:g} mm; it must be between {ends}.")


@dataclass(frozen=True)
class LayerHeights:
    """Layer heights that printers use (mm), and how often each (any unit)."""

    heights: tuple[float, ...]
    weights: tuple[float, ...]
    source: str

    def __post_init__(self) -> None:
        _refuse_uneven(self.weights, self.heights, "heights")


@dataclass(frozen=True)
class Shares:
    """Settings that printers use, and how often each (any unit)."""

    values: tuple[float, ...]
    weights: tuple[float, ...]
    source: str

    def __post_init__(self) -> None:
        _refuse_uneven(self.weights, self.values, "values")

    def reached(self, share: float) -> float:
        """The greatest value that such a share (0 to 1) of the printers reaches or exceeds."""
        whole = sum(self.weights)
        both = zip(self.values, self.weights, strict=True)
        for value, weight in sorted(both, reverse=True):
            share -= weight / whole
            if share <= GRAIN:
                return value
        return min(self.values)

    def kept(self, share: float) -> float:
        """The least value that such a share (0 to 1) of the printers does not exceed."""
        whole = sum(self.weights)
        for value, weight in sorted(zip(self.values, self.weights, strict=True)):
            share -= weight / whole
            if share <= GRAIN:
                return value
        return max(self.values)

    def drawn(self, shares: Any) -> Any:
        """Of each share (0 to 1) the value, as an array: as many of each as its weight says."""
        import numpy as np

        weights = np.array(self.weights)
        upper = np.cumsum(weights / weights.sum())[:-1]
        return np.array(self.values)[np.searchsorted(upper, shares, side="right")]


def _counted(table: str, of: str) -> Shares:
    return Shares(counted.values(table), counted.shares(table), counted.source(of))


#: Makers change these most: what vendors set is counted too, and 96 of 100 of their presets have 2
#: walls and 15 % or more, but it is the low end that strength is reckoned with.
_USUAL = "assumed: makers lower what profiles give, which is counted: 2 or 3 walls, 15 to 20 %"
WALLS = Shares((2, 3, 4), (50, 35, 15), _USUAL)
INFILL = Shares((10, 15, 20, 40, 100), (15, 35, 35, 10, 5), _USUAL)
CLOSING = _counted("closing", "gap closing radius")
#: What slicers take back from the outline of a first layer, mm on each side.
COMPENSATION = _counted("compensation", "first-layer compensation")
NO_COMPENSATION = Shares((0.0,), (1,), "assumed: what the slicer takes back is in the error")


@dataclass(frozen=True)
class Population:
    """A fleet of printers. The quantities are those of a printer, independent of each other.

    name: as findings call it. needed: share of the fleet that must make a working hinge, percent.
    walls: lines around each outline; infill: percent. closing: radius by which slicers close gaps,
    mm: those up to twice as wide. compensation: what they take back from each side of a first
    layer, mm; a first layer that spreads by less counts as drawn.

    Raises ValueError for a ``needed`` outside its range (``NEEDED``).
    """

    name: str
    growth: Spread
    hole_shrinkage: Spread
    first_layer_spread: Spread
    layer: LayerHeights
    sag: Spread
    needed: float = 90.0
    walls: Shares = WALLS
    infill: Shares = INFILL
    closing: Shares = CLOSING
    compensation: Shares = NO_COMPENSATION

    def __post_init__(self) -> None:
        if not NEEDED.accepts(self.needed):
            raise ValueError(f"population {self.name}: {NEEDED.refusal('needed', self.needed)}")

    @property
    def touch(self) -> float:
        """Widest gap, mm, that slicers close on the printers that are needed."""
        return max(TOUCH, 2 * self.closing.kept(self.needed / 100))

    def filling(self, line: float) -> Filling:
        """How solid the weakest of the printers print that are needed, with lines so wide (mm).

        So many reach both values: all of them the fewest walls, and so many that infill.
        """
        from scadgen.strength.filling import Filling

        fewest = int(min(self.walls.values))
        return Filling(fewest, self.infill.reached(self.needed / 100) / 100, line)

    def printed(self, plastic: Plastic, line: float) -> Plastic:
        """The plastic as solid as it says, or else as the weakest of these printers print it."""
        if plastic.filling is not None:
            return plastic
        return replace(plastic, filling=self.filling(line))

    @property
    def spreads(self) -> dict[str, Spread]:
        """The quantities that are spread, by name."""
        return {name: getattr(self, name) for name in SPREADS}

    def sample(self, count: int, rng: numpy.random.Generator) -> Printer:
        """So many printers drawn at random, as arrays."""
        from scadgen.proof.fleet.printer import Printer

        drawn = self.errors(count, rng)
        layer = self._layers(rng.random(count))
        closes = self._closes(count, rng)
        if len(self.compensation.values) > 1:
            taken = self.compensation.drawn(rng.random(count))
            drawn["first_layer_spread"] = (drawn["first_layer_spread"] - taken).clip(0)
        return Printer(**drawn, layer=layer, closes=closes)

    def errors(self, count: int, rng: numpy.random.Generator) -> dict[str, Any]:
        """The errors of so many printers drawn at random, by name, nothing taken back."""
        drawn: dict[str, Any] = {}
        for name, spread in self.spreads.items():
            values = rng.standard_normal(count)
            values *= spread.std
            values += spread.mean
            drawn[name] = values.clip(spread.low, spread.high, out=values)
        return drawn

    def corners(self) -> Printer:
        """The printers at the ends: each height with every quantity at its low or high end."""
        import numpy as np

        from scadgen.proof.fleet.printer import Printer

        ends = [(spread.low, spread.high) for spread in self.spreads.values()]
        grid = np.meshgrid(*ends, self.layer.heights, indexing="ij")
        *columns, heights = (axis.ravel() for axis in grid)
        closes = max(TOUCH, 2 * max(self.closing.values))
        return Printer(**dict(zip(SPREADS, columns, strict=True)), layer=heights, closes=closes)

    def _closes(self, count: int, rng: numpy.random.Generator) -> Any:
        """Widest gap that each slicer closes, mm; one number where all close the same."""
        import numpy as np

        if len(self.closing.values) == 1:
            return max(TOUCH, 2 * self.closing.values[0])
        return np.maximum(TOUCH, 2 * self.closing.drawn(rng.random(count)))

    def _layers(self, shares: Any) -> Any:
        layer = self.layer
        return Shares(layer.heights, layer.weights, layer.source).drawn(shares)


SPREADS = ("growth", "hole_shrinkage", "first_layer_spread", "sag")

#: Highest layer, mm, that is taken of printers with a nozzle of 0.4 mm: presets with higher ones
#: are for wider lines, and count as so high.
HIGHEST = 0.3


def _layer_heights() -> LayerHeights:
    every = zip(counted.values("layer"), counted.shares("layer"), strict=True)
    weights: dict[float, float] = {}
    for height, share in every:
        height = min(height, HIGHEST)
        weights[height] = round(weights.get(height, 0) + share, 1)
    what = f"layer heights, those above {HIGHEST:g} mm as so high"
    return LayerHeights(tuple(weights), tuple(weights.values()), counted.source(what))


_LAYERS = _layer_heights()

ROUGH = Population(
    name="rough",
    growth=Spread(
        0.035,
        0.025,
        -0.05,
        0.12,
        "assumed: with the hole shrinkage, a bore's gap loses 0.10 mm, give or take 0.06 mm",
    ),
    hole_shrinkage=Spread(
        0.03,
        0.03,
        -0.03,
        0.12,
        "assumed; common practice, no source: holes come out 0.1 to 0.3 mm small in diameter",
    ),
    first_layer_spread=Spread(
        0.15,
        0.05,
        0.0,
        0.3,
        "assumed: as much as vendors take back who take back anything, 0.1 to 0.3 mm per side",
    ),
    layer=_LAYERS,
    sag=Spread(0.6, 0.3, 0.1, 2.0, "assumed"),
    needed=90.0,
    compensation=COMPENSATION,
)

CAREFUL = Population(
    name="careful",
    growth=Spread(0.015, 0.015, -0.03, 0.06, "assumed: half of the rough fleet's, and less spread"),
    hole_shrinkage=Spread(0.015, 0.015, -0.02, 0.06, "assumed: half of the rough fleet's"),
    first_layer_spread=Spread(
        0.03, 0.03, 0.0, 0.12, "assumed: compensated in the slicer, not always fully"
    ),
    layer=_LAYERS,
    sag=Spread(0.3, 0.15, 0.05, 1.0, "assumed: half of the rough fleet's"),
    needed=95.0,
)

POPULATIONS = {population.name: population for population in (ROUGH, CAREFUL)}
