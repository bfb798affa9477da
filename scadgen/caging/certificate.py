"""Whether a body is held by another for certain: by no rigid motion does it come out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.caging.core import core
from scadgen.caging.cover import Cover, cover
from scadgen.caging.region import Choice, Free, Region, contacts, sample
from scadgen.caging.section import Grid, Section
from scadgen.caging.witnesses import Pair, Witnesses

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.motion.axis import Axis

Array = np.ndarray[Any, Any]

#: Room around what the cores have in common in which they are looked at, mm.
AROUND = 3.0
#: Regions that are tried; one that promises no more than so many times what is certified already
#: is not.
REGIONS, BETTER = 6, 1.25
#: Places that find first contacts, about; and of each pose in a sample those that are kept to cut
#: cells, and to choose a region.
FEW, GOOD, ROUGH = 800, 8, 3
#: The share of the least radius seen that a certificate must reach, and the cells tried at most: of
#: each region; of the best one, where none was closed; and for a better figure.
QUICK, HARD, CLOSE = (0.6, 8_000), (0.3, 30_000), (0.8, 12_000)
#: The least radius that is certified, mm.
LEAST = 0.01


@dataclass(frozen=True, eq=False)
class Certificate:
    """A proof that one body stays in another, whatever its motion, its turn about the axis too.

    region: where it stays. cover: how its boundary is blocked, and by which of the ``witnesses``.
    """

    region: Region
    cover: Cover
    witnesses: Witnesses

    @property
    def depth(self) -> float:
        """How much blocks the worst way, mm: it holds while each body has lost less than half."""
        return 2 * self.cover.radius

    @property
    def tilt(self) -> float:
        """The tilt that it cannot pass, degrees."""
        return math.degrees(self.region.tilt)


@dataclass(frozen=True)
class Uncertified:
    """Why there is no certificate, in words. cells: cells that were tried."""

    why: str
    cells: int = 0


def certified(fixed: Manifold, moving: Manifold, axis: Axis) -> Certificate | Uncertified:
    """Look for a region of poses around rest that ``moving`` cannot leave.

    The bodies are as they stand at rest, or turned about the axis. That they are apart there is not
    looked at. It takes a few thousand cells at most.
    """
    pair = paired(core(fixed, axis), core(moving, axis))
    if isinstance(pair, Uncertified):
        return pair
    seen = Witnesses.of(pair)
    if not len(seen.places):
        return Uncertified("the parts that are round about the axis are nowhere near each other")
    if seen.shared(np.zeros((1, 4))) > 0:
        return Uncertified("the bodies overlap as they stand")
    first = contacts(seen.chosen(slice(None, None, len(seen.places) // FEW | 1)))
    if isinstance(first, Free):
        return Uncertified(f"{first.words} the parts that are round about the axis never meet")
    poses = sample(first)
    seen = seen.telling(poses, GOOD)
    return _best(seen, Choice(seen.telling(poses, ROUGH), first))


def paired(fixed: list[Array], moving: list[Array]) -> Pair | Uncertified:
    """The sections of two cores, from their outlines."""
    for outlines, name in ((fixed, "fixed"), (moving, "moving")):
        if not outlines:
            return Uncertified(f"nothing of the {name} body is round about the axis")
    corners = [np.concatenate(outlines) for outlines in (fixed, moving)]
    low = max(float(each[:, 1].min()) for each in corners)
    high = min(float(each[:, 1].max()) for each in corners)
    if low >= high:
        return Uncertified("the parts that are round about the axis stand one behind the other")
    sections = Section(fixed), Section(moving)
    far = min(float(each[:, 0].max()) for each in corners) + AROUND
    grid = Grid(sections[0], far, low - AROUND, high + AROUND)
    return Pair(*sections, grid, (low + high) / 2)


def _best(seen: Witnesses, choice: Choice) -> Certificate | Uncertified:
    best: tuple[Region, Cover] | None = None
    hopes: list[tuple[float, Region]] = []
    cells, enough = 0, LEAST
    for _, (region, seems) in zip(range(REGIONS), choice.regions(), strict=False):
        if best is not None and seems < BETTER * best[1].weakest[1]:
            break
        found = _covered(region, seen, enough, QUICK)
        cells += found.cells
        hopes.append((found.weakest[1], region))
        if len(found.tree):
            best, enough = (region, found), found.radius
        choice.learn(*found.weakest)
    if best is None and hopes:
        region = max(hopes, key=lambda hope: hope[0])[1]
        found = _covered(region, seen, LEAST, HARD)
        cells += found.cells
        best = (region, found) if len(found.tree) else None
    if best is None:
        return Uncertified("no region of poses was found that it cannot leave", cells)
    closer = _covered(best[0], seen, best[1].radius, CLOSE)
    return Certificate(best[0], closer if len(closer.tree) else best[1], seen)


def _covered(region: Region, seen: Witnesses, enough: float, how: tuple[float, int]) -> Cover:
    return cover(region, seen, enough=enough, share=how[0], most=how[1])
