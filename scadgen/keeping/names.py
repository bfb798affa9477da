"""File names that every system takes, so that a folder can be unpacked anywhere."""

from __future__ import annotations

import re
from collections.abc import Iterable

#: Longest name in bytes of UTF-8; what is put before and after it for a while still fits in 255.
LONGEST = 200

#: Names that Windows keeps for devices, with any ending
#: (Microsoft, "Naming Files, Paths, and Namespaces"; from memory).
_DEVICES = re.compile(r"(con|prn|aux|nul|(com|lpt)[0-9¹²³])(\..*)?", re.IGNORECASE)
_FORBIDDEN = re.compile(r'[<>:"\\|?*]')


def fault(path: str) -> str | None:
    """What keeps ``path`` (names below a folder, joined by '/') from being a file anywhere."""
    return next((words for name in path.split("/") if (words := _fault(name))), None)


def is_device(name: str) -> bool:
    """Whether Windows keeps ``name``, with or without an ending, for a device."""
    return _DEVICES.fullmatch(name) is not None


def clash(paths: Iterable[str]) -> tuple[str, str] | None:
    """Two of the paths that are one file where capitals make no difference."""
    seen: dict[str, str] = {}
    for path in paths:
        other = seen.setdefault(path.casefold(), path)
        if other != path:
            return other, path
    return None


def _fault(name: str) -> str | None:
    if name in ("", ".", ".."):
        return f"{name!r} is no file name"
    if is_device(name):
        return f"Windows keeps the name {name.partition('.')[0]} for a device"
    if name.endswith((".", " ")):
        return "Windows drops a '.' or a space at the end of a name"
    if not name.isprintable() or _FORBIDDEN.search(name):
        return 'a name must not hold < > : " \\ | ? * or what cannot be printed'
    if len(name.encode(errors="surrogatepass")) > LONGEST:
        return f"a name must not be longer than {LONGEST} bytes"
    return None
