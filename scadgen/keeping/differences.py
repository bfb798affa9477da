"""What a maker changed in a text and what a new text would change, line by line."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from pathlib import Path

from scadgen.keeping.fingerprint import unsealed
from scadgen.text.quoting import visible

AS_WRITTEN, EDITED = "as scadgen wrote it", "as you edited it"

Change = tuple[int, int, tuple[str, ...]]


def three_way(path: Path, base: str | None, edited: str, new: str) -> str:
    """Two differences from the text that once was written: the maker's, and the new text's.

    Without ``base`` it is one, from the maker's text to the new one.
    """
    told = f"{path}, {EDITED}", f"{path}, as it would be written now"
    if base is None:
        return "".join(_difference(edited, new, *told))
    start = f"{path}, {AS_WRITTEN}"
    return "".join(
        (*_difference(base, edited, start, told[0]), *_difference(base, new, start, told[1]))
    )


def has_all(base: str, edited: str, new: str) -> bool:
    """Whether every change from ``base`` to ``new`` has been made in ``edited`` already."""
    return _changes(base, new) <= _changes(base, edited)


def _difference(before: str, after: str, was: str, now: str) -> Iterator[str]:
    old, new = _lines(before), _lines(after)
    for line in difflib.unified_diff(old, new, was, now, lineterm=""):
        yield f"{visible(line)}\n"


def _changes(before: str, after: str) -> set[Change]:
    """Each replaced run of lines, with the lines that stand in its place."""
    old, new = _lines(before), _lines(after)
    steps = difflib.SequenceMatcher(None, old, new, autojunk=False).get_opcodes()
    return {(i, j, tuple(new[k:m])) for op, i, j, k, m in steps if op != "equal"}


def _lines(text: str) -> list[str]:
    return unsealed(text).split("\n")
