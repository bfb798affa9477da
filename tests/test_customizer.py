"""Values set in the Customizer section come along into a newer text."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from scadgen import emit
from scadgen.hinge.family import Hinge, all_families, bounds
from scadgen.keeping import record
from scadgen.keeping.customizer import settings
from scadgen.keeping.edits import ValueNotKept, Written, write_keeping
from scadgen.keeping.fingerprint import sealed, unsealed
from scadgen.openscad.settings import emit_customizer
from tests.support import each_family, moved
from tests.test_files import contents

ROD = all_families()["rod_loops"]
OLD = emit_customizer(ROD())
NAME = "rod_loops_customizer.scad"


def newer(text: str) -> str:
    """The file as a later scadgen might write it: a comment and a value differ."""
    other = unsealed(text).replace("// Facets per full turn", "// Facets of a whole turn")
    other = re.sub(r"_facets = \d+;", "_facets = 72;", other)
    head, rest = other.split("\n", 1)
    return sealed(f"{head}\n", rest, "// ")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write_keeping(tmp_path, {NAME: OLD.encode()})
    return tmp_path


def put(folder: Path, name: str, value: str, text: str = OLD) -> str:
    """Set a value as the Customizer's user does, in an editor; gives the text."""
    edited, count = re.subn(rf"^(rod_loops_{name} = )[^;]*;", rf"\g<1>{value};", text, flags=re.M)
    assert count == 1
    (folder / NAME).write_text(edited)
    return edited


def without_sliders(text: str) -> str:
    """The text without fingerprint and sliders: these suit the values it was written with."""
    return re.sub(r"^(\w+ = .*;)  // .*$", r"\1", unsealed(text), flags=re.M)


def write(folder: Path, new: str, keep_values: bool = True) -> Written:
    return write_keeping(folder, {NAME: new.encode()}, keep_values=keep_values)


def read(folder: Path) -> str:
    return (folder / NAME).read_text()


@each_family
def test_all_values_of_a_hinge_come_along(cls: type[Hinge], tmp_path: Path) -> None:
    name, default, other = "mine.scad", emit_customizer(cls()), emit_customizer(moved(cls))
    write_keeping(tmp_path, {name: default.encode()})
    edited = default
    for field, source in settings(cls, other).items():
        edited = re.sub(rf"^({cls.family}_{field} =)[^;]*", rf"\1 {source}", edited, flags=re.M)
    assert edited != default
    (tmp_path / name).write_text(edited)
    assert write_keeping(tmp_path, {name: default.encode()}, keep_values=True).kept == []
    assert without_sliders((tmp_path / name).read_text()) == without_sliders(other)


@each_family
def test_the_section_holds_the_part_and_every_value(cls: type[Hinge]) -> None:
    found = settings(cls, emit_customizer(cls()))
    assert found.pop("part") == '"both"'
    assert {n: float(v) for n, v in found.items()} == {
        n: limits.initial for n, limits in bounds(cls).items()
    }


def test_only_what_was_set_comes_along(folder: Path) -> None:
    put(folder, "length", "45.0", put(folder, "part", '"fixed"'))
    new = newer(OLD)
    assert write(folder, new) == Written([folder / NAME], [])
    assert settings(ROD, read(folder)) == {
        **settings(ROD, new),
        "part": '"fixed"',
        "length": "45",
    }
    assert "// Facets of a whole turn" in read(folder)


def test_values_that_came_along_are_not_lost_later(folder: Path) -> None:
    put(folder, "length", "45")
    write(folder, OLD)
    kept = read(folder)
    (told,) = write(folder, OLD, keep_values=False).kept
    assert (told.beside, read(folder)) == (None, kept)
    assert write(folder, newer(OLD), keep_values=False).kept[0].beside
    assert read(folder) == kept
    assert write(folder, newer(OLD)).kept == []
    assert settings(ROD, read(folder))["length"] == "45"
    assert [path.name for path in folder.glob("[!.]*")] == [NAME]


def test_other_edits_stay_and_the_values_are_in_the_offer(folder: Path) -> None:
    mine = put(folder, "length", "45") + "cube(1);\n"
    (folder / NAME).write_text(mine)
    (kept,) = write(folder, newer(OLD)).kept
    assert read(folder) == mine
    assert kept.beside == folder / "rod_loops_customizer.new.scad"
    assert settings(ROD, kept.beside.read_text())["length"] == "45"
    assert "cube(1)" not in kept.beside.read_text()
    write(folder, newer(OLD))
    assert sorted(path.name for path in folder.glob("[!.]*")) == [
        "rod_loops_customizer.new.scad",
        NAME,
    ]
    kept.beside.rename(folder / NAME)
    write(folder, OLD, keep_values=False)
    assert settings(ROD, read(folder))["length"] == "45"


def test_without_a_record_values_come_along_as_well(folder: Path) -> None:
    put(folder, "length", "45")
    (folder / record.NAME).unlink()
    assert write(folder, OLD).kept == []
    assert settings(ROD, read(folder)) == {**settings(ROD, OLD), "length": "45"}


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("rod", "99", "rod_loops_rod = 99 mm; it must be 3 to 16 mm. With the rest as it is: "),
        ("rod", "1e999", "rod_loops_rod = inf mm; it must be 3 to 16 mm. With the rest as it is: "),
        ("knuckles", "2.5", "rod_loops_knuckles = 2.5; it must be 1 to 12 in steps of 1, or 0."),
        ("length", "10", "rod_loops_length = 10 mm; it must be at least "),
        ("rod", "2 * 3", "rod_loops_rod = 2 * 3; only plain numbers are carried over."),
        ("rod", "undef", "rod_loops_rod = undef; only plain numbers are carried over."),
        ("part", '"lid"', 'rod_loops_part = "lid"; it must be one of both, fixed, moving, '),
        ("rod", "5;\nrod_loops_pin = 3", "rod_loops_pin = 3; the new text has no such value"),
    ],
)
def test_values_that_do_not_work_are_refused(
    name: str, value: str, words: str, folder: Path
) -> None:
    put(folder, name, value)
    before = contents(folder)
    with pytest.raises(ValueNotKept) as caught:
        write(folder, newer(OLD))
    assert str(caught.value).startswith(f"{folder / NAME}: {words}")
    assert str(caught.value).endswith(" Nothing was changed.")
    assert contents(folder) == before


def test_what_stands_below_does_not_come_along(folder: Path) -> None:
    (folder / NAME).write_text(OLD + "rod_loops_rod = 6;\n")
    (kept,) = write(folder, newer(OLD)).kept
    assert kept.beside
    assert kept.beside.read_text() == newer(OLD)


@pytest.mark.openscad
def test_openscad_reads_the_values(folder: Path) -> None:
    put(folder, "length", "45", put(folder, "part", '"fixed"'))
    write(folder, newer(OLD))
    said = "echo(rod_loops_length, rod_loops_part, rod_loops_facets);\n"
    (folder / "rod_loops.scad").write_text(emit(ROD()))
    (folder / "echo.scad").write_text(f"include <{NAME}>\n{said}")
    command = [shutil.which("openscad") or "openscad", "--hardwarnings", "-o", "out.csg"]
    run = subprocess.run(
        [*command, "echo.scad"], cwd=folder, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr
    assert 'ECHO: 45, "fixed", 72\n' in run.stderr
