"""The library is what the families emit, and a check sees whatever is not."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from scadgen.hinge.family import all_families
from scadgen.openscad.emitter import emit
from scadgen.openscad.library import check_library, library_texts, write_library
from scadgen.openscad.presets import preset_file
from scadgen.openscad.settings import emit_customizer

MEND = "To mend: scadgen library"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write_library(tmp_path / "library")
    return tmp_path / "library"


def test_every_family_has_its_file(folder: Path) -> None:
    families = all_families().items()
    modules = {f"{name}.scad": emit(cls()) for name, cls in families}
    opening = {f"{name}_customizer.scad": emit_customizer(cls()) for name, cls in families}
    presets = {f"{name}_customizer.json": preset_file(cls) for name, cls in families}
    assert library_texts() == modules | opening | presets
    read = {path.name: path.read_bytes().decode() for path in folder.glob("[!.]*")}
    assert read == library_texts()
    assert check_library(folder) == []


def test_an_edit_is_shown_as_a_diff(folder: Path) -> None:
    path = folder / "waisted_spindle.scad"
    path.write_text(path.read_text().replace("part == part", "part != part", 1).replace("36", "37"))
    path.write_text(path.read_text() + "cube(1);")
    diff, mend = check_library(folder)
    assert "\n-cube(1);" in diff
    assert diff.startswith(f"--- {path}\n+++ {path} as written by scadgen\n@@ ")
    assert mend == f"{MEND} --out {folder}"


@pytest.mark.parametrize("change", [lambda b: b.replace(b"\n", b"\r\n"), lambda b: b + b"\xff"])
def test_no_byte_may_differ(change: Callable[[bytes], bytes], folder: Path) -> None:
    path = folder / "rod_loops.scad"
    path.write_bytes(change(path.read_bytes()))
    assert check_library(folder)[0].startswith(f"--- {path}\n")


def test_a_missing_file_is_named(folder: Path) -> None:
    (folder / "rod_loops.scad").unlink()
    assert check_library(folder)[0] == f"{folder / 'rod_loops.scad'}: missing"
    write_library(folder)
    assert check_library(folder) == []


def test_a_missing_folder_misses_every_file(tmp_path: Path) -> None:
    assert len(check_library(tmp_path / "none")) == 3 * len(all_families()) + 1


def test_an_orphan_is_named_and_left_alone(folder: Path) -> None:
    (folder / "old_family.scad").write_text("cube(1);")
    said = f"{folder / 'old_family.scad'}: no family has this name; delete the file"
    assert check_library(folder) == [said]
    write_library(folder)
    assert check_library(folder) == [said]


def test_the_usual_folder_needs_no_option(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert check_library()[-1] == MEND
    write_library()
    assert check_library() == []
    assert (tmp_path / "library" / "rod_loops.scad").is_file()
