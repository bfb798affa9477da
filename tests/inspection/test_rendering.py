"""OpenSCAD files: values, refusals, the program and its time."""

from __future__ import annotations

import os
import shutil
import time
from pathlib import Path

import pytest

from scadgen.meshfiles.reading import read
from scadgen.openscad.bounds import Bounds
from scadgen.openscad.engine import rendered, settings
from scadgen.tables.documents import JobError
from tests.inspection.models import Array

LIMIT = 60.0
#: How long an ended process may still be there on a busy machine, s.
PATIENCE = 20.0


def drawn(folder: Path, text: str, *given: str, limit: float = LIMIT) -> Array:
    path = folder / "model.scad"
    path.write_text(text, encoding="utf-8")
    with rendered(path, settings(given), Bounds(limit)) as drawing:
        triangles = read(drawing.stl)
    assert not drawing.stl.exists()
    assert not drawing.stl.parent.exists()
    return triangles


def test_values_are_numbers_or_quoted_text() -> None:
    given = settings(["a=1.50", "$fn=8", "b=3", 'part="bo\\th"', "on=true", "c = -2e3"])
    assert given == {
        "a": "1.5",
        "$fn": "8.0",
        "b": "3.0",
        "part": '"bo\\\\th"',
        "on": "true",
        "c": "-2000.0",
    }


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ("a", "it must be name=value"),
        ("=3", "it must be name=value"),
        ("a b=3", "it must be name=value"),
        ("a;cube(9);b=3", "it must be name=value"),
        ("a=both", r"text stands in quotes: 'a=\"both\"'"),
        ("a=1;cube(9)", "the value must be a number"),
        ("a=nan", "the value must be a number"),
        ("a=1e999", "the value must be a number"),
        ("a=[1,2]", "the value must be a number"),
    ],
)
def test_other_values_are_refused(given: str, words: str) -> None:
    with pytest.raises(JobError, match=words):
        settings([given])


def test_a_name_that_the_file_does_not_assign_is_refused(tmp_path: Path) -> None:
    with pytest.raises(JobError, match=r"assigns no lenght; did you mean length\?"):
        drawn(tmp_path, "length = 3;\ncube(length);", "lenght=4")


def test_without_openscad_it_says_how_to_bring_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.delenv("OPENSCAD", raising=False)
    with pytest.raises(JobError, match="OpenSCAD renders it, and is not to be found"):
        drawn(tmp_path, "cube(3);")
    monkeypatch.setenv("OPENSCAD", "/nowhere/openscad")
    with pytest.raises(JobError, match="OPENSCAD names /nowhere/openscad, which is no program"):
        drawn(tmp_path, "cube(3);")


def test_a_file_that_is_missing_or_empty_is_refused(tmp_path: Path) -> None:
    with (
        pytest.raises(JobError, match="cannot be read: No such file"),
        rendered(tmp_path / "none.scad", {}),
    ):
        pass
    with pytest.raises(JobError, match="the file is empty"):
        drawn(tmp_path, "  \n")


@pytest.mark.parametrize("limit", [0.0, -1.0, float("nan")])
def test_a_time_limit_must_be_above_0(limit: float, tmp_path: Path) -> None:
    with pytest.raises(JobError, match="it must be above 0"):
        drawn(tmp_path, "cube(3);", limit=limit)


def test_the_time_limit_ends_the_program_and_what_it_started(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A stand-in that starts another process and waits for it."""
    script = tmp_path / "slow"
    script.write_text(f"#!/bin/sh\nsleep 987 &\necho $! > {tmp_path}/child\nwait\n")
    script.chmod(0o755)
    monkeypatch.setenv("OPENSCAD", str(script))
    with pytest.raises(JobError, match=r"OpenSCAD took longer than 0\.5 s"):
        drawn(tmp_path, "cube(3);", limit=0.5)
    child = Path("/proc") / (tmp_path / "child").read_text().strip()

    def running() -> bool:
        try:
            return "sleep" in (child / "cmdline").read_text()
        except OSError:
            return False

    late = time.monotonic() + PATIENCE
    while running() and time.monotonic() < late:
        time.sleep(0.01)  # a process that was told to end has not ended yet
    assert not running()


@pytest.mark.openscad
def test_openscad_draws_with_the_values_that_are_set(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    text = 'size = 3;\npart = "no";\nif (part == "a\\"b") cube([size, 4, 5]);\n'
    triangles = drawn(tmp_path, text, "size=7", 'part="a"b"')
    assert triangles.reshape(-1, 3).max(0) == pytest.approx((7, 4, 5))
    program = shutil.which("openscad")
    assert program
    monkeypatch.setenv("OPENSCAD", program)
    monkeypatch.setenv("PATH", os.devnull)
    assert len(drawn(tmp_path, "cube(3);")) == 12


@pytest.mark.openscad
def test_openscad_finds_what_the_file_uses(tmp_path: Path) -> None:
    (tmp_path / "part.scad").write_text("module part() cube([1, 2, 3]);")
    triangles = drawn(tmp_path, "use <part.scad>\npart();")
    assert triangles.reshape(-1, 3).max(0) == pytest.approx((1, 2, 3))


@pytest.mark.openscad
@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("cube(5", "OpenSCAD refuses it: ERROR: Parser error"),
        ('assert(false, "no such clearance"); cube(5);', "no such clearance"),
        ("module part() cube(4);", "draws nothing from it"),
        ("square(4);", "only flat outlines"),
    ],
)
def test_what_openscad_refuses_is_said(text: str, words: str, tmp_path: Path) -> None:
    with pytest.raises(JobError, match=words):
        drawn(tmp_path, text)
