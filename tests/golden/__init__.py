"""The exact text of each family's module with every field moved off its default.

After a change that is meant, look at the differences and write the files anew with
``python -m tests.golden``.
"""

from __future__ import annotations

from pathlib import Path

from scadgen import emit
from scadgen.hinge.family import all_families
from tests.support import moved

FOLDER = Path(__file__).parent


def texts() -> dict[str, str]:
    """What each file must hold, by its name."""
    return {f"{name}.scad": emit(moved(cls)) for name, cls in all_families().items()}


def write() -> None:
    """Write all files anew and delete those of families that are gone."""
    wanted = texts()
    for path in FOLDER.glob("*.scad"):
        if path.name not in wanted:
            path.unlink()
    for name, text in wanted.items():
        (FOLDER / name).write_text(text, encoding="utf-8", newline="\n")
