"""The library: each family's module at its default values, the file that opens it, its presets."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterator
from pathlib import Path

from scadgen.hinge.family import all_families
from scadgen.keeping.edits import Written, is_backup, write_keeping
from scadgen.openscad.emitter import emit
from scadgen.openscad.presets import preset_file
from scadgen.openscad.settings import customizer_name, emit_customizer

FOLDER = Path("library")


def library_texts() -> dict[str, str]:
    """The text of every library file by its name."""
    files: dict[str, str] = {}
    for name, cls in all_families().items():
        opened = customizer_name(name)
        files[f"{name}.scad"] = emit(cls())
        files[f"{opened}.scad"] = emit_customizer(cls())
        files[f"{opened}.json"] = preset_file(cls)
    return files


def library_files() -> dict[str, bytes]:
    """The bytes of every library file by its name."""
    return {name: text.encode() for name, text in library_texts().items()}


def write_library(
    folder: str | Path = FOLDER, *, accept: Collection[str] = (), keep_values: bool = False
) -> Written:
    """Write every library file into ``folder``, all or none, and keep what was edited.

    ``accept`` names edited files to replace; ``keep_values`` carries over what was set in a
    Customizer section. Raises WriteError and ValueNotKept.
    """
    return write_keeping(folder, library_files(), accept=accept, keep_values=keep_values)


def check_library(folder: str | Path = FOLDER) -> list[str]:
    """What in ``folder`` is not as it would be written: edits as a diff, missing files, orphans.

    An empty list means that all is well; otherwise entries say how to mend it.
    """
    folder = Path(folder)
    texts = library_texts()
    found = [d for name, text in texts.items() for d in _difference(folder / name, text)]
    files = sorted(path for suffix in ("scad", "json") for path in folder.glob(f"[!.]*.{suffix}"))
    orphans = [path for path in files if path.name not in texts and not is_backup(path)]
    mend = "" if folder == FOLDER else f" --out {folder}"
    if found:
        found.append(f"To mend: scadgen library{mend}")
    found += [f"{path}: no family has this name; delete the file" for path in orphans]
    return found


def _difference(path: Path, text: str) -> Iterator[str]:
    if not path.is_file():
        yield f"{path}: missing"
    elif path.read_bytes() != text.encode():
        there = path.read_bytes().decode(errors="replace").splitlines(keepends=True)
        wanted = text.splitlines(keepends=True)
        diff = difflib.unified_diff(there, wanted, str(path), f"{path} as written by scadgen")
        yield "".join(line if line.endswith("\n") else f"{line}\n" for line in diff).rstrip("\n")
