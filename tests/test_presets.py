"""Presets are sound hinges, made from the defaults by one rule, and kept by the library."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from scadgen.hinge.family import Hinge, bounds
from scadgen.hinge.meshing import mesh
from scadgen.openscad.library import check_library, write_library
from scadgen.openscad.presets import PRESETS, preset, preset_file
from tests.support import each_family

SIZES = ("small", "medium", "large")
FITS = ("snug", "standard", "rough printer")


def values(hinge: Hinge) -> dict[str, float]:
    return {name: getattr(hinge, name) for name in bounds(type(hinge))}


def sets(cls: type[Hinge]) -> dict[str, dict[str, str]]:
    document: dict[str, Any] = json.loads(preset_file(cls))
    assert document.keys() == {"fingerprint", "parameterSets", "fileFormatVersion"}
    assert document["fileFormatVersion"] == "1"
    found: dict[str, dict[str, str]] = document["parameterSets"]
    return found


@each_family
def test_the_file_has_every_value_of_every_set(cls: type[Hinge]) -> None:
    assert list(sets(cls)) == list(PRESETS) == [*FITS, *SIZES]
    for name, given in sets(cls).items():
        read: dict[str, Any] = {
            key.removeprefix(f"{cls.family}_"): float(v) for key, v in given.items()
        }
        assert set(given) == {f"{cls.family}_{field}" for field in bounds(cls)}
        assert values(cls(**read)) == values(preset(cls, name))


@each_family
def test_the_middle_sets_are_the_defaults(cls: type[Hinge]) -> None:
    assert values(preset(cls, "standard")) == values(preset(cls, "medium")) == values(cls())


@each_family
def test_every_value_can_be_set_by_the_slider(cls: type[Hinge]) -> None:
    for name in PRESETS:
        for field, value in values(preset(cls, name)).items():
            step = bounds(cls)[field].step
            assert value / step == pytest.approx(round(value / step), abs=1e-6), (name, field)


@each_family
def test_a_fit_changes_the_air_and_a_size_the_bulk(cls: type[Hinge]) -> None:
    air = [preset(cls, name).clearance for name in FITS]
    default = bounds(cls)["clearance"].default
    step = bounds(cls)["clearance"].step
    assert air == pytest.approx([default * PRESETS[name].factor for name in FITS], abs=step / 2)
    bulk = [mesh(preset(cls, name)).volume() for name in SIZES]
    assert bulk[0] < bulk[1] / 2
    assert bulk[2] > bulk[1] * 2
    assert {preset(cls, name).clearance for name in SIZES} == {default}


@each_family
def test_the_library_keeps_the_presets(cls: type[Hinge], tmp_path: Path) -> None:
    folder = tmp_path / "library"
    write_library(folder)
    path = folder / f"{cls.family}_customizer.json"
    assert path.read_text() == preset_file(cls)
    assert check_library(folder) == []
    path.write_text(path.read_text().replace('"small"', '"tiny"'))
    diff, mend = check_library(folder)
    assert '\n-    "tiny": {' in diff
    assert mend.startswith("To mend: scadgen library")
    path.unlink()
    assert check_library(folder)[0] == f"{path}: missing"


def test_presets_without_a_family_are_orphans(tmp_path: Path) -> None:
    write_library(tmp_path)
    (tmp_path / "old_family.json").write_text("{}")
    said = f"{tmp_path / 'old_family.json'}: no family has this name; delete the file"
    assert check_library(tmp_path) == [said]
