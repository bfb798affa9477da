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

    def rows(self) -> tuple[tuple[str, ...], ...]:
        """The cells of each row: the title has the first one for itself."""
        return (
            (self.title,),
            (f"Material: {self.material or 'any plastic'}", f"Scale {self.scale}"),
            ("General tolerances: none", f"Date {self.date}"),
        )


def frame(paper: Paper) -> None:
    """The line around the sheet."""
    right, bottom = paper.width - EDGE, paper.height - EDGE
    corners = ((EDGE, EDGE), (right, EDGE), (right, bottom), (EDGE, bottom), (EDGE, EDGE))
    paper.line(*corners, width=WIDE)


def title_block(paper: Paper, block: Block, box: Box) -> None:
    """The block at the foot of a box, with the sign of first-angle projection beside the scale."""
    left, _, right, bottom = box
    across, top = left + FIRST * (right - left), bottom - HEIGHT
    paper.line((across, top + ROWS[0]), (across, bottom))
    corners = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
    paper.line(*corners, width=WIDE)
    y = top
    for high, cells in zip(ROWS, block.rows(), strict=True):
        if y > top:
            paper.line((left, y), (right, y))
        for words, start in zip(cells, (left, across), strict=False):
            end = right if len(cells) == 1 or start == across else across
            _cell(paper, words, (start, y, end, y + high), heading=len(cells) == 1)
        y += high
    _first_angle(paper, (right - 13, top + ROWS[0] + ROWS[1] / 2))


def _cell(paper: Paper, words: str, box: Box, *, heading: bool) -> None:
    """Words in a cell; a heading in larger letters if it has room for them."""
    left, top, right, bottom = box
    room, words = right - left - 3, plain(words)
    size = MIDDLE if heading and len(words) * MIDDLE * LETTER <= room else SMALL
    base = (top + bottom) / 2 + 0.36 * size
    paper.text((left + 1.5, base), _fitted(words, room, size), size, bold=heading)


def _fitted(words: str, room: float, size: float) -> str:
    """The words, or as many of their letters as have room."""
    most = int(room / (size * LETTER))
    return words if len(words) <= most else f"{words[: most - 3].rstrip()}..."


def _first_angle(paper: Paper, at: Point) -> None:
    """The sign: a cone's frustum, and to its right its view from the left."""
    x, y = at
    paper.line((x, y - 1), (x + 5, y - 2), (x + 5, y + 2), (x, y + 1), (x, y - 1))
    paper.circle((x + 9, y), 1, "ink")
    paper.circle((x + 9, y), 2, "ink")
