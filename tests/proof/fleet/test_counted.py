"""Settings of the fleets are counted, and anybody can count them again."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from scadgen import SideCones, WaistedSpindle
from scadgen.proof.fleet import counted
from scadgen.proof.fleet.believed import believed
from scadgen.proof.fleet.population import (
    CAREFUL,
    HIGHEST,
    NO_COMPENSATION,
    POPULATIONS,
    ROUGH,
    Shares,
)
from scadgen.proof.fleet.shares import fleet
from tests.proof.fleet.profiles import FOLDER, counts, toml

BUNDLE = """
[print:*common*]
layer_height = 0.2
perimeters = 2
[print:*thick*]
layer_height = 0.3
perimeters = 5
[print:0.30 mm @A]
inherits = *common*; *thick*
perimeters = 3
[print:0.20 mm @A 0.6 nozzle]
inherits = *common*
[print:vase]
inherits = *common*
spiral_vase = 1
[filament:X]
layer_height = 7
"""


def test_presets_are_counted_with_all_that_they_inherit(tmp_path: Path) -> None:
    (tmp_path / "Maker.ini").write_text(BUNDLE, encoding="utf-8")
    found = counts(tmp_path)
    assert found["bore"] == {"vendor-01": {"0.4": 1, "0.6": 1}}
    assert found["layer"] == {"vendor-01": {"0.3": 1}}
    assert found["walls"] == {"vendor-01": {"3": 1}}
    assert found["closing"] == {"vendor-01": {"0.049": 1}}  # what the slicer takes itself


def test_vendors_are_numbered_in_the_order_of_their_files(tmp_path: Path) -> None:
    for name, layer in (("B", 0.1), ("A", 0.2), ("C", 0.3)):
        text = "" if name == "B" else f"[print:one]\nlayer_height = {layer}\n"  # B has none
        (tmp_path / f"{name}.ini").write_text(text, encoding="utf-8")
    assert counts(tmp_path)["layer"] == {"vendor-01": {"0.2": 1}, "vendor-02": {"0.3": 1}}


def test_no_vendor_is_named() -> None:
    for table in ("layer", "bore", "compensation"):
        every = counted.vendors(table)
        assert every == tuple(f"vendor-{k:02}" for k in range(1, len(every) + 1))


@pytest.mark.slicers
def test_the_counts_are_those_of_the_profiles_that_are_named() -> None:
    told = tomllib.loads(counted.PROFILES.read_text(encoding="utf-8"))
    del told["source"]
    assert tomllib.loads("\n".join(toml(counts(FOLDER)))) == told


def test_every_vendor_counts_alike() -> None:
    for table in ("layer", "walls", "infill", "closing", "compensation", "bore"):
        shares = counted.by_vendor(table)
        assert shares.sum(axis=1) == pytest.approx(1)
        assert sum(counted.shares(table)) == pytest.approx(100, abs=0.5)
        even = np.full((1, len(shares)), 1 / len(shares))
        assert 100 * counted.drawn(table, even)[0] == pytest.approx(counted.shares(table), abs=0.06)


def test_the_fleets_take_their_settings_from_the_counts() -> None:
    for population in POPULATIONS.values():
        assert max(population.layer.heights) == HIGHEST
        assert sum(population.layer.weights) == pytest.approx(100, abs=0.5)
        for setting in (population.layer, population.closing):
            assert setting.source.startswith("counted: ")
        for setting, table in ((population.walls, "walls"), (population.infill, "infill")):
            assert setting.source.startswith("assumed")
            kept = zip(counted.values(table), counted.shares(table), strict=True)
            weakest = population.filling(0.45).infill * 100 if table == "infill" else 2
            assert sum(share for value, share in kept if value >= weakest) > 95
        for spread in population.spreads.values():
            assert spread.source.startswith("assumed")


def test_what_is_taken_back_is_no_error() -> None:
    """The error is drawn as it is, and the setting apart from it; less than drawn is none."""
    rng = np.random.default_rng(5)
    error = ROUGH.errors(40_000, rng)["first_layer_spread"].mean()
    usual = replace(ROUGH, compensation=NO_COMPENSATION).sample(40_000, np.random.default_rng(5))
    always = replace(ROUGH, compensation=Shares((0.05, 0.06), (1, 0), "a test"))
    back = always.sample(40_000, np.random.default_rng(5)).first_layer_spread
    assert usual.first_layer_spread.mean() == pytest.approx(error, abs=1e-3)
    assert back.mean() == pytest.approx(error - 0.05, abs=1e-3)
    assert ROUGH.sample(1000, rng).first_layer_spread.min() == 0


def test_the_interval_is_wider_than_the_sample_is_sure() -> None:
    hinge = WaistedSpindle()
    found = fleet(hinge, ROUGH, 100_000)
    sure = believed(hinge, ROUGH)
    assert sure is not None
    both = sure[2]
    assert both.value == pytest.approx(found.share_both.value, abs=0.01)
    assert both.low < found.share_both.low < found.share_both.high < both.high
    assert both.high - both.low > 10 * (found.share_both.high - found.share_both.low)


def test_a_hinge_that_all_make_is_believed_to_be_made_by_all() -> None:
    hinge = SideCones(clearance=0.6, tip=2.6)
    sure = believed(hinge, CAREFUL)
    assert sure is not None
    assert [share.low for share in sure] == pytest.approx([1, 1, 1], abs=1e-9)


def test_a_fleet_of_ones_own_is_no_sample_of_vendors() -> None:
    assert believed(SideCones(), replace(ROUGH, name="mine")) is None
    assert believed(SideCones(), replace(ROUGH, sag=CAREFUL.sag)) is None
