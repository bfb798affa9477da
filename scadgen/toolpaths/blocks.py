"""A file of G-code in pieces: runs of plain moves that lay plastic, and other lines one by one.

Nearly all lines of a file are ``G1 X10.5 Y3.25 E0.1``, with or without a remark that stays so.
What stands in a run of them is read as one array: that is many times quicker than line by line.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy

    Array = numpy.ndarray[Any, Any]

#: Bytes that are read at once. A line that is longer is read whole all the same.
BLOCK = 1 << 20
#: Fewer plain lines than these are read one by one.
RUN = 3
_NUMBER = rb"-?(?:\d+(?:\.\d*)?|\.\d+)"  # fails at once, however long a number is
_MOVE = rb"G1 X%s Y%s E%s" % (_NUMBER, _NUMBER, _NUMBER)


def runs_of(least: int) -> re.Pattern[bytes]:
    """What finds runs of so many moves or more; they share the remark that is its group."""
    return re.compile(rb"%s((?: ;[^\n]*)?)\n(?:%s\1\n){%d,}" % (_MOVE, _MOVE, least - 1))


_RUN = runs_of(RUN)
#: Letters of moves become blanks, so that numbers are left: 1 for G1, x, y and e.
_BLANKS = bytes.maketrans(b"GXYE", b"    ")


@dataclass(frozen=True)
class Piece:
    """A line, or a run of plain moves. number: of its first line, from 1. lines: how many.

    remark: what stands behind each move of a run, from the semicolon on.
    """

    text: bytes
    number: int
    lines: int = 1
    remark: bytes = b""

    @property
    def moves(self) -> Array:
        """The x, y and e of each move of a run, as an array of its own: (lines, 3)."""
        import numpy as np

        bare = self.text.replace(self.remark, b"") if self.remark else self.text
        found = np.fromstring(bare.translate(_BLANKS), sep=" ")
        return found.reshape(self.lines, 4)[:, 1:]


def pieces(path: Path) -> Iterator[Piece]:
    """The pieces of a file, in their order."""
    number = 1
    for block in _blocks(path):
        place = 0
        while place < len(block):
            found = _RUN.match(block, place)
            end = found.end() if found else (block.find(b"\n", place) + 1 or len(block))
            text = block[place:end]
            lines = text.count(b"\n") if found else 1
            yield Piece(text, number, lines, found[1] if found else b"")
            number, place = number + lines, end


def _blocks(path: Path) -> Iterator[bytes]:
    """The bytes of a file, cut where lines end."""
    with path.open("rb") as file:
        while block := file.read(BLOCK):
            yield block + file.readline()
