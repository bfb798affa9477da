"""Modules in OpenSCAD's library folder: found by the real one, and removed without loss."""

from __future__ import annotations

from pathlib import Path

import pytest

from scadgen.cli.main import main
from scadgen.hinge.family import Hinge, definition
from scadgen.openscad.library import library_texts
from scadgen.openscad.userlibrary import FOLDER, RECORD, shipped, user_folder
from tests.engine import literal, opened, run, tree
from tests.support import each_family, fewest

MODULE = "rod_loops.scad"


def install(libraries: Path, *options: str) -> int:
    return main(["install-library", "--to", str(libraries), *options])


def held(folder: Path) -> dict[str, str]:
    """The files in a folder by name, but for the record."""
    paths = (path for path in folder.iterdir() if path.name != RECORD)
    return {path.name: path.read_bytes().decode() for path in paths}


@pytest.mark.parametrize(
    ("platform", "named", "wanted"),
    [
        ("linux", "", "home/.local/share/OpenSCAD/libraries"),
        ("darwin", "", "home/Documents/OpenSCAD/libraries"),
        ("win32", "", "home/Documents/OpenSCAD/libraries"),
        ("linux", "one:two", "one"),
        ("win32", "C:one;two", "C:one"),
    ],
)
def test_the_folder_is_that_of_the_platform(platform: str, named: str, wanted: str) -> None:
    environment = {"OPENSCADPATH": named} if named else {}
    assert user_folder(platform, environment, Path("home")) == Path(wanted)


@pytest.mark.parametrize("options", [[], ["--link"]], ids=["copied", "linked"])
def test_what_is_installed_is_the_library_and_goes_again(
    options: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    libraries = tmp_path / "new" / "libraries"
    for _ in range(2):  # a second time changes nothing
        assert install(libraries, *options) == 0
        assert held(libraries / FOLDER) == library_texts()
    assert (libraries / FOLDER).is_symlink() == bool(options)
    assert f"wrote {libraries / FOLDER}" in capsys.readouterr().out
    assert install(libraries, "--remove") == 0
    assert list(libraries.iterdir()) == []
    assert f"removed {libraries / FOLDER}" in capsys.readouterr().out
    assert held(shipped()) == library_texts()
    assert install(libraries, "--remove") == 0
    assert "nothing is installed" in capsys.readouterr().out


def test_an_edited_file_is_kept_and_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    install(tmp_path)
    edited, own = tmp_path / FOLDER / MODULE, tmp_path / FOLDER / "own.scad"
    edited.write_text("cube(1);")
    own.write_text("cube(2);")
    capsys.readouterr()
    assert install(tmp_path) == 2
    assert f"{edited}: is not as it was installed. Nothing was changed" in capsys.readouterr().err
    assert install(tmp_path, "--remove", "--quiet") == 1
    assert capsys.readouterr().out.splitlines() == [
        f"kept {path}: edited or added since it was installed" for path in (own, edited)
    ]
    assert held(tmp_path / FOLDER) == {MODULE: "cube(1);", own.name: "cube(2);"}


def test_an_older_version_is_replaced_and_what_it_had_more_goes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    older = {MODULE: "cube(1);", "gone.scad": "cube(2);"}
    monkeypatch.setattr("scadgen.openscad.library.library_texts", lambda: older)
    install(tmp_path)
    assert held(tmp_path / FOLDER) == older
    monkeypatch.undo()
    assert install(tmp_path) == 0
    assert held(tmp_path / FOLDER) == library_texts()


def test_a_file_of_another_owner_is_never_replaced(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / FOLDER / MODULE
    path.parent.mkdir()
    path.write_text("cube(1);")
    for options in ([], ["--link"]):
        assert install(tmp_path, *options) == 2
        assert "Nothing was changed" in capsys.readouterr().err
    assert held(tmp_path / FOLDER) == {MODULE: "cube(1);"}


def test_a_link_of_another_owner_is_kept(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "own").mkdir()
    (tmp_path / FOLDER).symlink_to(tmp_path / "own")
    assert install(tmp_path) == install(tmp_path, "--link") == 2
    assert install(tmp_path, "--remove") == 1
    assert (tmp_path / FOLDER).is_symlink()
    assert list((tmp_path / "own").iterdir()) == []


def test_a_link_that_has_lost_its_package_is_mended_and_removed(tmp_path: Path) -> None:
    for option in ("--link", "--remove"):
        (tmp_path / FOLDER).symlink_to(tmp_path / "uninstalled")
        assert install(tmp_path, option) == 0
        assert (tmp_path / FOLDER).exists() == (option == "--link")
        (tmp_path / FOLDER).unlink(missing_ok=True)


@pytest.mark.parametrize("record", ["{", "[]", '{"../own.scad": ""}', "\0"])
def test_a_spoilt_record_removes_nothing(record: str, tmp_path: Path) -> None:
    install(tmp_path)
    (tmp_path / FOLDER / RECORD).write_text(record)
    (tmp_path / "own.scad").write_text("")
    assert install(tmp_path, "--remove") == 1
    assert held(tmp_path / FOLDER) == library_texts()
    assert (tmp_path / "own.scad").exists()


def test_a_folder_that_cannot_be_written_is_an_error(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "file").write_text("")
    for options in ([], ["--link"]):
        assert install(tmp_path / "file", *options) == 2
        assert str(tmp_path / "file") in capsys.readouterr().err


@pytest.mark.openscad
@each_family
@pytest.mark.parametrize("how", ["copied", "linked", "named"])
def test_openscad_finds_it_from_anywhere(
    cls: type[Hinge], how: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In its own folder of a home, or in the one that OPENSCADPATH names.

    It draws what the module's own text does, which is held against the hinge's mesh elsewhere.
    """
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.delenv("OPENSCADPATH", raising=False)
    if how == "named":
        monkeypatch.setenv("OPENSCADPATH", str(tmp_path / "parts"))
    assert main(["install-library", *(["--link"] if how == "linked" else [])]) == 0
    (tmp_path / "model").mkdir()
    part = "fixed" if "fixed" in definition(cls).parts else "both"
    named = {"part": part, **fewest(cls)}
    values = ", ".join(f"{name} = {literal(value)}" for name, value in named.items())
    source = f"use <scadgen/{cls.family}.scad>\n{cls.family}({values});\n"
    own = tree(opened(cls()), tmp_path, **{f"{cls.family}_{n}": v for n, v in named.items()})
    assert "intersection()" in own or "difference()" in own or "linear_extrude(" in own
    assert tree(source, tmp_path / "model") == own
    assert main(["install-library", "--remove"]) == 0
    assert run(source, tmp_path / "model").trouble
