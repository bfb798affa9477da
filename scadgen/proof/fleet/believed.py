"""How far a fleet's share may be off, as what is taken of the printers is not certain.

Settings: whose profiles were counted is a sample of vendors; their weights are drawn anew (see
``counted``). Errors: all assumed ones together are larger or smaller by a factor that is drawn
evenly from 0.75 to 1.25 (assumed: nobody has measured them on such a fleet). The interval holds 95
of 100 draws. It does not reach beyond that: an error of another kind is in no draw.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.hinge.family import definition, numbers
from scadgen.proof.fleet import counted
from scadgen.proof.fleet.population import HIGHEST, POPULATIONS, SPREADS, Population
from scadgen.proof.fleet.printer import Printer
from scadgen.proof.fleet.shares import Share, works

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge

    Array = np.ndarray[Any, Any]

#: The least and the most by which assumed errors may be larger, as a factor (assumed).
FACTORS = (0.75, 1.0, 1.25)
#: Draws of what is not certain. Ends of the interval, percent.
DRAWS, ENDS = 2000, (2.5, 97.5)


def believed(
    hinge: Hinge, population: Population, count: int = 500, seed: int = 0
) -> tuple[Share, Share, Share] | None:
    """The shares that move freely, hold, and do both, each with the ends of what is believed.

    count: printers for each layer height and compensation. None for a fleet of somebody's own,
    whose counts are not known here.
    """
    known = POPULATIONS.get(population.name)
    if known is None or replace(population, closing=known.closing) != known:
        return None
    rng = np.random.default_rng(seed)
    weights = rng.dirichlet(np.ones(len(counted.vendors("layer"))), DRAWS)
    settings = _settings(population, weights), _settings(population, None)
    at = rng.uniform(FACTORS[0], FACTORS[-1], DRAWS)
    tables = [_table(hinge, scaled(population, factor), count, rng) for factor in FACTORS]
    found = []
    for kind in range(3):
        every = [np.einsum("dlc,lc->d", settings[0], table[kind]) for table in tables]
        drawn = [np.interp(f, FACTORS, row) for f, row in zip(at, np.array(every).T, strict=True)]
        usual = float(np.einsum("dlc,lc->d", settings[1], tables[1][kind])[0])
        low, high = np.percentile(drawn, ENDS)
        found.append(Share(usual, float(low), float(high)))
    return found[0], found[1], found[2]


def _settings(population: Population, weights: Array | None) -> Array:
    """The share of each layer height with each compensation: (draws, heights, compensations)."""
    if weights is None:
        vendors = len(counted.vendors("layer"))
        weights = np.full((1, vendors), 1 / vendors)
    every = counted.drawn("layer", weights)
    heights = np.minimum(counted.values("layer"), HIGHEST)
    layers = np.stack([every[:, heights == h].sum(axis=1) for h in population.layer.heights], 1)
    taken = np.ones((len(weights), 1))
    if len(population.compensation.values) > 1:
        taken = counted.drawn("compensation", weights)
    joint: Array = layers[:, :, None] * taken[:, None, :]
    return joint


def scaled(population: Population, factor: float) -> Population:
    """The fleet with all assumed errors so much larger."""
    spreads: dict[str, Any] = {
        name: replace(
            spread,
            mean=spread.mean * factor,
            std=spread.std * factor,
            low=spread.low * factor,
            high=spread.high * factor,
        )
        for name, spread in population.spreads.items()
        if name in SPREADS
    }
    return replace(population, **spreads)


def _table(
    hinge: Hinge, population: Population, count: int, rng: np.random.Generator
) -> tuple[Array, Array, Array]:
    """Of each layer height with each compensation the shares that are free, hold, and do both."""
    family, values = definition(type(hinge)), numbers(hinge)
    heights, taken = population.layer.heights, population.compensation.values
    shape = len(heights), len(taken), count
    errors = {
        name: drawn.reshape(shape)
        for name, drawn in population.errors(int(np.prod(shape)), rng).items()
    }
    back = np.array(taken)[None, :, None]
    errors["first_layer_spread"] = (errors["first_layer_spread"] - back).clip(0)
    layer = np.broadcast_to(np.array(heights)[:, None, None], shape)
    printers = Printer(**errors, layer=layer, closes=population.touch)
    free, hold = works(family, values, printers)
    return free.mean(axis=2), hold.mean(axis=2), (free & hold).mean(axis=2)
