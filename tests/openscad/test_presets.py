"""Every preset, chosen as a maker's command line chooses it.

OpenSCAD 2021.01 takes an unknown set for the defaults without a word, so each run has to show that
its set took effect: by the values that it echoes, and by what it draws.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from scadgen import mesh
from scadgen.hinge.automatic import given_values
from scadgen.hinge.family import Hinge, all_families, bounds
from scadgen.openscad.presets import PRESETS, preset, preset_file
from tests.engine import QUICK, Run, opened
from tests.openscad.newer import choose_each
from tests.openscad.test_solids import assert_same_solid
from tests.support import changed, each_family, fewest, thorough

pytestmark = pytest.mark.openscad

#: The sets that differ from the defaults.
OTHERS = [name for name, chosen in PRESETS.items() if chosen.factor != 1]


def choose(
    cls: type[Hinge], name: str, output: Path, **drawn: float
) -> tuple[dict[str, float], Run]:
    """What the module's values are once the set ``name`` is chosen, and the run that said so.

    It draws with the values of the set, but for those ``drawn``.
    """
    text = opened(cls())
    for field, value in drawn.items():
        text, count = re.subn(rf"\b{field} = {cls.family}_{field}\b", f"{field} = {value:g}", text)
        assert count == 1
    source, sets = output.with_name("hinge.scad"), output.with_name("hinge.json")
    source.write_text(text + echoes(cls), encoding="utf-8")
    sets.write_text(preset_file(cls), encoding="utf-8")
    command = [shutil.which("openscad") or "openscad", "--hardwarnings", "-o", str(output)]
    done = subprocess.run(
        [*command, "-p", str(sets), "-P", name, str(source)],
        env=os.environ | QUICK,
        capture_output=True,
        text=True,
        timeout=300,
    )
    run = Run(done.returncode, done.stdout + done.stderr, output)
    return said(run), run


def echoes(cls: type[Hinge]) -> str:
    """Statements that say what the module's values are."""
    return "".join(f"echo({field} = {cls.family}_{field});\n" for field in bounds(cls))


def said(run: Run) -> dict[str, float]:
    """The values that a run has told of."""
    told = re.findall(r"^ECHO: (\w+) = (\S+)$", run.messages, re.M)
    return {field: float(value) for field, value in told}


def values(hinge: Hinge) -> Any:
    return pytest.approx(given_values(hinge))


@each_family
def test_every_set_gives_its_values(cls: type[Hinge], tmp_path: Path) -> None:
    """Without drawing (csg): that a value arrives, and that the module accepts it."""
    for name in PRESETS:
        read, done = choose(cls, name, tmp_path / "out.csg")
        assert (done.code, done.trouble) == (0, [])
        assert read == values(preset(cls, name))


@each_family
@pytest.mark.parametrize("index", range(len(OTHERS) if thorough() else 1))
def test_a_set_draws_its_hinge(cls: type[Hinge], index: int, tmp_path: Path) -> None:
    """One of the sets, not the same of each family, but in a thorough run."""
    first = list(all_families()).index(cls.family)
    name = OTHERS[(first + index) % len(OTHERS)]
    hinge = preset(cls, name)
    read, done = choose(cls, name, tmp_path / "out.stl", **fewest(cls))
    assert read == values(hinge)
    assert read != values(cls())
    assert_same_solid(done.mesh, mesh(changed(hinge, fewest(cls))))


@each_family
def test_an_unknown_set_would_be_noticed(cls: type[Hinge], tmp_path: Path) -> None:
    read, done = choose(cls, "no such set", tmp_path / "out.csg")
    assert done.code == 0
    assert read == values(cls())
    assert [name for name in PRESETS if read != values(preset(cls, name))] == OTHERS


#: A slider and a list, and a set whose values neither of them has.
NARROW = (
    "tall = 5;  // [1:1:10]\nturn = 0;  // [0, 90, 100]\necho(tall = tall, turn = turn);\ncube(1);"
)
BEYOND = '{"parameterSets": {"beyond": {"tall": "99", "turn": "75"}}, "fileFormatVersion": "1"}'


def beyond(folder: Path) -> tuple[Path, Path]:
    """The text with a slider and a list, and the set with other values, as files."""
    source, sets = folder / "narrow.scad", folder / "narrow.json"
    source.write_text(NARROW, encoding="utf-8")
    sets.write_text(BEYOND, encoding="utf-8")
    return source, sets


def test_a_set_may_go_beyond_a_slider(tmp_path: Path) -> None:
    source, sets = beyond(tmp_path)
    command = [shutil.which("openscad") or "openscad", "-o", str(tmp_path / "out.csg")]
    done = subprocess.run(
        [*command, "-p", str(sets), "-P", "beyond", str(source)], capture_output=True, text=True
    )
    assert "ECHO: tall = 99, turn = 75\n" in done.stderr


@pytest.mark.newer
def test_a_newer_openscad_keeps_a_set_within_the_sliders(tmp_path: Path) -> None:
    """Why the sliders of a family reach over its presets."""
    source, sets = beyond(tmp_path)
    (done,) = choose_each(source, tmp_path, sets, ["beyond"])
    assert "ECHO: tall = 10, turn = 0\n" in done.messages


@each_family
@pytest.mark.newer
def test_a_newer_openscad_takes_every_set_as_it_is(cls: type[Hinge], tmp_path: Path) -> None:
    source, sets = tmp_path / "hinge.scad", tmp_path / "hinge.json"
    text = re.sub(rf"(?s)\n{cls.family}\(.*", "\ncube(1);\n", opened(cls()))
    source.write_text(text + echoes(cls), encoding="utf-8")
    sets.write_text(preset_file(cls), encoding="utf-8")
    runs = choose_each(source, tmp_path, sets, PRESETS)
    assert [said(run) for run in runs] == [values(preset(cls, name)) for name in PRESETS]
