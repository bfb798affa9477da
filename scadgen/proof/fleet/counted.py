"""Settings of printers as counted in published profiles; ``profiles.toml`` tells its source.

A vendor's presets are much alike, and how many printers each has sold is not known. So each vendor
counts alike, whatever the number of its presets (assumed), and how sure the shares are hangs on the
number of vendors: their weights are drawn at random, as in D. B. Rubin, Ann. Statist. 9 (1981) 130
(from memory).
"""

from __future__ import annotations

import functools
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy

    Array = numpy.ndarray[Any, Any]

PROFILES = Path(__file__).with_name("profiles.toml")


@functools.cache
def _told() -> Mapping[str, Any]:
    return tomllib.loads(PROFILES.read_text(encoding="utf-8"))


def source(of: str) -> str:
    """Where the counts are from, in words, after what was counted."""
    told = _told()["source"]
    return f"counted: {of}, {told['what']}; every vendor counts alike (assumed)"


def vendors(table: str) -> tuple[str, ...]:
    """The vendors that have presets of that kind, in order."""
    return tuple(sorted(_told()[table]))


def values(table: str) -> tuple[float, ...]:
    """The values that presets have, rising."""
    return tuple(sorted({float(value) for counts in _told()[table].values() for value in counts}))


def by_vendor(table: str) -> Array:
    """The share of each of a vendor's presets that has each of the values: (vendors, values)."""
    import numpy as np

    found = np.zeros((len(vendors(table)), len(values(table))))
    places = {value: k for k, value in enumerate(values(table))}
    for row, vendor in zip(found, vendors(table), strict=True):
        for value, count in _told()[table][vendor].items():
            row[places[float(value)]] += count
    shares: Array = found / found.sum(axis=1, keepdims=True)
    return shares


def shares(table: str) -> tuple[float, ...]:
    """The share of each value, percent, to a tenth."""
    return tuple((100 * by_vendor(table).mean(axis=0)).round(1).tolist())


def drawn(table: str, weights: Array) -> Array:
    """The shares, 0 to 1, with other weights: (draws, vendors) to (draws, values)."""
    share: Array = weights @ by_vendor(table)
    return share
