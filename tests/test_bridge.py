"""Hinges in solid2 scenes: one file that needs no other, and symbols that stay symbols."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from solid2 import ScadVariable, cube, scad_for, scad_inline, scad_range

from scadgen import to_solid2
from scadgen.families.rod_loops import RodLoops
from scadgen.families.waisted_spindle import WaistedSpindle
from scadgen.hinge.family import Hinge, bounds
from scadgen.hinge.meshing import mesh
from scadgen.hinge.rules import HingeError
from scadgen.openscad.emitter import emit_module
from tests.support import each_family, moved


@pytest.fixture(autouse=True)
def _own_variables(monkeypatch: pytest.MonkeyPatch) -> None:
    """solid2 prints the variables of all scenes; keep each test's to itself."""
    monkeypatch.setattr(ScadVariable, "registered_variables", {})


def call(shape: Any) -> str:
    """The scene below its modules, on one line."""
    return re.sub(r"(?<=\() | (?=\))", "", " ".join(shape._render().split()))


@each_family
def test_defaults_are_not_repeated(cls: type[Hinge]) -> None:
    assert call(to_solid2(cls())) == f"{cls.family}();"


@each_family
def test_other_values_are_named_in_the_familys_order(cls: type[Hinge]) -> None:
    hinge = moved(cls)
    printed = re.findall(r"(\w+) = ([-.\d]+)", call(to_solid2(hinge)))
    changed = [n for n, limits in bounds(cls).items() if getattr(hinge, n) != limits.default]
    assert [name for name, _ in printed] == changed
    assert [float(value) for _, value in printed] == [getattr(hinge, name) for name in changed]


def test_what_is_given_is_printed_even_if_usual() -> None:
    usual = bounds(WaistedSpindle)["clearance"].default
    shape = to_solid2(WaistedSpindle(), "fixed", clearance=usual, angle=30)
    assert call(shape) == f'waisted_spindle(part = "fixed", angle = 30, clearance = {usual:g});'


def test_symbols_stay_symbols() -> None:
    gap, tall = ScadVariable("gap", 0.3), ScadVariable("tall", 50)
    shape = to_solid2(
        WaistedSpindle(),
        scad_inline("tall > 60 ? [1] : undef"),
        height=tall + 2,
        clearance=gap,
        rings=1,
    )
    assert call(shape) == (
        "waisted_spindle(part = tall > 60 ? [1] : undef, height = (tall + 2), rings = 1, "
        "clearance = gap);"
    )


@pytest.mark.parametrize(
    ("part", "given", "error", "words"),
    [
        ("both", {"clearance": 3}, HingeError, "clearance = 3 mm; it must be 0.15 to 0.8 mm."),
        ("both", {"clearance": True}, HingeError, "clearance"),
        ("both", {"clearance": "gap"}, HingeError, "clearance = 'gap' mm"),
        ("both", {"rings": 6, "height": 40}, HingeError, "height"),
        ("both", {"heigth": 40}, TypeError, "no parameter heigth; did you mean height?"),
        ("both", {"zzz": scad_inline("gap")}, TypeError, "no parameter zzz; it has angle, swing"),
        ("relief", {}, ValueError, "part = 'relief'; it must be one of ('both', 'fixed', "),
    ],
)
def test_what_makes_no_sound_hinge_is_refused(
    part: str, given: dict[str, Any], error: type[Exception], words: str
) -> None:
    with pytest.raises(error, match=re.escape(words)):
        to_solid2(WaistedSpindle(), part, **given)


def scenes() -> Iterator[tuple[str, Any, list[type[Hinge]]]]:
    spindle, rod = WaistedSpindle(), RodLoops()
    tall = WaistedSpindle(height=60)
    yield "alone", to_solid2(spindle), [WaistedSpindle]
    yield "deep", (cube(1) - to_solid2(spindle).up(3)).color("red"), [WaistedSpindle]
    yield "one family", to_solid2(spindle) + to_solid2(tall).right(90), [WaistedSpindle]
    yield "two families", to_solid2(rod) + to_solid2(tall).right(90), [RodLoops, WaistedSpindle]
    yield "marked", ~to_solid2(rod), [RodLoops]
    loop = scad_for(scad_range(0, 1), lambda i: to_solid2(rod, "fixed").up(i * 40))
    yield "in a loop that solid2 keeps as text", loop, [RodLoops]
    yield "no hinge", cube(2).up(1), []


