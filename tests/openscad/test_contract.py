"""What a maker may do with an emitted file: open it, use it, include it, set values for it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from scadgen import emit, mesh
from scadgen.hinge.family import Hinge, bounds
from scadgen.openscad.settings import customizer_name, emit_customizer
from tests.engine import run, shown, tree
from tests.openscad.test_solids import assert_same_solid
from tests.support import changed, each_family, moved

pytestmark = pytest.mark.openscad


FEW = 16  # facets that keep the engine's exact arithmetic quick


@pytest.fixture
def library(cls: type[Hinge], tmp_path: Path) -> str:
    """A hinge's file, in a folder with a blank and brackets in its name."""
    folder = tmp_path / "my parts (2)"
    folder.mkdir()
    (folder / f"{cls.family}.scad").write_text(emit(cls(facets=FEW)), encoding="utf-8")
    return f"<{folder.name}/{cls.family}.scad>"


@each_family
def test_used_alone_it_draws_nothing(cls: type[Hinge], library: str, tmp_path: Path) -> None:
    done = run(f"use {library}", tmp_path)
    assert done.empty
    assert done.trouble == []
    assert run(f"use {library}\ncube(1);", tmp_path).mesh.volume == pytest.approx(1)


@each_family
def test_a_used_module_takes_named_values(cls: type[Hinge], library: str, tmp_path: Path) -> None:
    hinge = other(cls)
    drawn = shown(f"use {library}\n{call(hinge)}", tmp_path)
    assert_same_solid(drawn.mesh, mesh(hinge, "fixed"))


@each_family
def test_included_it_draws_nothing(cls: type[Hinge], library: str, tmp_path: Path) -> None:
    done = run(f"include {library}", tmp_path)
    assert done.empty
    assert done.trouble == []
    assert run(f"include {library}\ncube(1);", tmp_path).mesh.volume == pytest.approx(1)
    drawn = shown(f'include {library}\n{cls.family}(part = "fixed");', tmp_path)
    assert_same_solid(drawn.mesh, mesh(cls(facets=FEW), "fixed"))


@each_family
def test_the_file_that_opens_it_draws_it(cls: type[Hinge], tmp_path: Path) -> None:
    """With its own values, whatever the defaults of the module are, and those that are set."""
    hinge, name = other(cls), customizer_name(cls.family)
    (tmp_path / f"{cls.family}.scad").write_text(emit(cls()), encoding="utf-8")
    path = tmp_path / f"{name}.scad"
    path.write_text(emit_customizer(hinge), encoding="utf-8")
    parts: dict[str, Any] = {f"{cls.family}_part": "fixed"}
    assert_same_solid(shown(path, tmp_path, **parts).mesh, mesh(hinge, "fixed"))
    path.write_text(emit_customizer(cls()), encoding="utf-8")
    values = {f"{cls.family}_{name}": getattr(hinge, name) for name in differing(hinge)}
    assert_same_solid(shown(path, tmp_path, **parts | values).mesh, mesh(hinge, "fixed"))


@each_family
def test_two_hinges_stand_side_by_side(cls: type[Hinge], library: str, tmp_path: Path) -> None:
    """Nothing of a call leaks into the next one: each draws what it draws alone."""
    calls = f"translate([1000, 0, 0]) {call(other(cls))}", f'{cls.family}(part = "fixed");'
    alone = [tree(f"use {library}\n{one}", tmp_path).split() for one in calls]
    assert tree("\n".join([f"use {library}", *calls]), tmp_path).split() == [*alone[0], *alone[1]]
    moved_there, usual = (" ".join(words) for words in alone)
    assert moved_there.startswith("multmatrix([[1, 0, 0, 1000]")
    assert usual not in moved_there
    drawn = shown(f"use {library}\n{calls[1]}", tmp_path)
    assert_same_solid(drawn.mesh, mesh(cls(facets=FEW), "fixed"))


def other(cls: type[Hinge]) -> Hinge:
    """A hinge of few facets, all of whose values differ from the defaults if the rules allow."""
    return changed(moved(cls), {"facets": FEW + 4})


def call(hinge: Hinge) -> str:
    """A call of its module for the fixed part, with its values by their names."""
    values = "".join(f", {name} = {getattr(hinge, name)}" for name in differing(hinge))
    return f'{hinge.family}(part = "fixed"{values});'


def differing(hinge: Hinge) -> list[str]:
    """The fields that differ from their defaults."""
    defaults = type(hinge)()
    return [n for n in bounds(type(hinge)) if getattr(hinge, n) != getattr(defaults, n)]
