"""The frame of a drawing and its title block, after ISO 7200 (from memory)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.pictures.paper import LETTER, MIDDLE, SMALL, WIDE
from scadgen.text.quoting import plain

if TYPE_CHECKING:
    from scadgen.pictures.paper import Box, Paper, Point

#: From the sheet's edge to the frame, mm; height of the block's rows; share of its first column.
EDGE, ROWS, FIRST = 4.0, (7.0, 5.5, 5.5), 0.6
HEIGHT = sum(ROWS)


@dataclass(frozen=True)
class Block:
    """What a title block says; texts are free, and shortened to their room.

    No general tolerance (ISO 2768) is ever claimed: what a printer makes of a size is not known.
    """

    title: str
    scale: str
    date: str
    material: str = ""

    def rows(self) -> tuple[tuple[str, str], ...]:
        """Left and right cell of each row."""
        return (
            (self.title, f"Scale {self.scale}"),
            (f"Material: {self.material or 'any plastic'}", f"Date {self.date}"),
            ("General tolerances: none", "Drawn by scadgen"),
        )


def frame(paper: Paper) -> None:
    """The line around the sheet."""
    right, bottom = paper.width - EDGE, paper.height - EDGE
    corners = ((EDGE, EDGE), (right, EDGE), (right, bottom), (EDGE, bottom), (EDGE, EDGE))
    paper.line(*corners, width=WIDE)


def title_block(paper: Paper, block: Block, box: Box) -> None:
    """The block at the foot of a box, with the sign of first-angle projection beside the scale."""
    left, _, right, bottom = box
    across = left + FIRST * (right - left)
    y = bottom - HEIGHT
    paper.line((across, y), (across, bottom))
    paper.line((left, y), (right, y), (right, bottom), (left, bottom), (left, y), width=WIDE)
    for k, (high, cells) in enumerate(zip(ROWS, block.rows(), strict=True)):
        if k:
            paper.line((left, y), (right, y))
        size = SMALL if k else MIDDLE
        base = y + high / 2 + 0.36 * size
        ends = (left, across, right)
        for words, start, end in zip(cells, ends, ends[1:], strict=False):
            small = SMALL if start == across else size
            told = _fitted(words, end - start - 3, small)
            paper.text((start + 1.5, base), told, small, bold=not k and start == left)
        if not k:
            _first_angle(paper, (right - 14, y + high / 2))
        y += high


def _fitted(words: str, room: float, size: float) -> str:
    """The words, or as many of their letters as have room."""
    most = int(room / (size * LETTER))
    words = plain(words)
    return words if len(words) <= most else f"{words[: most - 3].rstrip()}..."


def _first_angle(paper: Paper, at: Point) -> None:
    """The sign: a cone's frustum, and to its right its view from the left."""
    x, y = at
    paper.line((x, y - 1), (x + 5, y - 2), (x + 5, y + 2), (x, y + 1), (x, y - 1))
    paper.circle((x + 9, y), 1, "ink")
    paper.circle((x + 9, y), 2, "ink")
