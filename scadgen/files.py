"""Putting files into a folder: all of them or none."""

from __future__ import annotations

import os
import shutil
from collections.abc import Mapping
from contextlib import ExitStack, suppress
from pathlib import Path


class WriteError(OSError):
    """Files could not be written; the folder is as it was.

    Attribute: ``path`` of the file or folder that failed.
    """

    def __init__(self, path: Path, why: OSError) -> None:
        self.path = path
        super().__init__(
            f"{path}: cannot be written: {why.strerror or why}. Nothing was changed; choose a "
            "folder that you may write to, on a disk with room, or move what is in the way."
        )


def write_all(folder: str | Path, files: Mapping[str, bytes]) -> list[Path]:
    """Write the named files into ``folder`` (made if need be), replacing older ones.

    Every file is stored beside its target first and renamed when all are. Raises WriteError when
    one fails; then the folder holds what it held before.
    """
    targets = {Path(folder) / name: data for name, data in files.items()}
    at = Path(folder)
    try:
        with ExitStack() as tidy, ExitStack() as undo:
            _make_folder(at, tidy)
            stored = {}
            for at, data in targets.items():
                stored[at] = _beside(at, "new", tidy)
                _store(stored[at], data)
            for at, new in stored.items():
                _replace(at, new, tidy, undo)
            undo.pop_all()
    except OSError as error:
        raise WriteError(at, error) from error
    return list(targets)


def _make_folder(folder: Path, tidy: ExitStack) -> None:
    for made in reversed([path for path in (folder, *folder.parents) if not path.exists()]):
        made.mkdir()
        tidy.callback(_remove_if_empty, made)


def _remove_if_empty(folder: Path) -> None:
    with suppress(OSError):
        folder.rmdir()


def _beside(target: Path, what: str, tidy: ExitStack) -> Path:
    """The name of a temporary file on the same disk, removed in the end if still there."""
    path = target.with_name(f".{target.name}.{os.getpid()}.{what}")
    tidy.callback(path.unlink, missing_ok=True)
    return path


def _store(path: Path, data: bytes) -> None:
    with path.open("wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _replace(target: Path, new: Path, tidy: ExitStack, undo: ExitStack) -> None:
    if target.exists():
        old = _beside(target, "old", tidy)
        shutil.copy2(target, old)
        undo.callback(old.replace, target)
        new.replace(target)
    else:
        new.replace(target)
        undo.callback(target.unlink)
