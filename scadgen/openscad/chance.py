"""OpenSCAD files that draw by chance: each rendering may be another model."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

_RANDS = re.compile(rb"\brands\s*\(")


def by_chance(read: Iterable[Path]) -> Iterator[Path]:
    """Those of the files that call rands(), with a seed or without."""
    for path in read:
        own = path.suffix.lower() == ".scad" and path.is_file()
        if own and _RANDS.search(path.read_bytes()):
            yield path
