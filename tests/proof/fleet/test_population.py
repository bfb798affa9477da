"""Fleets that are made in Python, where no reader of files has looked at them."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from scadgen.proof.fleet.population import ROUGH, LayerHeights, Shares, Spread


@pytest.mark.parametrize("needed", [0, 49.9, 100.1, math.nan, math.inf, -1, True])
def test_a_fleet_of_which_hardly_any_is_needed_is_none(needed: Any) -> None:
    with pytest.raises(ValueError, match=r"^population rough: needed = .*must be .*50 to 100 %"):
        replace(ROUGH, needed=needed)


@pytest.mark.parametrize("needed", [50, 90.0, 100])
def test_a_share_in_its_range_is_kept(needed: float) -> None:
    assert replace(ROUGH, needed=needed).needed == needed


@pytest.mark.parametrize("std", [-0.1, math.nan, math.inf])
def test_no_spread_is_below_0(std: float) -> None:
    with pytest.raises(ValueError, match=r"std = .* mm; it must be 0 or more"):
        Spread(0, std, -1, 1, "made up")


@pytest.mark.parametrize(
    ("mean", "low", "high"),
    [(2, -1, 1), (-2, -1, 1), (0, 1, -1), (math.nan, -1, 1), (0, 0, math.inf)],
)
def test_a_mean_is_between_its_ends(mean: float, low: float, high: float) -> None:
    with pytest.raises(ValueError, match=r"mean = .* mm; it must be between .* mm"):
        Spread(mean, 0.1, low, high, "made up")


@pytest.mark.parametrize("kind", [LayerHeights, Shares])
@pytest.mark.parametrize(
    ("weights", "words"),
    [
        ((1,), "1 numbers; it must have one for each of the 2"),
        ((0, 0), "all are 0"),
        ((2, -1), "each must be 0 or more"),
        ((1, math.nan), "each must be 0 or more"),
        ((1, math.inf), "each must be 0 or more"),
    ],
)
def test_each_value_has_its_weight(kind: Any, weights: tuple[float, ...], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        kind((0.1, 0.2), weights, "made up")
