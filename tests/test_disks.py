"""Writers at once, disks that fill at any operation, records that others have written."""

from __future__ import annotations

import errno
import json
import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from scadgen.keeping import alone
from scadgen.keeping.edits import write_keeping
from scadgen.keeping.files import WriteError, write_all
from scadgen.keeping.fingerprint import sealed
from scadgen.keeping.record import NAME, load
from tests.support import thorough
from tests.test_files import contents

#: Writers at once, and how often each writes.
WRITERS, TIMES = 3, 60 if thorough() else 8
forks = pytest.mark.skipif(not hasattr(os, "fork"), reason="processes are not split here")
#: What takes room on a disk, and so fails when it is full.
TAKES_ROOM: tuple[tuple[Any, str], ...] = (
    (os, "fsync"),
    (shutil, "copy2"),
    (Path, "mkdir"),
    (Path, "open"),
)


def files(version: int) -> dict[str, bytes]:
    """A text, a mesh and a report, each of the version alone."""
    line = f"// {version}\n"
    text = sealed(line, line, "// ").encode()
    return {"lid.scad": text, "lid.stl": b"\0" + line.encode(), "lid.txt": text}


@forks
def test_writers_at_once_leave_the_files_of_one(tmp_path: Path) -> None:
    folder = tmp_path / "deep" / "parts"
    children = []
    for writer in range(1, WRITERS + 1):
        child = os.fork()
        if child == 0:
            try:
                for time_ in range(TIMES):
                    write_keeping(folder, files(writer * 1_000_000 + time_))
                os._exit(0)
            finally:
                os._exit(1)
        children.append(child)
    assert [os.waitpid(child, 0)[1] for child in children] == [0] * WRITERS
    last = [files(writer * 1_000_000 + TIMES - 1) for writer in range(1, WRITERS + 1)]
    found = {path.name: path.read_bytes() for path in folder.iterdir() if path.name != NAME}
    assert found in last
    assert set(load(folder).files) == set(files(1_000_000))


@forks
def test_a_writer_that_never_ends_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_keeping(tmp_path, files(1))
    before = contents(tmp_path)
    monkeypatch.setattr(alone, "PATIENCE", 0.05)
    with alone.alone(tmp_path), pytest.raises(WriteError, match="another program writes there"):
        write_keeping(tmp_path, files(2))
    assert contents(tmp_path) == before
    write_keeping(tmp_path, files(2))


class Disk:
    """Fails with every operation that takes room, from one on; ``tried`` counts them."""

    def __init__(self, last: int) -> None:
        self.last, self.tried = last, 0

    def filling(self, real: Callable[..., Any]) -> Callable[..., Any]:
        def operation(*given: Any, **named: Any) -> Any:
            self.tried += 1
            if self.tried > self.last:
                raise OSError(errno.ENOSPC, "No space left on device")
            return real(*given, **named)

        return operation


@pytest.mark.parametrize("there", [True, False], ids=["over old files", "into no folder"])
@pytest.mark.parametrize("accept", [(), ("lid.scad",)], ids=["kept", "replaced"])
def test_a_disk_that_fills_at_any_operation_leaves_all_as_it_was(
    there: bool, accept: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With an edited file among them; only the second record may be missing, which does no harm."""
    folder = tmp_path / "parts"
    if there:
        write_keeping(folder, files(1))
        (folder / "lid.scad").write_bytes(files(1)["lid.scad"] + b"cube(3);\n")
    before = contents(tmp_path)
    said = set()
    for last in range(100):
        disk = Disk(last)
        with monkeypatch.context() as patch:
            for owner, name in TAKES_ROOM:
                patch.setattr(owner, name, disk.filling(getattr(owner, name)))
            try:
                write_keeping(folder, files(2), accept=accept)
                break
            except WriteError as error:
                said.add(str(error).partition(": ")[2])
        assert contents(tmp_path) == before, last
    assert last > 2 * len(files(2))
    assert all("No space left on device. Nothing was changed" in words for words in said)
    assert folder.joinpath("lid.txt").read_bytes() == files(2)["lid.txt"]
    write_keeping(folder, files(2), accept=accept)
    assert not [path for path in folder.glob(".*") if path.name != NAME]


def foreign(text: str) -> Iterator[bytes]:
    """Records that this version did not write whole: cut off, newer, of another form."""
    yield from (text[:cut].encode() for cut in range(0, len(text), len(text) // 12))
    told = json.loads(text)
    newer = {
        name: [{**one, "size": 3, "by": {"later": 1}} for one in of]
        for name, of in told["files"].items()
    }
    yield json.dumps({"about": "", "version": 9, "files": newer}).encode()
    yield json.dumps({"about": "", "files": {name: {"sha512": ""} for name in newer}}).encode()
    yield json.dumps({"about": "", "files": {name: [{"sha256": 3}] for name in newer}}).encode()


def test_whatever_the_record_says_no_edit_is_lost(tmp_path: Path) -> None:
    write_keeping(tmp_path / "first", files(1))
    whole = (tmp_path / "first" / NAME).read_text()
    mine = {"lid.scad": files(1)["lid.scad"] + b"cube(3);\n", "lid.stl": b"\0mine"}
    for number, record in enumerate(foreign(whole)):
        folder = tmp_path / str(number)
        shutil.copytree(tmp_path / "first", folder)
        for name, data in mine.items():
            (folder / name).write_bytes(data)
        (folder / NAME).write_bytes(record)
        kept = write_keeping(folder, files(2)).kept
        assert {each.path.name for each in kept} == set(mine)
        assert all((folder / name).read_bytes() == data for name, data in mine.items())


def test_a_record_of_another_folder_makes_nothing_ours(tmp_path: Path) -> None:
    write_keeping(tmp_path / "theirs", files(1))
    folder = tmp_path / "mine"
    write_all(folder, {"lid.scad": b"cube(3);\n", "lid.stl": b"\0mine"})
    shutil.copy(tmp_path / "theirs" / NAME, folder)
    assert len(write_keeping(folder, files(2)).kept) == 2
    assert (folder / "lid.scad").read_bytes() == b"cube(3);\n"
    assert (folder / "lid.stl").read_bytes() == b"\0mine"
