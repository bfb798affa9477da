"""The library on two generations of OpenSCAD: the installed 2021.01 and one of 2025."""

from __future__ import annotations

import random
import re
from pathlib import Path
from typing import Any

import pytest

from scadgen.hinge.family import Hinge, bounds, definition
from scadgen.openscad.library import FOLDER
from tests.engine import Run
from tests.engine import run as run_older
from tests.openscad.newer import run as run_newer
from tests.support import ROOT, each_family, first_broken, mended

pytestmark = [pytest.mark.newer, pytest.mark.openscad]


def module(cls: type[Hinge]) -> Path:
    return ROOT / FOLDER / f"{cls.family}.scad"


def by_both(cls: type[Hinge], folder: Path, **values: Any) -> tuple[Run, Run]:
    """The family's library file, with some values, by the older and by the newer OpenSCAD."""
    settings = {f"{cls.family}_{name}": value for name, value in values.items()}
    path = module(cls)
    return run_older(path, folder, **settings), run_newer(
        path, folder, "--backend=manifold", **settings
    )


def test_they_are_two_generations(tmp_path: Path) -> None:
    (tmp_path / "cube.scad").write_text("cube(2);")
    newer = run_newer(tmp_path / "cube.scad", tmp_path, "--version").messages
    year = re.search(r"OpenSCAD version (\d{4})", newer)
    assert year is not None
    assert int(year[1]) >= 2025
    assert run_newer(tmp_path / "cube.scad", tmp_path).mesh.volume == pytest.approx(8)


@each_family
def test_both_draw_the_same(cls: type[Hinge], tmp_path: Path) -> None:
    """Volumes within 0.1 %, corners within 0.01 mm; few facets keep exact arithmetic quick."""
    for part in definition(cls).parts:
        older, newer = by_both(cls, tmp_path, part=part, facets=16)
        assert newer.mesh.volume == pytest.approx(older.mesh.volume, rel=1e-3)
        assert newer.mesh.bounds == pytest.approx(older.mesh.bounds, abs=0.01)


def sound_at_random(cls: type[Hinge], seed: int) -> dict[str, float]:
    """Values of every field, half-way from the usual ones to anywhere in their range at most."""
    rng = random.Random(f"{cls.family} {seed}")
    drawn = {
        name: limits.on_step(limits.default + rng.uniform(0, 0.5) * (far - limits.default))
        for name, limits in bounds(cls).items()
        for far in [rng.choice((limits.low, limits.high))]
    }
    hinge = mended(cls, drawn | {"facets": 16})
    return {name: getattr(hinge, name) for name in drawn}


@each_family
@pytest.mark.parametrize("seed", range(3))
def test_both_draw_random_hinges_the_same(cls: type[Hinge], seed: int, tmp_path: Path) -> None:
    older, newer = by_both(cls, tmp_path, **sound_at_random(cls, seed))
    assert newer.mesh.volume == pytest.approx(older.mesh.volume, rel=1e-3)
    assert newer.mesh.bounds == pytest.approx(older.mesh.bounds, abs=0.01)


@each_family
def test_both_refuse_with_the_same_words(cls: type[Hinge], tmp_path: Path) -> None:
    values = next(found for found in first_broken(cls) if found is not None)
    older, newer = by_both(cls, tmp_path, **values)
    assert older.code != 0
    assert newer.code != 0
    assert older.refusal is not None
    assert newer.refusal == older.refusal
