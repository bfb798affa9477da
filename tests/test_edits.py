"""Edits are kept whatever is written again."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scadgen.keeping import record
from scadgen.keeping.edits import Replaced, Written, write_keeping
from scadgen.keeping.files import WriteError
from scadgen.keeping.fingerprint import is_as_written, sealed, unsealed
from tests.test_files import contents

LINES = [f"// line {k}\n" for k in range(40)]
MINE, NEW = "// mine\n", "// newer\n"
BINARY = b"\0binary"


def text(*changes: tuple[int, str]) -> bytes:
    """The lines, some replaced, as they would be written."""
    lines = list(LINES)
    for number, line in changes:
        lines[number] = line
    return sealed(lines[0], "".join(lines[1:]), "// ").encode()


OLD, NEWER = text(), text((30, NEW))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder in which the old files were written."""
    write_keeping(tmp_path / "parts", {"lid.scad": OLD, "lid.stl": BINARY})
    return tmp_path / "parts"


def edit(path: Path, line: int = 5, to: str = MINE) -> bytes:
    """Change one line of a file as an editor does; gives its bytes."""
    path.write_text(path.read_text().replace(LINES[line], to))
    return path.read_bytes()


def write(folder: Path, data: bytes = NEWER, name: str = "lid.scad", **how: object) -> Written:
    return write_keeping(folder, {name: data}, **how)  # type: ignore[arg-type]


def visible(folder: Path) -> dict[str, bytes | None]:
    return {name: data for name, data in contents(folder).items() if name != record.NAME}


def test_what_was_not_edited_is_replaced(folder: Path) -> None:
    new = {"lid.scad": NEWER, "lid.stl": BINARY + b"2"}
    done = write_keeping(folder, new)
    assert done == Written([folder / name for name in new], [])
    assert visible(folder) == new


def test_an_edited_text_stays_and_the_new_one_is_beside_it(folder: Path) -> None:
    mine = edit(folder / "lid.scad")
    done = write(folder)
    assert done.paths == [folder / "lid.new.scad"]
    (kept,) = done.kept
    assert (kept.path, kept.beside, kept.ours) == (
        folder / "lid.scad",
        folder / "lid.new.scad",
        True,
    )
    assert visible(folder) == {"lid.scad": mine, "lid.new.scad": NEWER, "lid.stl": BINARY}
    assert write(folder) == done


def test_the_difference_has_three_ways(folder: Path) -> None:
    edit(folder / "lid.scad")
    lines = write(folder).kept[0].difference.splitlines()
    path = folder / "lid.scad"
    titles = [line for line in lines if line.startswith(("---", "+++"))]
    was, mine, now = (
        f"{path}, as {words}"
        for words in ("scadgen wrote it", "you edited it", "it would be written now")
    )
    assert titles == [f"--- {was}", f"+++ {mine}", f"--- {was}", f"+++ {now}"]
    changed = [line for line in lines if line[0] in "+-" and line not in titles]
    assert changed == ["-// line 5", "+// mine", "-// line 30", "+// newer"]


def test_nothing_is_offered_that_brings_nothing_new(folder: Path) -> None:
    mine = edit(folder / "lid.scad")
    done = write(folder, OLD)
    assert (done.paths, [kept.beside for kept in done.kept]) == ([], [None])
    assert visible(folder) == {"lid.scad": mine, "lid.stl": BINARY}


def test_an_offer_goes_once_its_changes_are_merged_by_hand(folder: Path) -> None:
    edit(folder / "lid.scad")
    write(folder)
    merged = edit(folder / "lid.scad", 30, NEW)
    assert write(folder).kept[0].beside is None
    assert visible(folder) == {"lid.scad": merged, "lid.stl": BINARY}


def test_an_accepted_file_is_replaced_and_its_offer_goes(folder: Path) -> None:
    edit(folder / "lid.scad")
    write(folder)
    path, backup = folder / "lid.scad", folder / "lid.old.scad"
    mine = path.read_bytes()
    assert write(folder, accept=["lid.scad"]) == Written([path], [], [Replaced(path, backup)])
    assert visible(folder) == {"lid.scad": NEWER, "lid.stl": BINARY, backup.name: mine}


@pytest.mark.parametrize("name", ["lid.scad", "lid.stl"])
def test_an_offer_put_in_place_by_hand_counts_as_written(folder: Path, name: str) -> None:
    (folder / name).write_bytes(b"\0mine")
    new = {"lid.scad": NEWER, "lid.stl": BINARY + b"2"}[name]
    offer = write(folder, new, name).kept[0].beside
    assert offer
    offer.rename(folder / name)
    newest = {"lid.scad": text((31, NEW)), "lid.stl": BINARY + b"3"}[name]
    assert write(folder, newest, name).kept == []
    assert (folder / name).read_bytes() == newest


