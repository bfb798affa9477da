"""The line by which a written text knows whether somebody has edited it since.

It holds a hash of the text without that line. Whether lines end in LF or CRLF makes no difference,
for version control and editors turn one into the other.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator

WORDS = "Fingerprint of this text as written"
DIGITS = 16

_LINE = re.compile(
    rf'^(?:(?:// )?{WORDS}: |  "fingerprint": ")([0-9a-f]{{{DIGITS}}})(?:",)?\n', re.MULTILINE
)


def sealed(before: str, after: str, opening: str = "") -> str:
    """``before`` and ``after`` with the line between them; ``opening`` makes it a comment."""
    return f"{before}{opening}{WORDS}: {fingerprint(before + after)}\n{after}"


def sealed_json(document: object) -> str:
    """An object as JSON with the line as its first key."""
    text = json.dumps(document, indent=2) + "\n"
    first, rest = text[:2], text[2:]
    return f'{first}  "fingerprint": "{fingerprint(text)}",\n{rest}'


def fingerprint(text: str) -> str:
    """The first 64 bits of the SHA-256 of ``text``, as hexadecimal digits."""
    return hashlib.sha256(unix(text).encode(errors="surrogatepass")).hexdigest()[:DIGITS]


def is_as_written(text: str) -> bool:
    """Whether ``text`` holds the line and is still what it was when that was written."""
    text = unix(text)
    return any(
        found[1] == fingerprint(text[: found.start()] + text[found.end() :])
        for found in _LINE.finditer(text)
    )


def stated(text: str) -> Iterator[str]:
    """The fingerprints that lines of ``text`` hold, whether or not they fit it still."""
    return (found[1] for found in _LINE.finditer(unix(text)))


def unsealed(text: str) -> str:
    """``text`` without such lines, its lines ending in LF."""
    return _LINE.sub("", unix(text))


def unix(text: str) -> str:
    """``text`` with its lines ending in LF."""
    return text.replace("\r\n", "\n")
