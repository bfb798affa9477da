"""Walls too thin for the lines that a printer lays down."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, partial
from typing import TYPE_CHECKING

from scadgen.printing.cuts import TOLERANCE, Cuts, cuts
from scadgen.printing.outlines import within

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from manifold3d import CrossSection, Manifold

#: Layers at most this many line widths apart are looked at.
APART = 1.4
#: What is thin for no more than so many line widths of height is an edge or a tip, not a wall.
TIP = 3.0
#: What lies no farther, in line widths, from where the disc fits is a corner: 29 degrees or more.
CORNER = 4.0
#: Where the disc fits is looked for so many line widths around a thin patch.
AROUND = 1.5
#: Facets per turn of the disc that must fit into a wall.
ROUND = 32
#: Halvings of the width when the thickest place of a wall is looked for: to 1/250 of two lines.
HALVINGS = 8


@dataclass(frozen=True)
class Wall:
    """A wall thinner than two lines.

    body: its place in the list of bodies.
    low, high: bottoms of its lowest and highest layer that were looked at, mm.
    area: of its largest layer, mm2. x, y: centre of that layer, mm.
    width: how thick it is, mm: where it is thinnest between two thicker parts, or thickest if it
        stands out from one or alone; over as much height as makes a wall of it, so that a ridge on
        top does not make it thinner.
    """

    body: int
    low: float
    high: float
    area: float
    x: float
    y: float
    width: float


@dataclass(frozen=True)
class _Patch:
    """Part of one layer's section that is too thin; z: bottom of the layer. measured: its width,
    worked out where it is asked for only: most is no wall.
    """

    section: CrossSection
    z: float
    measured: Callable[[], float]

    @property
    def width(self) -> float:
        """How thick it is, mm."""
        return self.measured()


def thin_walls(
    bodies: Sequence[Manifold] | Cuts, height: float, line_width: float
) -> tuple[Wall, ...]:
    """Find walls thinner than two lines in bodies cut into layers (``height``, mm).

    A section is thick enough wherever a disc as wide as two lines has been that stays inside it.
    What else there is counts as a wall where it goes from one such place to another, or where it
    stands out from them farther than a corner of 29 degrees would; and where it goes on upward for
    more than three line widths.

    line_width: mm, above 0.
    """
    made = cuts(bodies)
    step = max(1, int(APART * line_width / height))
    return tuple(
        _wall(body, run, TIP * line_width)
        for body in range(len(made.bodies))
        for run in _runs(made, body, (height, step), line_width)
        if run[-1].z - run[0].z > TIP * line_width
    )


def _runs(
    made: Cuts, body: int, grid: tuple[float, int], line_width: float
) -> Iterator[tuple[_Patch, ...]]:
    """Thin patches that lie on each other, from the lowest to the highest."""
    height, step = grid
    growing: list[tuple[_Patch, ...]] = []
    for k in range(0, made.count(height), step):
        thin = made.once(_patches, made.section(body, k, height), line_width)
        patches = [_Patch(part, k * height, width) for part, width in thin]
        ended, grown = list(growing), []
        for patch in patches:
            below = [run for run in growing if not (run[-1].section ^ patch.section).is_empty()]
            ended = [run for run in ended if run not in below]
            grown.append((*max(below, key=len, default=()), patch))
        yield from ended
        growing = grown
    yield from growing


def _patches(
    section: CrossSection, line_width: float
) -> Iterator[tuple[CrossSection, Callable[[], float]]]:
    """Parts of a section that are too thin, and what tells how thick each is."""
    disc = line_width - TOLERANCE
    core = _rounded(section, -disc)
    lost = section - _rounded(core, disc)
    least = line_width**2 / 2
    for part in lost.decompose() if lost.area() > least else ():
        if part.area() <= least:
            continue
        around = _around(section, part, line_width)
        thick = core ^ around
        sides = thick.decompose()
        if len(sides) > 1:
            yield part, cache(partial(_neck, section, around, sides, line_width))
            continue
        far = part - _rounded(thick, CORNER * line_width)
        if far.area() > least:
            yield part, cache(partial(_thickest, section, far, 2 * line_width))


def _around(section: CrossSection, part: CrossSection, line_width: float) -> CrossSection:
    """A part of a section with what it leads to; nothing from across the air."""
    near = (section ^ _rounded(part, AROUND * line_width)).decompose()
    return next(piece for piece in near if not (piece ^ part).is_empty())


def _neck(
    section: CrossSection, around: CrossSection, sides: Sequence[CrossSection], line_width: float
) -> float:
    """Width at which a part leads from one core to another in what is around it."""

    def passes(width: float) -> bool:
        ways = (_rounded(section, -width / 2) ^ around).decompose()
        return any(sum(not (way ^ side).is_empty() for side in sides) > 1 for way in ways)

    return _largest(passes, 2 * line_width)


def _thickest(section: CrossSection, part: CrossSection, most: float) -> float:
    """Diameter of the largest disc in a section that reaches into a part of it, up to ``most``."""

    def reaches(width: float) -> bool:
        return not (_rounded(_rounded(section, -width / 2), width / 2) ^ part).is_empty()

    return _largest(reaches, most)


def _largest(holds: Callable[[float], bool], most: float) -> float:
    low, high = 0.0, most
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if holds(middle) else (low, middle)
    return high


def _rounded(section: CrossSection, distance: float) -> CrossSection:
    from manifold3d import JoinType

    return section.offset(distance, JoinType.Round, 2.0, ROUND)


def _wall(body: int, run: tuple[_Patch, ...], tip: float) -> Wall:
    largest = max(run, key=lambda patch: patch.section.area())
    thickest = (
        max(patch.width for patch in run if start.z <= patch.z <= start.z + tip)
        for start in run
        if start.z + tip <= run[-1].z
    )
    x, y = within(largest.section)
    return Wall(body, run[0].z, run[-1].z, largest.section.area(), x, y, min(thickest))
