"""The library on two generations of OpenSCAD: the installed 2021.01 and one of 2025."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from scadgen.hinge.family import Hinge, definition
from scadgen.hinge.meshing import mesh
from scadgen.openscad.library import FOLDER
from scadgen.openscad.settings import customizer_name
from tests.engine import Run, drawn, opened
from tests.openscad.newer import run as run_newer
from tests.openscad.newer import run_each
from tests.openscad.test_solids import DRAWN, assert_same_solid
from tests.support import ROOT, each_family, fewest, first_broken, some_hinges

pytestmark = [pytest.mark.newer, pytest.mark.openscad]


def by_both(
    cls: type[Hinge], text: str, folder: Path, *sets: Mapping[str, Any]
) -> Iterator[tuple[Run, Run]]:
    """The family's text, with each set of values, by the older and by the newer OpenSCAD."""
    path = folder / "main.scad"
    path.write_text(text, encoding="utf-8")
    named = [{f"{cls.family}_{name}": value for name, value in values.items()} for values in sets]
    newer = run_each(path, folder, named, "--backend=manifold")
    for settings, made in zip(named, newer, strict=True):
        yield drawn(text, **settings), made


def library(cls: type[Hinge]) -> str:
    """The family's file in the library below the one that opens it, as one text."""
    module = (ROOT / FOLDER / f"{cls.family}.scad").read_text(encoding="utf-8")
    opens = (ROOT / FOLDER / f"{customizer_name(cls.family)}.scad").read_text(encoding="utf-8")
    return opens.replace(f"use <{cls.family}.scad>\n", "") + module


def test_they_are_two_generations(tmp_path: Path) -> None:
    (tmp_path / "cube.scad").write_text("cube(2);")
    newer = run_newer(tmp_path / "cube.scad", tmp_path, "--version").messages
    year = re.search(r"OpenSCAD version (\d{4})", newer)
    assert year is not None
    assert int(year[1]) >= 2025
    assert run_newer(tmp_path / "cube.scad", tmp_path).mesh.volume == pytest.approx(8)


def assert_same_drawing(older: Run, newer: Run) -> None:
    """Volumes within 0.1 %, corners within 0.01 mm."""
    assert newer.mesh.volume == pytest.approx(older.mesh.volume, rel=1e-3)
    assert newer.mesh.bounds == pytest.approx(older.mesh.bounds, abs=0.01)


@each_family
def test_both_draw_the_same(cls: type[Hinge], tmp_path: Path) -> None:
    """Few corners keep exact arithmetic quick."""
    sets = [{"part": part, **fewest(cls)} for part in definition(cls).parts]
    for older, newer in by_both(cls, library(cls), tmp_path, *sets):
        assert_same_drawing(older, newer)


@each_family
@pytest.mark.parametrize("index", range(1, 1 + DRAWN))
def test_the_newer_draws_random_hinges_as_they_are(
    cls: type[Hinge], index: int, tmp_path: Path
) -> None:
    """As their meshes are, against which the older one's drawings are held in test_solids."""
    hinge = some_hinges(cls, DRAWN, **fewest(cls))[index]
    path = tmp_path / "main.scad"
    path.write_text(opened(hinge), encoding="utf-8")
    assert_same_solid(run_newer(path, tmp_path, "--backend=manifold").mesh, mesh(hinge))


@each_family
def test_the_newer_draws_the_default_hinge_as_it_is(cls: type[Hinge], tmp_path: Path) -> None:
    """With all its corners, which are too many for the older one to draw in every family."""
    path = tmp_path / "main.scad"
    path.write_text(library(cls), encoding="utf-8")
    assert_same_solid(run_newer(path, tmp_path, "--backend=manifold").mesh, mesh(cls()))


@each_family
def test_both_refuse_with_the_same_words(cls: type[Hinge], tmp_path: Path) -> None:
    values = next(found for found in first_broken(cls) if found is not None)
    ((older, newer),) = by_both(cls, library(cls), tmp_path, values)
    assert older.code != 0
    assert newer.code != 0
    assert older.refusal is not None
    assert newer.refusal == older.refusal