@pytest.mark.parametrize(
    ("scene", "families"), [s[1:] for s in scenes()], ids=[s[0] for s in scenes()]
)
def test_each_module_is_printed_once_if_needed(scene: Any, families: list[type[Hinge]]) -> None:
    text = scene.as_scad()
    modules = "\n".join(emit_module(cls) for cls in families).strip()
    assert text == f"{modules}\n\n{scene._render()}".strip()
    assert re.findall(r"^module (\w+)\(", text, re.M) == [cls.family for cls in families]
    assert not re.search(r"^(use|include) *<", text, re.M)
    assert "use <" not in text


def test_modules_follow_the_scenes_own_variables() -> None:
    text = to_solid2(WaistedSpindle(), height=ScadVariable("tall", 50)).as_scad()
    assert text.startswith("tall = 50;\n\n// waisted_spindle.scad - ")
    assert text.index("tall = 50;") < text.index("{")


@each_family
def test_an_embedded_module_has_its_values_but_no_usage(cls: type[Hinge]) -> None:
    text = emit_module(cls)
    for name in ("part", *bounds(cls)):
        assert text.count(f"\n  {name} = ") >= 1
    assert "use <" not in text
    assert "SPDX-License-Identifier" in text
    assert text.endswith(";\n")


def test_a_hinge_takes_what_goes_with_its_moving_side() -> None:
    lid = cube([10, 20, 4]).translate([-5, 8, 0])
    text = to_solid2(RodLoops(), "moving", angle=40)(lid).as_scad()
    call, *inside = text[text.rindex("\nrod_loops(") :].strip().splitlines()
    assert call == 'rod_loops(part = "moving", angle = 40) {'
    assert "".join("".join(inside).split()) == "".join(f"{lid._render()}}}".split())


@pytest.mark.openscad
def test_a_scene_renders_as_its_parts_do(tmp_path: Path) -> None:
    """Two hinges of one family, one with a symbol, one of another family, and a block cut."""
    import trimesh

    tall = WaistedSpindle(height=60, facets=32)
    rod = RodLoops(facets=32)
    height = ScadVariable("tall", 60)
    block = cube([400, 400, 40]).translate([-200, -200, 0])
    scene = (
        to_solid2(WaistedSpindle(facets=32), height=height)
        + to_solid2(WaistedSpindle(facets=32), "moving").right(200)
        + to_solid2(rod, "fixed").back(200)
        + (block & to_solid2(rod, "moving").fwd(90))
    )
    source, output = tmp_path / "scene.scad", tmp_path / "scene.stl"
    source.write_text(scene.as_scad(), encoding="utf-8")
    run = subprocess.run(
        ["openscad", "--hardwarnings", "-q", "-o", output, source], capture_output=True, text=True
    )
    assert (run.returncode, run.stderr) == (0, "")
    drawn = mesh(tall), mesh(WaistedSpindle(facets=32), "moving"), mesh(rod)
    volume = trimesh.load_mesh(output).volume
    assert volume == pytest.approx(sum(solid.volume() for solid in drawn), rel=1e-3)


@pytest.mark.openscad
def test_the_modules_own_rules_see_symbols(tmp_path: Path) -> None:
    scene = to_solid2(WaistedSpindle(), height=ScadVariable("tall", 12))
    source = tmp_path / "scene.scad"
    source.write_text(scene.as_scad(), encoding="utf-8")
    run = subprocess.run(
        ["openscad", "-q", "-o", tmp_path / "scene.stl", source], capture_output=True, text=True
    )
    assert run.returncode == 1
    assert "waisted_spindle(): height = 12 mm; it must be " in run.stderr
