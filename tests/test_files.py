"""Files are written all or none."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from scadgen.keeping.files import WriteError, write_all

OLD = {"a.txt": b"old a", "b.txt": b"old b"}
NEW = {"a.txt": b"new a", "b.txt": b"new b", "c.txt": b"new c"}


def contents(folder: Path) -> dict[str, bytes | None]:
    """Everything below a folder: a file's bytes, None for a folder."""
    return {
        str(path.relative_to(folder)): path.read_bytes() if path.is_file() else None
        for path in folder.rglob("*")
    }


def failing_at(call: int, error: BaseException, real: Callable[..., Any]) -> Callable[..., Any]:
    calls = 0

    def wrapped(*args: Any, **kwargs: Any) -> Any:
        nonlocal calls
        calls += 1
        if calls == call:
            raise error
        return real(*args, **kwargs)

    return wrapped


def test_files_are_written_and_nothing_else(tmp_path: Path) -> None:
    folder = tmp_path / "deep" / "parts"
    assert write_all(folder, OLD) == [folder / name for name in OLD]
    assert contents(folder) == OLD
    write_all(folder, NEW)
    assert contents(folder) == NEW


def test_a_written_file_has_the_usual_rights(tmp_path: Path) -> None:
    write_all(tmp_path, {"a": b""})
    (tmp_path / "b").touch()
    assert (tmp_path / "a").stat().st_mode == (tmp_path / "b").stat().st_mode


@pytest.mark.parametrize("error", [OSError(28, "No space left on device"), KeyboardInterrupt()])
@pytest.mark.parametrize("call", [1, 2, 3])
@pytest.mark.parametrize(
    ("owner", "name"), [(os, "fsync"), (Path, "replace"), (Path, "open")], ids=lambda v: str(v)
)
def test_a_failure_in_the_middle_changes_nothing(
    owner: Any,
    name: str,
    call: int,
    error: BaseException,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    write_all(tmp_path, OLD)
    wanted = WriteError if isinstance(error, OSError) else type(error)
    with monkeypatch.context() as patch:
        patch.setattr(owner, name, failing_at(call, error, getattr(owner, name)))
        with pytest.raises(wanted) as caught:
            write_all(tmp_path, NEW)
    assert contents(tmp_path) == OLD
    if isinstance(caught.value, WriteError):
        assert caught.value.path == tmp_path / list(NEW)[call - 1]
        assert str(caught.value).startswith(f"{caught.value.path}: cannot be written: No space")
        assert "Nothing was changed; choose a folder" in str(caught.value)


def test_a_failure_leaves_no_new_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", failing_at(2, OSError(28, "full"), os.fsync))
        with pytest.raises(WriteError):
            write_all(tmp_path / "deep" / "parts", NEW)
    assert contents(tmp_path) == {}


def test_what_is_in_the_way_stays(tmp_path: Path) -> None:
    write_all(tmp_path, OLD)
    (tmp_path / "c.txt").mkdir()
    with pytest.raises(WriteError, match=r"c\.txt: cannot be written: Is a directory"):
        write_all(tmp_path, NEW)
    assert contents(tmp_path) == {**OLD, "c.txt": None}
    with pytest.raises(WriteError, match=r"a\.txt.*: Not a directory"):
        write_all(tmp_path / "a.txt", NEW)
    with pytest.raises(WriteError, match=r"Not a directory"):
        write_all(tmp_path / "a.txt" / "deep", NEW)
    assert contents(tmp_path) == {**OLD, "c.txt": None}
