"""Places that are hard to write to: each gives a clear error and nothing is lost, or it works."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from scadgen.keeping.files import WriteError, write_all
from tests.support import ROOT
from tests.test_files import NEW, OLD, contents

NOBODY = 65534


def python(script: str, *arguments: str) -> str:
    """What a script prints, run in a process of its own."""
    run = subprocess.run(
        [sys.executable, "-c", script, *arguments],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    return run.stdout


WRITE = """
import os, resource, sys
from pathlib import Path
from scadgen.keeping.files import WriteError, write_all
{first}
try:
    write_all(Path(sys.argv[1]), {{"a.txt": b"new a", "b.txt": b"new b" * 9999}})
except WriteError as error:
    print(error, end="")
"""


def refused(folder: Path, name: str | None, words: str) -> None:
    """Writing fails with the path and the words, and all is as before."""
    before = contents(folder.parent)
    with pytest.raises(WriteError) as caught:
        write_all(folder, NEW)
    assert caught.value.path == (folder / name if name else folder)
    assert str(caught.value).startswith(f"{caught.value.path}: cannot be written: {words}. Nothing")
    assert contents(folder.parent) == before


def test_a_folder_that_one_may_not_write_to() -> None:
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "parts"
        write_all(folder, OLD)
        Path(place).chmod(0o755)
        folder.chmod(0o555)
        drop = f"os.getuid() or os.setuid({NOBODY})"  # root may write anywhere
        said = python(WRITE.format(first=drop), str(folder))
        assert said.startswith(f"{folder / 'a.txt'}: cannot be written: Permission denied. Nothing")
        assert "choose a folder that you may write to" in said
        assert contents(folder) == OLD


def test_a_disk_without_room(tmp_path: Path) -> None:
    """The system's own limit on the size of a file stands for a full disk."""
    write_all(tmp_path, OLD)
    limit = "resource.setrlimit(resource.RLIMIT_FSIZE, (9999, 9999))"
    said = python(WRITE.format(first=limit), str(tmp_path))
    assert said.startswith(f"{tmp_path / 'b.txt'}: cannot be written: File too large. Nothing")
    assert "on a disk with room" in said
    assert contents(tmp_path) == OLD


def test_a_read_only_file_is_left_alone(tmp_path: Path) -> None:
    write_all(tmp_path / "parts", OLD)
    (tmp_path / "parts" / "b.txt").chmod(0o444)
    refused(tmp_path / "parts", "b.txt", "somebody has made it read-only")


def test_a_file_keeps_its_rights(tmp_path: Path) -> None:
    write_all(tmp_path, OLD)
    (tmp_path / "a.txt").chmod(0o600)
    write_all(tmp_path, NEW)
    assert stat.S_IMODE((tmp_path / "a.txt").stat().st_mode) == 0o600


def test_a_link_stays_and_its_file_is_replaced(tmp_path: Path) -> None:
    folder, elsewhere = tmp_path / "parts", tmp_path / "elsewhere"
    write_all(folder, OLD)
    write_all(elsewhere, {"mine.txt": b"old a"})
    (folder / "a.txt").unlink()
    (folder / "a.txt").symlink_to(elsewhere / "mine.txt")
    write_all(folder, NEW)
    assert (folder / "a.txt").is_symlink()
    assert contents(elsewhere) == {"mine.txt": b"new a"}
    assert contents(folder) == NEW


def test_a_link_to_a_folder_can_be_written_into(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "parts").symlink_to(tmp_path / "real")
    write_all(tmp_path / "parts", NEW)
    assert contents(tmp_path / "real") == NEW


@pytest.mark.parametrize(
    ("to", "words"),
    [
        ("nothing", "it is a link to nothing"),
        ("a.txt", "it is a link to nothing"),  # to itself, without end
        ("..", "Is a directory"),
        (os.devnull, "it is not a file but a device or the like"),
    ],
)
def test_a_link_to_no_file_is_refused(to: str, words: str, tmp_path: Path) -> None:
    write_all(tmp_path / "parts", {"b.txt": b"old b"})
    (tmp_path / "parts" / "a.txt").symlink_to(to)
    refused(tmp_path / "parts", "a.txt", words)
    assert (tmp_path / "parts" / "a.txt").readlink() == Path(to)


def test_two_links_to_one_file_are_refused(tmp_path: Path) -> None:
    write_all(tmp_path / "parts", {"a.txt": b"old a"})
    (tmp_path / "parts" / "c.txt").symlink_to("a.txt")
    refused(tmp_path / "parts", "c.txt", "it is a link to another of the files")


def test_a_folder_that_is_a_link_to_nothing(tmp_path: Path) -> None:
    (tmp_path / "parts").symlink_to("nothing")
    refused(tmp_path / "parts", None, "it is a link to nothing")


@pytest.mark.parametrize("name", ["teedose für Öl", "箱 の 部品", "a'b\"c$d;e", "-rf", "x" * 255])
def test_folders_of_any_name(name: str, tmp_path: Path) -> None:
    write_all(tmp_path / name / name, OLD)
    write_all(tmp_path / name / name, NEW)
    assert contents(tmp_path / name / name) == NEW


@pytest.mark.parametrize(
    ("name", "words"),
    [("x" * 256, "File name too long"), ("a\0b", "a null character is in its name")],
)
def test_folders_that_cannot_be(name: str, words: str, tmp_path: Path) -> None:
    refused(tmp_path / name, None, words)


def test_what_a_killed_process_left_is_cleared_away(tmp_path: Path) -> None:
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait()
    ours, alive = os.getpid(), os.getppid()
    for process in (gone.pid, ours, alive):
        (tmp_path / f".lid.stl.{process}.new.scadgen").touch()
    (tmp_path / ".a.txt.5.backup").touch()
    write_all(tmp_path, NEW)
    assert contents(tmp_path) == {
        **NEW,
        f".lid.stl.{alive}.new.scadgen": b"",
        ".a.txt.5.backup": b"",
    }
