"""Notes of a drawing: what it is, which body is which, values set and measured, all the others."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

from scadgen.hinge.family import bounds
from scadgen.mechanism.joint import HEEL
from scadgen.pictures.paper import LETTER, MOVED, SMALL, Box, Paper, hatched
from scadgen.pictures.title_block import HEIGHT, Block, title_block
from scadgen.text.numbers import digits
from scadgen.text.typeset import unit

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.pictures.sides import Sides

#: From one line of small text to the next, mm; to the next paragraph.
LEADING, APART = 3.9, 1.2
#: Width of a sample in the legend, and from it to its words.
SAMPLE, BESIDE = 8.0, 2.0
#: The group of fields that say how it prints, not how it is made; and the field of the pose.
PRINTS, POSE = "Quality", "angle"


def notes(
    paper: Paper, hinge: Hinge, box: Box, found: dict[str, float], sides: Sides, block: Block
) -> None:
    """Write the notes from the top of a box down, and the title block at its foot."""
    left, top, right, bottom = box
    title_block(paper, block, box)
    y = top + 3
    head = f"{hinge.title} Prints {hinge.posture}. Lengths in mm."
    if turned := hinge.as_printed():
        heel = any(HEEL in joint.meets for joint in hinge.mechanism().joints)
        flat = f"Drawn flat{', without its heel' * heel}"
        head += f" {flat}; it prints turned by {digits(turned)}\N{DEGREE SIGN}."
    y = _paragraph(paper, head, (left, y, right, bottom - HEIGHT))
    y = _legend(paper, sides, (left, y + 1, right, bottom))
    for words in (f"{'; '.join(comparisons(hinge, found))}.", others(hinge, found)):
        y = _paragraph(paper, words, (left, y, right, bottom - HEIGHT))


def _paragraph(paper: Paper, words: str, box: Box) -> float:
    """Words in lines from the top of a box down, as far as there is room; where the next begins."""
    left, y, right, bottom = box
    letters = int((right - left) / (SMALL * LETTER))
    for line in textwrap.wrap(words, letters, break_on_hyphens=False):
        if y > bottom - 1:
            break
        paper.text((left, y), line, SMALL)
        y += LEADING
    return y + APART


def comparisons(hinge: Hinge, found: dict[str, float]) -> list[str]:
    """For each value measured, what it is set to and what was measured, as closely as it counts."""
    limits = bounds(type(hinge))
    lines = []
    for name, measured in found.items():
        after = unit(limits[name].unit if name in limits else "mm")
        made = "set to" if name in limits.keys() - hinge.left_open else "comes to"
        words, wanted = name.replace("_", " "), digits(getattr(hinge, name), 2)
        lines.append(f"{words} {made} {wanted}, measured {digits(measured, 2)}{after}")
    return lines


def others(hinge: Hinge, found: dict[str, float]) -> str:
    """All other values that shape it, which a maker needs to draw it again."""
    told = []
    for name, limits in bounds(type(hinge)).items():
        value = getattr(hinge, name)
        shapes = limits.group != PRINTS and name != POSE and (value or limits.labels)
        if name in found or not shapes:
            continue
        after = "°" if limits.unit == "deg" else ""
        said = limits.labels[int(value)] if limits.labels else f"{digits(value, 2)}{after}"
        told.append(f"{name.replace('_', ' ')} {said}")
    return f"Other values: {'; '.join(told)}."


def scale_words(scale: float) -> str:
    """A scale as ISO 5455 writes it."""
    return f"{scale:g}:1" if scale >= 1 else f"1:{1 / scale:g}"


def _legend(paper: Paper, sides: Sides, box: Box) -> float:
    """Samples with their words, as many beside each other as have room; where the next begins."""
    left, y, right, _ = box
    named = [(side, f"{side} side") for side in sides.printed]
    if len(sides.whole.pieces) == 1:
        named = [("fixed", "one piece")]
    if sides.swung is not None:
        named.append(("", "swung to the end" if sides.unit == "deg" else "moved to the end"))
    x = left
    for name, words in named:
        wide = SAMPLE + BESIDE + len(words) * SMALL * LETTER
        if x > left and x + wide > right:
            x, y = left, y + LEADING + 1.4
        if name:
            corners = [(x, y - 3), (x + SAMPLE, y - 3), (x + SAMPLE, y + 1), (x, y + 1)]
            paper.outline([corners], hatched(name))
        else:
            paper.line((x, y - 1), (x + SAMPLE, y - 1), dashes=MOVED)
        paper.text((x + SAMPLE + BESIDE, y), words, SMALL)
        x += wide + 4
    return y + LEADING + 2
