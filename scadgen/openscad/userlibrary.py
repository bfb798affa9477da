"""The modules in OpenSCAD's own library folder, where ``use <scadgen/rod_loops.scad>`` finds them.

They stand there as copies or behind one link. Beside the copies a record keeps the sum of each file
as it was written, so that a file that someone has edited since is never replaced or removed.
"""

from __future__ import annotations

import hashlib
import json
import os
import sys
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

import scadgen
from scadgen.keeping.files import write_all
from scadgen.tables.documents import JobError

#: The folder of the modules below OpenSCAD's library folder.
FOLDER = "scadgen"
RECORD = ".installed.json"


@dataclass(frozen=True)
class Removal:
    """What was removed, and what was kept because it is not as it was installed."""

    removed: tuple[Path, ...]
    kept: tuple[Path, ...]


def user_folder(
    platform: str = sys.platform,
    environment: Mapping[str, str] = os.environ,
    home: Path | None = None,
) -> Path:
    """The folder in which OpenSCAD looks for a user's libraries.

    The first entry of ``OPENSCADPATH`` if that is set, else OpenSCAD's own place: below Documents
    on Windows and macOS, else ``~/.local/share`` (source: the OpenSCAD User Manual, "Libraries").
    A Documents folder that was moved elsewhere is not found; name it instead.
    """
    home = home or Path.home()
    named = environment.get("OPENSCADPATH", "").split(";" if platform == "win32" else ":")[0]
    if named:
        return Path(named)
    if platform in ("win32", "darwin"):
        return home / "Documents" / "OpenSCAD" / "libraries"
    return home / ".local" / "share" / "OpenSCAD" / "libraries"


def shipped() -> Path:
    """The library files as they came with the package, or those of the checkout it runs from."""
    package = Path(scadgen.__file__).resolve().parent
    inside = package / "_library"
    return inside if inside.is_dir() else package.parent / "library"


def install(libraries: Path) -> list[Path]:
    """Copy every module with its presets into ``libraries/scadgen``, replacing earlier copies.

    All are written or none. Raises JobError where that would replace a link, or a file that is not
    as it was installed; WriteError where a file cannot be written.
    """
    from scadgen.openscad.library import library_texts

    folder = libraries / FOLDER
    if folder.is_symlink():
        raise _taken(folder, "is a link")
    files = {name: text.encode() for name, text in library_texts().items()}
    known = _record(folder)
    for name, data in files.items():
        found = _sum(folder / name)
        if found not in (None, known.get(name), _sum_of(data)):
            raise _taken(folder / name, "is not as it was installed")
    gone = [name for name in known if name not in files and _sum(folder / name) == known[name]]
    sums = {name: _sum_of(data) for name, data in files.items()}
    record = json.dumps(sums, indent=2) + "\n"
    written = write_all(folder, files | {RECORD: record.encode()})
    for name in gone:  # of a family that there is no more
        (folder / name).unlink()
    return [path for path in written if path.name != RECORD]


def link(libraries: Path) -> Path:
    """Make ``libraries/scadgen`` a link to the files of the package, and return it.

    It follows every update of the package, and breaks when that is uninstalled. Raises JobError
    where something else has that name or the system makes no links.
    """
    target, place = shipped(), libraries / FOLDER
    if not target.is_dir():
        raise JobError(f"{target}: missing; install scadgen again, or copy instead of linking.")
    if _is_ours(place):
        place.unlink()  # it may have lost what it led to
    elif os.path.lexists(place):
        raise _taken(place, "exists already")
    libraries.mkdir(parents=True, exist_ok=True)
    try:
        place.symlink_to(target, target_is_directory=True)
    except OSError as error:
        raise JobError(
            f"{place}: cannot be linked: {error.strerror or error}; copy instead (without --link)."
        ) from error
    return place


def remove(libraries: Path) -> Removal:
    """Remove what was installed below ``libraries``, but nothing that was edited since.

    The folder itself goes too once it is empty. Raises OSError where a file cannot be removed.
    """
    folder = libraries / FOLDER
    if folder.is_symlink():
        if not _is_ours(folder):
            return Removal((), (folder,))
        folder.unlink()
        return Removal((folder,), ())
    known = _record(folder)
    removed = tuple(folder / name for name in known if _sum(folder / name) == known[name])
    for path in (*removed, *([folder / RECORD] if known else [])):
        path.unlink()
    with suppress(OSError):  # not empty, or never there
        folder.rmdir()
    return Removal(removed, tuple(sorted(folder.glob("*"))))


def _is_ours(place: Path) -> bool:
    """Whether it is a link to the package's files, or one that has lost what it led to."""
    return place.is_symlink() and (not place.exists() or place.resolve() == shipped().resolve())


def _record(folder: Path) -> dict[str, str]:
    """The sums of the installed files by name; empty where there is no readable record."""
    try:
        found = json.loads((folder / RECORD).read_bytes())
    except (OSError, ValueError):
        return {}
    plain = isinstance(found, dict) and all(name == Path(name).name for name in found)
    return {name: str(known) for name, known in found.items()} if plain else {}


def _sum(path: Path) -> str | None:
    """The sum of a file's bytes; None where there is no such file."""
    return _sum_of(path.read_bytes()) if os.path.lexists(path) else None


def _sum_of(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def _taken(path: Path, why: str) -> JobError:
    return JobError(
        f"{path}: {why}. Nothing was changed; remove it (scadgen install-library --remove takes "
        "what it installed), move it away, or name another folder with --to."
    )
