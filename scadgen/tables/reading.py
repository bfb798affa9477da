"""The one reader of the TOML files that people write.

A file is declared as a list of keys, and read by them::

    keys = (
        Key("name", Text(filled=True), needed=True),
        Key("size.wall", Number(Limits("mm", 0.5, 5)), default=2.0),
    )
    values = load("lid.toml", lambda document, folder: read(document, keys))

``values["size.wall"]`` is then a number from 0.5 to 5. A key that is not declared, a wrong kind and
a value out of range raise JobError, in one line that names the dotted key and what would work.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from scadgen.tables.documents import JobError, contents, parsed
from scadgen.tables.hints import closest, instead
from scadgen.tables.kinds import AnyTable, Kind
from scadgen.text.quoting import toml_key

T = TypeVar("T")


@dataclass(frozen=True)
class Key:
    """One key that a file may have.

    name: dotted if it stands in a table. kind: what it may hold. default: its value where it is
    left out. needed: it may not be left out of the file, or of its table if the file has that.
    sentence: what it is for. usual: the value to show where there is no default. also: another word
    by which it may be looked for.
    """

    name: str
    kind: Kind
    default: Any = None
    needed: bool = False
    sentence: str = ""
    usual: Any = None
    also: str = ""

    @property
    def table(self) -> str:
        """The table that it stands in; "" for the top of the file."""
        return self.name.rpartition(".")[0]

    @property
    def word(self) -> str:
        """Its name within its table."""
        return self.name.rpartition(".")[2]

    @property
    def example(self) -> Any:
        """The default, or else the usual value."""
        return self.usual if self.default is None else self.default


def load(path: str | Path, made_of: Callable[[dict[str, Any], Path], T]) -> T:
    """What ``made_of`` makes of a file's document and folder. A JobError gets the path."""
    return load_with_text(path, lambda document, folder, _: made_of(document, folder))


def load_with_text(path: str | Path, made_of: Callable[[dict[str, Any], Path, str], T]) -> T:
    """The same, of a file's text, too."""
    path = Path(path)
    try:
        data = contents(path)
        return made_of(parsed(data), path.parent, data.decode("utf-8-sig"))
    except JobError as error:
        error.path = error.path or path
        raise


def read(document: Mapping[str, Any], keys: Sequence[Key], within: str = "") -> dict[str, Any]:
    """The value of every declared key, or its default.

    ``within`` is the dotted key of the table that the document is. Raises JobError.
    """
    prefix = f"{within}." if within else ""
    found = flat(document, {key.table for key in keys} - {""})
    names = {key.name for key in keys}
    for name in found:
        if name not in names:
            words = f"{prefix}{name}: no such key; {_instead(name, keys, prefix)}"
            raise JobError(words, f"{prefix}{name}")
    there = {"", *document}
    return {key.name: _value(key, found, key.table in there, prefix) for key in keys}


def read_one(document: Mapping[str, Any], key: Key) -> Any:
    """The value of a key at the top of a document, before it is known which others may be there."""
    return _value(key, document, True, "")


def flat(document: Mapping[str, Any], tables: Collection[str]) -> dict[str, Any]:
    """All values under their dotted keys. Raises JobError for one of ``tables`` that is none."""
    found = {}
    for key, value in document.items():
        if key in tables:
            inner = AnyTable().read(key, value)
            found.update({f"{key}.{toml_key(word)}": deep for word, deep in inner.items()})
        else:
            found[toml_key(key)] = value
    return found


def _value(key: Key, found: Mapping[str, Any], asked: bool, prefix: str) -> Any:
    name = f"{prefix}{key.name}"
    if key.name in found:
        try:
            return key.kind.read(name, found[key.name])
        except JobError as error:
            error.key = name
            raise
    if key.needed and asked:
        raise JobError(f"{name}: missing; {key.kind.rule(name)}.", name)
    return key.default


def _instead(name: str, keys: Sequence[Key], prefix: str) -> str:
    """The key that was meant, by its last word, one of the same table first; or else all."""
    beside = [key for key in keys if name.startswith(f"{key.table}.")]
    words = {key.word: key for key in (*keys, *beside)} | {k.also: k for k in keys if k.also}
    close = closest(name.rpartition(".")[2], words)
    there = [key.word for key in beside] or [key.name for key in keys]
    return instead(close and f"{prefix}{words[close].name}", there)
