"""Populations out of TOML files.

``name = "..."`` and, if wanted, ``needed`` (percent) stand at the top. A table for each quantity
gives mean, std, low, high (mm) and source; ``[layer]`` gives heights, weights and source. A table
that is missing is that of the careful fleet.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from scadgen.proof.fleet.population import CAREFUL, SPREADS, LayerHeights, Population, Spread
from scadgen.proof.heights import layer_height
from scadgen.tables.documents import JobError, document, number_within
from scadgen.text.quoting import toml, toml_key

#: Largest error of a printer that is believed, mm: beyond it a file is likely to be in other units.
LIMIT = 5.0

_NUMBERS = ("mean", "std", "low", "high")


def load_population(path: str | Path) -> Population:
    """The population in a TOML file. Raises JobError for anything that makes none."""
    path = Path(path)
    try:
        return _population(document(path))
    except JobError as error:
        error.path = path
        raise


def _population(found: Mapping[str, Any]) -> Population:
    known = ("name", "needed", *SPREADS, "layer")
    for key in found:
        if key not in known:
            words = f"{toml_key(key)}: no such key; there are {', '.join(known)}."
            raise JobError(words, key)
    name = found.get("name")
    if not isinstance(name, str) or not name.strip() or not name.isprintable():
        shown = toml(name) if "name" in found else "missing"
        raise JobError(f'name: {shown}; it must be text on one line, as "my printer".', "name")
    given: dict[str, Any] = {"name": name.strip()}
    if "needed" in found:
        given["needed"] = _number(found, "", "needed", 0, 100, "%")
    for key in SPREADS:
        if key in found:
            given[key] = _spread(key, _table(found, key, (*_NUMBERS, "source")))
    if "layer" in found:
        given["layer"] = _layers(_table(found, "layer", ("heights", "weights", "source")))
    return dataclasses.replace(CAREFUL, **given)


def _table(document: Mapping[str, Any], key: str, wanted: tuple[str, ...]) -> Mapping[str, Any]:
    table = document[key]
    if not isinstance(table, dict):
        raise JobError(f"{key}: it must be a table, headed by [{key}].", key)
    for inner in (*table, *wanted):
        place = f"{key}.{inner if inner in wanted else toml_key(inner)}"
        if inner not in wanted:
            raise JobError(f"{place}: no such key; there are {', '.join(wanted)}.", place)
        if inner not in table:
            raise JobError(f"{place}: missing; [{key}] must have {', '.join(wanted)}.", place)
    source = table["source"]
    if not isinstance(source, str) or not source.strip():
        words = 'it must say where the numbers are from, as "assumed"'
        raise JobError(f"{key}.source = {toml(source)}; {words}.", f"{key}.source")
    return table


def _spread(key: str, table: Mapping[str, Any]) -> Spread:
    least = 0.0 if key in ("first_layer_spread", "sag") else -LIMIT
    low = _number(table, key, "low", least, LIMIT, "mm")
    high = _number(table, key, "high", low, LIMIT, "mm")
    mean = _number(table, key, "mean", low, high, "mm")
    std = _number(table, key, "std", 0, LIMIT, "mm")
    return Spread(mean, std, low, high, table["source"])


def _layers(table: Mapping[str, Any]) -> LayerHeights:
    for place, value in (("layer.heights", table["heights"]), ("layer.weights", table["weights"])):
        if not isinstance(value, list) or not value:
            raise JobError(f"{place} = {toml(value)}; it must be a list of numbers.", place)
    heights = tuple(layer_height("layer.heights", height) for height in table["heights"])
    weights = tuple(number_within("layer.weights", w, 0, math.inf) for w in table["weights"])
    if len(weights) != len(heights):
        words = f"{len(weights)} numbers; it must have one for each of the {len(heights)} heights."
        raise JobError(f"layer.weights: {words}", "layer.weights")
    if not sum(weights) > 0:
        words = "layer.weights: all are 0; one of them must be above 0."
        raise JobError(words, "layer.weights")
    return LayerHeights(heights, weights, table["source"])


def _number(
    table: Mapping[str, Any], key: str, inner: str, low: float, high: float, unit: str
) -> float:
    return number_within(f"{key}.{inner}" if key else inner, table[inner], low, high, unit)
