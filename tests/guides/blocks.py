"""A Markdown page taken apart into its fenced blocks."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

_FENCE = re.compile(r"^```(.*)$")
_REMARK = re.compile(r"^<!-- (not run|exits|file|from|needs|refused): (.+) -->$")


@dataclass(frozen=True)
class Block:
    """A fenced block.

    language: the word after the fence. code: its text, each line ended. line: where it begins,
    counted from 1. remarks: what stands in comments right above it, by kind: ``not run`` with the
    reason, ``exits`` with the status, ``file`` with the path that the reader saves it under,
    ``from`` with the file that it is an excerpt of, ``needs`` with the program, ``refused`` with
    the key over which it is. above: the prose since the last block.
    """

    language: str
    code: str
    line: int
    remarks: dict[str, str] = field(default_factory=dict)
    above: str = ""

    @property
    def first(self) -> str:
        """Its first line."""
        return self.code.partition("\n")[0]


def blocks(text: str) -> Iterator[Block]:
    """The blocks of a page in order. Raises ValueError for a fence that is not closed."""
    remarks: dict[str, str] = {}
    above: list[str] = []
    lines = iter(enumerate(text.splitlines(), 1))
    for number, line in lines:
        fence, remark = _FENCE.match(line), _REMARK.match(line)
        if fence:
            code = _until_closed(lines, number)
            yield Block(fence[1].strip(), code, number, remarks, "\n".join(above))
            remarks, above = {}, []
        elif remark:
            remarks[remark[1]] = remark[2]
        elif line.strip():
            above.append(line)
            if remarks:
                raise ValueError(f"line {number}: a remark that no block follows")


def _until_closed(lines: Iterator[tuple[int, str]], opened: int) -> str:
    code: list[str] = []
    for _, line in lines:
        if line == "```":
            return "".join(f"{inner}\n" for inner in code)
        code.append(line)
    raise ValueError(f"line {opened}: a block that is not closed")
