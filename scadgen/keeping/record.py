"""What was last written into a folder, kept beside it in one hidden file.

A text knows by its own fingerprint whether it was edited; the record adds the text that it was, for
a three-way difference, and the hashes of files that cannot carry a line of their own (STL, 3MF).
Without the record no edit is lost either: then such files count as somebody else's.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path

from scadgen.keeping.fingerprint import is_as_written, stated

NAME = ".scadgen.json"

_ABOUT = "What scadgen wrote here last, to tell your edits from it. Not needed to use the files."


@dataclass(frozen=True)
class Version:
    """One file as it was written: the SHA-256 of its bytes and, unless binary, its text."""

    sha256: str
    text: str | None = None

    @classmethod
    def of(cls, data: bytes) -> Version:
        """The version with these bytes."""
        return cls(hashlib.sha256(data).hexdigest(), text_of(data))


@dataclass(frozen=True)
class Record:
    """The versions of each file: while files are being replaced the old one and the new one."""

    files: Mapping[str, tuple[Version, ...]]

    def has(self, data: bytes) -> bool:
        """Whether these bytes were written here, under whatever name."""
        wanted = Version.of(data).sha256
        return any(version.sha256 == wanted for version in self._all())

    def base(self, name: str, text: str) -> str | None:
        """The text that an edited ``text`` once was: by the fingerprint in it, or by its name."""
        texts = [version.text for version in self._all() if version.text is not None]
        ours = {mark: text for text in texts if is_as_written(text) for mark in stated(text)}
        named = [version.text for version in self.files.get(name, ()) if version.text is not None]
        found = (ours[mark] for mark in stated(text) if mark in ours)
        return next(found, named[-1] if named else None)

    def to_bytes(self) -> bytes:
        """The record as a file."""
        files = {name: [*map(asdict, versions)] for name, versions in sorted(self.files.items())}
        return (json.dumps({"about": _ABOUT, "files": files}, indent=1) + "\n").encode()

    def _all(self) -> Iterator[Version]:
        return (version for versions in self.files.values() for version in versions)


def load(folder: Path) -> Record:
    """The record of ``folder``; empty where it is missing or broken."""
    try:
        files = json.loads((folder / NAME).read_bytes())["files"]
        return Record({name: tuple(map(_version, kept)) for name, kept in files.items()})
    except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return Record({})


def text_of(data: bytes) -> str | None:
    """The text that ``data`` is, or None where it is binary."""
    try:
        return None if b"\0" in data else data.decode()
    except UnicodeDecodeError:
        return None


def _version(facts: Mapping[str, str | None]) -> Version:
    sha256, text = facts["sha256"], facts.get("text")
    if not isinstance(sha256, str) or not isinstance(text, (str, type(None))):
        raise TypeError("a version is a hash and perhaps a text")
    return Version(sha256, text)