def test_an_edited_offer_is_kept_too(folder: Path) -> None:
    edit(folder / "lid.scad")
    write(folder)
    mine = edit(folder / "lid.new.scad", 6)
    assert write(folder).paths == [folder / "lid.new2.scad"]
    assert write(folder).paths == [folder / "lid.new2.scad"]
    assert (folder / "lid.new.scad").read_bytes() == mine
    write(folder, accept=["lid.scad"])
    assert (folder / "lid.new.scad").read_bytes() == mine


@pytest.mark.parametrize("mine", [b"// mine\n", b"\0mine", b"\xff", b"", LINES[0].encode()])
def test_a_file_that_scadgen_never_wrote_is_kept(mine: bytes, tmp_path: Path) -> None:
    (tmp_path / "lid.scad").write_bytes(mine)
    (kept,) = write(tmp_path).kept
    assert kept.beside == tmp_path / "lid.new.scad"
    assert not kept.ours
    assert visible(tmp_path) == {"lid.scad": mine, "lid.new.scad": NEWER}


def test_an_edited_mesh_stays(folder: Path) -> None:
    (folder / "lid.stl").write_bytes(b"\0mine")
    assert write(folder, BINARY, "lid.stl").kept[0].beside is None
    kept = write(folder, BINARY + b"2", "lid.stl").kept[0]
    assert (kept.beside, kept.difference) == (folder / "lid.new.stl", "")
    assert write(folder, BINARY + b"2", "lid.stl").kept == [kept]
    assert (folder / "lid.new.stl").read_bytes() == BINARY + b"2"
    assert (folder / "lid.stl").read_bytes() == b"\0mine"


@pytest.mark.parametrize(
    "broken",
    [None, b"", b"\xff", b"[]", b'{"files": 3}', b'{"files": {"lid.scad": [{}]}}', b"[" * 9999],
)
def test_without_a_record_no_edit_is_lost(broken: bytes | None, folder: Path) -> None:
    (folder / record.NAME).unlink()
    if broken is not None:
        (folder / record.NAME).write_bytes(broken)
    new = {"lid.scad": NEWER, "lid.stl": BINARY + b"2"}
    (kept,) = write_keeping(folder, new).kept
    assert kept.path == folder / "lid.stl"  # it cannot say that it is as written
    assert (folder / "lid.scad").read_bytes() == NEWER


def test_without_a_record_the_difference_is_from_the_edited_text(folder: Path) -> None:
    edit(folder / "lid.scad")
    (folder / record.NAME).unlink()
    lines = write(folder).kept[0].difference.splitlines()
    changed = [line for line in lines if line[0] in "+-" and not line.startswith(("---", "+++"))]
    assert changed == ["-// mine", "+// line 5", "-// line 30", "+// newer"]


def test_other_files_stay_in_the_record(folder: Path) -> None:
    write(folder, OLD, "box.scad")
    assert write(folder, BINARY + b"2", "lid.stl").kept == []
    (folder / "box.scad").unlink()
    write(folder, BINARY + b"3", "lid.stl")
    assert set(record.load(folder).files) == {"lid.scad", "lid.stl"}


def test_ends_of_lines_are_no_edit(folder: Path) -> None:
    (folder / "lid.scad").write_bytes(OLD.replace(b"\n", b"\r\n"))
    assert write(folder).kept == []


def test_a_difference_does_not_steer_a_terminal(folder: Path) -> None:
    edit(folder / "lid.scad", to="\x1b[2J\u202e\n")
    difference = write(folder).kept[0].difference
    assert "\n+\\x1b[2J\\u202e\n" in difference
    assert all(c.isprintable() for c in difference if c != "\n")


def test_what_cannot_be_written_changes_nothing(folder: Path) -> None:
    edit(folder / "lid.scad")
    before = contents(folder)
    (folder / "box.scad").mkdir()
    with pytest.raises(WriteError, match=r"box\.scad: cannot be written: Is a directory"):
        write_keeping(folder, {"lid.scad": NEWER, "box.scad": NEWER})
    assert contents(folder) == {**before, "box.scad": None}


@settings(max_examples=40)
@given(st.integers(0, len(OLD)), st.integers(0, 400), st.binary(max_size=9), st.booleans())
def test_no_edit_is_lost(
    tmp_path_factory: pytest.TempPathFactory, at: int, removed: int, put: bytes, carry: bool
) -> None:
    """Whatever somebody does to a file, writing again leaves it or changes only our own line."""
    folder = tmp_path_factory.mktemp("parts")
    write(folder, OLD)
    mine = OLD[:at] + put + OLD[at + removed :]
    (folder / "lid.scad").write_bytes(mine)
    write(folder, NEWER, keep_values=carry)
    now = (folder / "lid.scad").read_bytes()
    if now != mine:
        told = mine.decode()
        assert is_as_written(told) or unsealed(told) == unsealed(NEWER.decode())
        assert unsealed(told) == unsealed(OLD.decode())
        assert now == NEWER
