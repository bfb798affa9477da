"""Putting files into a folder: all of them or none, and none by halves.

Each file is written whole beside its place, brought to the disk, and renamed. So whatever happens,
loss of power included, a file is wholly the old or wholly the new one. An error in the middle puts
all back. A process that is killed in the middle may leave some files new and others old; writing
again finishes that and clears away what it left.
"""

from __future__ import annotations

import errno
import os
import re
import shutil
import stat
import time
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from scadgen.keeping import names
from scadgen.keeping.alone import alone

_REMEDY = "choose a folder that you may write to, on a disk with room, or move what is in the way."
_NULL = "a null character is in its name"
_LEFT_OVER = re.compile(r"\..+\.(\d{1,9})\.(?:new|old)\.scadgen")
_DAY = 24 * 60 * 60  # s


class WriteError(OSError):
    """Files could not be written; the folder is as it was.

    Attribute: ``path`` of the file or folder that failed.
    """

    def __init__(self, path: Path, why: str, remedy: str = _REMEDY) -> None:
        self.path = path
        super().__init__(f"{path}: cannot be written: {why}. Nothing was changed; {remedy}")


@contextmanager
def only_writer(folder: Path) -> Iterator[None]:
    """Be the only one who writes into ``folder``, made if need be, and gone again if still empty.

    Raises WriteError where that cannot be.
    """
    with ExitStack() as held:
        try:
            _make_folder(folder, held)
            held.enter_context(alone(folder))
        except OSError as error:
            raise WriteError(folder, error.strerror or str(error)) from error
        except ValueError as error:
            raise WriteError(folder, _NULL) from error
        yield


def write_all(folder: str | Path, files: Mapping[str, bytes]) -> list[Path]:
    """Write the named files as the only writer in ``folder``: see :func:`put`."""
    check_names(Path(folder), files)
    with only_writer(Path(folder)):
        return put(folder, files)


def put(folder: str | Path, files: Mapping[str, bytes]) -> list[Path]:
    """Write the named files into ``folder`` (made if need be), replacing older ones in order.

    A name may hold folders, joined by '/'. A link is followed to the file that it stands for.
    Raises WriteError when one fails; then the folder holds what it held before.
    """
    folder = at = Path(folder)
    check_names(folder, files)
    try:
        with ExitStack() as tidy, ExitStack() as undo:
            _make_folder(at, tidy)
            targets = {}
            for name, data in files.items():
                at = folder / name
                targets[_target(at)] = (at, data)
            if len(targets) < len(files):
                raise OSError(errno.EEXIST, "it is a link to another of the files")
            _clear_left_overs(targets)
            stored = {}
            for target, (path, data) in targets.items():
                at = path
                stored[target] = _beside(target, "new", tidy)
                _store(stored[target], data, target)
            for target, new in stored.items():
                at = targets[target][0]
                _replace(target, new, tidy, undo)
            undo.pop_all()
    except OSError as error:
        raise WriteError(at, error.strerror or str(error)) from error
    except ValueError as error:  # the one thing that no system takes
        raise WriteError(at, _NULL) from error
    _settle({target.parent for target in targets})
    return [folder / name for name in files]


def check_names(folder: Path, files: Mapping[str, bytes]) -> None:
    """Raise WriteError unless the names are files below ``folder`` on every system."""
    for name in files:
        if words := names.fault(name):
            raise WriteError(folder / name, words, "choose another name.")
    if same := names.clash(files):
        words = f"to Windows and macOS it is the same file as {same[0]}"
        raise WriteError(folder / same[1], words, "choose another name.")


def _make_folder(folder: Path, tidy: ExitStack) -> None:
    for made in reversed([path for path in (folder, *folder.parents) if not path.exists()]):
        if made.is_symlink():
            raise OSError(errno.ENOENT, "it is a link to nothing")
        made.mkdir(exist_ok=True)  # another writer may be quicker
        tidy.callback(_remove_if_empty, made)


def _remove_if_empty(folder: Path) -> None:
    with suppress(OSError):
        folder.rmdir()


def _target(path: Path) -> Path:
    """The file to replace: ``path``, or what it is a link to."""
    if path.is_symlink():
        try:
            path = path.resolve(strict=True)
        except (OSError, RuntimeError):
            raise OSError(errno.ENOENT, "it is a link to nothing") from None
    if path.is_dir():
        raise IsADirectoryError(errno.EISDIR, "Is a directory")
    if path.exists():
        if not path.is_file():
            raise OSError(errno.EINVAL, "it is not a file but a device or the like")
        if not path.stat().st_mode & (stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH):
            raise PermissionError(errno.EACCES, "somebody has made it read-only")
    return path


def _clear_left_overs(targets: Mapping[Path, object]) -> None:
    """Remove what killed processes have left beside the targets."""
    for folder in {target.parent for target in targets}:
        with suppress(OSError):  # whatever is wrong with the folder, writing says it better
            for path in [*_left_over(folder)]:
                path.unlink()


def _left_over(folder: Path) -> Iterator[Path]:
    for path in folder.iterdir():
        found = _LEFT_OVER.fullmatch(path.name)
        if found and not path.is_dir() and not _may_be_in_use(path, int(found[1])):
            yield path


def _may_be_in_use(path: Path, process: int) -> bool:
    """Whether the process that made a temporary file may still be at work."""
    if process == os.getpid():
        return False
    if os.name == "nt":  # there, asking after a process can end it
        return time.time() - path.stat().st_mtime < _DAY
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:  # it is another user's
        return True
    return True


def _beside(target: Path, what: str, tidy: ExitStack) -> Path:
    """The name of a temporary file on the same disk, removed in the end if still there."""
    path = target.with_name(f".{target.name}.{os.getpid()}.{what}.scadgen")
    tidy.callback(path.unlink, missing_ok=True)
    return path


def _store(path: Path, data: bytes, target: Path) -> None:
    """Bring ``data`` to the disk, with the rights that ``target`` has if it is there."""
    with path.open("xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    if target.exists():
        shutil.copymode(target, path)


def _replace(target: Path, new: Path, tidy: ExitStack, undo: ExitStack) -> None:
    if target.exists():
        old = _beside(target, "old", tidy)
        shutil.copy2(target, old)
        undo.callback(old.replace, target)
        new.replace(target)
    else:
        undo.callback(target.unlink, missing_ok=True)
        new.replace(target)


def _settle(folders: set[Path]) -> None:
    """Bring the renaming to the disk, where the system has a way to."""
    for folder in folders if os.name == "posix" else ():
        with suppress(OSError):
            handle = os.open(folder, os.O_RDONLY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)
