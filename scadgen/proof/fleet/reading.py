"""Populations out of TOML files.

``name = "..."`` and, if wanted, ``needed`` (percent) stand at the top. A table for each quantity
gives mean, std, low, high (mm) and source; ``[layer]`` gives heights, weights and source; so do
``[walls]``, ``[infill]`` (%), ``[closing]`` (radius by which slicers close gaps, mm) and
``[compensation]`` (what they take back from each side of a first layer, mm), by values.
A table that is missing is that of the careful fleet.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import fields, replace
from pathlib import Path
from typing import Any

from scadgen.proof.fleet.population import (
    CAREFUL,
    NEEDED,
    SPREADS,
    LayerHeights,
    Population,
    Shares,
    Spread,
    uneven,
)
from scadgen.proof.heights import LAYER
from scadgen.tables.documents import JobError
from scadgen.tables.kinds import AnyNumber, Kind, ListOf, Number, Text
from scadgen.tables.limits import Limits
from scadgen.tables.reading import Key, load, read

#: Largest error of a printer that is believed, mm: beyond it a file is likely to be in other units.
LIMIT = 5.0

#: Walls around each outline, and percent of infill, that a slicer can be told.
WALLS, INFILL = Limits("", 1, 50, whole=True), Limits("%", 0, 100)
#: Radius by which a slicer closes gaps, mm.
CLOSING = Limits("mm", 0, 1)
#: What a slicer takes back from each side of a first layer, mm.
COMPENSATION = Limits("mm", 0, 1)
#: Settings that a population tells by values and weights.
SETTINGS = {"walls": WALLS, "infill": INFILL, "closing": CLOSING, "compensation": COMPENSATION}

_NUMBERS = "a list of numbers"
_SOURCE = Text('text that says where the numbers are from, as "assumed"', filled=True)


def load_population(path: str | Path) -> Population:
    """The population in a TOML file. Raises JobError for anything that makes none."""
    return load(path, lambda document, _: _population(read(document, tuple(_keys()))))


def _keys() -> Iterator[Key]:
    name = Text('text on one line, as "my printer"', filled=True, one_line=True)
    yield Key("name", name, needed=True)
    yield Key("needed", Number(NEEDED))
    for table, usual in CAREFUL.spreads.items():
        least = 0.0 if table in ("first_layer_spread", "sag") else -LIMIT
        yield from _table(
            table,
            mean=AnyNumber(Limits("mm", least, LIMIT, usual.mean)),
            std=Number(Limits("mm", 0, LIMIT, usual.std)),
            low=Number(Limits("mm", least, LIMIT, usual.low)),
            high=AnyNumber(Limits("mm", least, LIMIT, usual.high)),
        )
    heights = ListOf(Number(LAYER), _NUMBERS)
    weights = ListOf(Number(Limits("", 0, math.inf, 1)), _NUMBERS)
    yield from _table("layer", heights=heights, weights=weights)
    for table, limits in SETTINGS.items():
        values = ListOf(Number(limits), _NUMBERS)
        yield from _table(table, values=values, weights=weights)


def _table(table: str, **kinds: Kind) -> Iterator[Key]:
    """The keys of a table, each of which it needs, and the source of its numbers."""
    for word, kind in (kinds | {"source": _SOURCE}).items():
        yield Key(f"{table}.{word}", kind, needed=True)


def _population(found: Mapping[str, Any]) -> Population:
    given: dict[str, Any] = {"name": found["name"].strip()}
    if found["needed"] is not None:
        given["needed"] = found["needed"]
    for table in SPREADS:
        if found[f"{table}.mean"] is not None:
            given[table] = _spread(table, found)
    if found["layer.heights"] is not None:
        _refuse_uneven("layer", "heights", found)
        given["layer"] = LayerHeights(*(found[f"layer.{f.name}"] for f in fields(LayerHeights)))
    for table in SETTINGS:
        if found[f"{table}.values"] is not None:
            _refuse_uneven(table, "values", found)
            given[table] = Shares(*(found[f"{table}.{f.name}"] for f in fields(Shares)))
    return replace(CAREFUL, **given)


def _spread(table: str, found: Mapping[str, Any]) -> Spread:
    """The spread in a table: its high end is above its low one, its mean between them."""
    mean, std, low, high, source = (found[f"{table}.{field.name}"] for field in fields(Spread))
    high = Number(Limits("mm", low, LIMIT)).read(f"{table}.high", high)
    mean = Number(Limits("mm", low, high)).read(f"{table}.mean", mean)
    return Spread(mean, std, low, high, source)


def _refuse_uneven(table: str, of: str, found: Mapping[str, Any]) -> None:
    """Raise JobError where not each value has a weight, or all weights are 0."""
    words = uneven(found[f"{table}.weights"], found[f"{table}.{of}"], of)
    if words:
        raise JobError(f"{table}.{words}", f"{table}.weights")
