"""How far a model file may have rounded its coordinates."""

from __future__ import annotations

import math
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

from scadgen.meshfiles.reading import is_text_stl

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, Any]

#: Fewest significant digits that programs write into text files.
DIGITS = 6
#: Bits of a number's fraction in a binary STL: single precision (Source: IEEE 754-2008, binary32).
BITS = 24
#: Bytes of a text that are looked at for the digits it is written with.
SEEN = 1_000_000
_NUMBER = re.compile(rb"[-+]?(\d*)\.?(\d*)(?:[eE][-+]?\d+)?")


def grain_of(path: Path, soup: Array, scale: float = 1.0) -> float:
    """How far rounding may have moved a corner of a file's triangles, mm.

    ``soup``: the triangles as read, mm. Of a binary STL it is half a unit of single precision at
    its largest coordinate; of text half a unit of the last digit that is written, of six at least.
    """
    import numpy as np

    largest = float(np.abs(soup).max(initial=0.0)) / scale
    if largest == 0:
        return 0.0
    kind = path.suffix.lower()
    if kind == ".stl" and not is_text_stl(path.read_bytes()):
        unit = 2.0 ** (math.floor(math.log2(largest)) + 1 - BITS)
    else:
        unit = 10.0 ** (math.floor(math.log10(largest)) + 1 - _digits(path, kind))
    return math.sqrt(3) * unit / 2 * scale


def _digits(path: Path, kind: str) -> int:
    """The most significant digits of any number in a text; DIGITS where they cannot be seen."""
    if kind == ".3mf":
        return DIGITS  # packed, and written by the same rules as other texts
    with path.open("rb") as file:
        text = file.read(SEEN)
    found = ((whole + after).lstrip(b"0") for whole, after in _NUMBER.findall(text))
    return max(DIGITS, max((len(digits) for digits in found), default=0))
