"""OpenSCAD files of strangers: what they read is told and bounded, as is what they take."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from scadgen.inspection import Asked, inspect
from scadgen.openscad.bounds import Bounds, environment, files_read
from scadgen.openscad.engine import Drawing, rendered
from scadgen.tables.documents import JobError
from tests.inspection.models import ascii_stl

CUBE = "cube(3);\n"
#: Times that no program comes to the end of; in one loop OpenSCAD would refuse them.
MANY = "i = [0:999], j = [0:999], k = [0:999], l = [0:999]"


def drawn(folder: Path, text: str, bounds: Bounds | None = None) -> Drawing:
    path = folder / "model.scad"
    path.write_text(text, encoding="utf-8")
    with rendered(path, {}, bounds) as drawing:
        return drawing


def test_names_of_files_are_read_as_make_reads_them() -> None:
    rule = "out.stl: \\\n\ta.scad \\\n\t/tmp/with\\ blank/b.scad\\\n"
    assert files_read(rule) == [Path("a.scad"), Path("/tmp/with blank/b.scad")]
    assert files_read("") == []


def test_a_program_is_told_little_of_the_environment() -> None:
    told = environment({"PATH": "/bin", "HOME": "/home/x", "TOKEN": "secret", "LD_PRELOAD": "x.so"})
    assert told == {"PATH": "/bin", "HOME": "/home/x"}


@pytest.mark.parametrize("value", [0.0, -1.0, float("nan"), float("inf"), 1e7])
def test_bounds_allow_something(value: float) -> None:
    rule = r"; it must be above 0 and at most 1000000\. This works: "
    most = "1000000" if value > 0 else None
    with pytest.raises(JobError, match=rf"time_limit = .* s{rule}{most or '300'}\."):
        Bounds(seconds=value)
    with pytest.raises(JobError, match=rf"memory = .* GB{rule}{most or '6'}\."):
        Bounds(memory=value)
    with pytest.raises(JobError, match=rf"output = .* GB{rule}{most or '0.6'}\."):
        Bounds(output=value)


def test_an_allowed_folder_is_there(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="there is no such folder"):
        Bounds(folders=(tmp_path / "none",))


@pytest.mark.openscad
@pytest.mark.parametrize(
    "reads",
    [
        "include <{}/far.scad>",
        "use <{}/far.scad>",
        'import(str("{}", "/far", ".stl"));',
        'surface(file = str("{}", "/far.dat"));',
        "include <near/../../out/far.scad>",
        "include <linked.scad>",
    ],
)
def test_what_stands_elsewhere_is_refused_by_its_path(tmp_path: Path, reads: str) -> None:
    """Names that are worked out as it runs, ways up and links are no way around it."""
    own, out = tmp_path / "own", tmp_path / "out"
    (own / "near").mkdir(parents=True)
    out.mkdir()
    (out / "far.scad").write_text("module far() {}\n")
    (out / "far.dat").write_text("0 1\n1 0\n")
    solid = "solid a\nendsolid a\n"
    (out / "far.stl").write_text(solid)
    (own / "linked.scad").symlink_to(out / "far.scad")
    text = reads.format(out.as_posix()) + "\n" + CUBE
    with pytest.raises(JobError, match=r"it reads .*far\.\w+, which is outside its own folder"):
        drawn(own, text)
    allowed = drawn(own, text, Bounds(folders=(out,)))
    assert [path.name[:3] for path in allowed.read] == ["far"]


@pytest.mark.openscad
def test_what_it_read_is_told_and_may_stand_below_it(tmp_path: Path) -> None:
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts" / "one.scad").write_text("module one() cube(12);\n")
    path = tmp_path / "model.scad"
    path.write_text("use <parts/one.scad>\none();\n")
    notes = inspect(path).notes
    told = tmp_path.resolve() / "parts" / "one.scad"
    assert f"OpenSCAD read this for it, too: {told}." in notes


@pytest.mark.openscad
def test_that_a_model_is_drawn_by_chance_is_told(tmp_path: Path) -> None:
    """What is measured is one of many."""
    (tmp_path / "one.scad").write_text("module one() cube(12 + rands(0, 1, 1)[0]);\n")
    path = tmp_path / "model.scad"
    path.write_text("use <one.scad>\nuse <gone.scad>\none();\n")
    (note,) = (note for note in inspect(path).notes if "rands" in note)
    assert note.startswith("one.scad calls rands(): without a seed each rendering is another model")
    path.write_text("cube(12); // no brands(1)\n")
    assert not any("rands" in note for note in inspect(path).notes)


@pytest.mark.openscad
def test_libraries_are_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    library, own = tmp_path / "libraries", tmp_path / "own"
    library.mkdir()
    own.mkdir()
    (library / "one.scad").write_text("module one() cube(12);\n")
    monkeypatch.setenv("OPENSCADPATH", str(library))
    assert [path.name for path in drawn(own, "use <one.scad>\none();\n").read] == ["one.scad"]


@pytest.mark.openscad
def test_a_part_that_openscad_leaves_out_is_no_success(tmp_path: Path) -> None:
    """It ends with status 0, and draws the rest."""
    (tmp_path / "open.stl").write_bytes(ascii_stl(np.eye(3)[None]))
    with pytest.raises(JobError, match=r"OpenSCAD refuses it: ERROR: .*not closed"):
        drawn(tmp_path, 'import("open.stl");\nsphere(3);\n' + CUBE)


@pytest.mark.openscad
def test_warnings_are_told(tmp_path: Path) -> None:
    path = tmp_path / "model.scad"
    path.write_text(CUBE + "".join(f"missing_{k}();\n" for k in range(7)))
    notes = [note for note in inspect(path).notes if "OpenSCAD warns" in note]
    assert len(notes) == 6
    assert notes[0].startswith("OpenSCAD warns: Ignoring unknown module 'missing_0'")
    assert notes[-1] == "OpenSCAD warns 2 times more."


@pytest.mark.openscad
@pytest.mark.parametrize(
    ("text", "bounds", "words"),
    [
        ("function f(x) = f(x + 1) + 1; cube(f(0));", Bounds(20), "ERROR: Recursion"),
        (f"for ({MANY}) echo(i);", Bounds(2), r"longer than 2 s|writes more than"),
        (f"for ({MANY}) echo(i);", Bounds(60, output=1e-3), "writes more than 0.001 GB"),
        (f"v = [for ({MANY}) i]; cube(len(v));", Bounds(60, memory=0.6), "than 0.6 GB of mem"),
    ],
)
def test_what_never_ends_ends(tmp_path: Path, text: str, bounds: Bounds, words: str) -> None:
    with pytest.raises(JobError, match=words):
        drawn(tmp_path, text + "\n", bounds)


def test_bounds_reach_the_model_that_is_inspected(tmp_path: Path) -> None:
    path = tmp_path / "model.scad"
    path.write_text(CUBE)
    with pytest.raises(JobError, match="time_limit = 0 s"):
        inspect(path, Asked(bounds=Bounds(0)))
