"""TOML documents from people: parsed within bounds of size, refused in one line."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from scadgen.text.quoting import shortened, toml_key

#: Largest file, in bytes.
LARGEST = 1_000_000

_PARTS = 40
_LONG_KEY = re.compile(
    rf"""(?<![\w-])(?:(?:[\w-]++|"[^"\n]*"|'[^'\n]*')[ \t]*\.[ \t]*){{{_PARTS - 1}}}"""
)


class JobError(ValueError):
    """A job that can't be read, in one line.

    Attributes: ``words``, what is wrong and what would work; ``key``, the dotted key at fault if
    it is one key's fault; ``path`` of the file, if there is one.
    """

    def __init__(self, words: str, key: str | None = None) -> None:
        self.words, self.key = words, key
        self.path: Path | None = None
        super().__init__(words)

    def __str__(self) -> str:
        return f"{self.path}: {self.words}" if self.path else self.words


def parsed(data: bytes) -> dict[str, Any]:
    """What the bytes of a TOML file hold. Raises JobError for what is no TOML."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise JobError(f"line {line}: not UTF-8; save the file as UTF-8 text.") from None
    if long := _LONG_KEY.search(text):  # for a key of thousands of parts tomllib takes minutes
        line = text.count("\n", 0, long.start()) + 1
        raise JobError(f"line {line}: a key of {_PARTS} parts or more; a job has none over two.")
    try:
        found = tomllib.loads(f"{text}\n")  # with an end to its last line, errors tell the place
        too_large = next(_too_large(found), None)
    except RecursionError:
        raise JobError("values are nested too deeply.") from None
    except ValueError as error:
        raise JobError(f"not TOML: {shortened(str(error))}.") from None
    if too_large:
        words = "too large; whole numbers in TOML have 64 bits."
        raise JobError(f"{too_large}: {words}", too_large)
    return found


def contents(path: Path) -> bytes:
    """The bytes of a TOML file. Raises JobError for one that cannot be read, or is too large."""
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
    except OSError as error:
        raise JobError(f"cannot be read: {error.strerror or error}.") from None
    if len(data) > LARGEST:
        raise JobError("larger than 1 MB; a job is a page of text.")
    return data


def _too_large(value: object, keys: tuple[str, ...] = ()) -> Iterator[str]:
    """The dotted keys of whole numbers with more bits than TOML allows."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _too_large(inner, (*keys, key))
    elif isinstance(value, list):
        for inner in value:
            yield from _too_large(inner, keys)
    elif isinstance(value, int) and abs(value) >= 2**63:
        yield ".".join(map(toml_key, keys))
