"""Patches of plastic that hold together, joined layer by layer into bodies."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from scadgen.printing.cuts import SLIVER
from scadgen.toolpaths.areas import Slab, boxes, meet

if TYPE_CHECKING:
    import numpy
    from manifold3d import CrossSection

    Array = numpy.ndarray[Any, Any]

#: How far below the nozzle a line may still reach, mm: as thick as any bridge's thread.
DEEPEST = 1.2
#: Plastic that shares less than this, mm2, touches and is not joined: half a newton tears it apart,
#: at the 50 MPa that plastics bear at most.
JOINED = 0.01


@dataclass(frozen=True, eq=False)
class Patch:
    """A connected area of one slab. number: in the order in which patches came.

    links: numbers of the links of a mechanism whose place it lies in.
    """

    number: int
    slab: Slab
    area: CrossSection
    links: frozenset[int] = frozenset()


@dataclass(frozen=True)
class Lump:
    """A body that the plastic makes.

    volume: mm3. low, high: mm. box: low x and y, high x and y, mm. patches: how many it has.
    """

    volume: float
    low: float
    high: float
    box: tuple[float, float, float, float]
    patches: int


@dataclass(eq=False)
class Pile:
    """Patches laid one upon another. Only those that can still be touched are kept."""

    kept: list[Patch] = field(default_factory=list)
    _above: list[int] = field(default_factory=list)
    _lumps: dict[int, Lump] = field(default_factory=dict)

    def add(
        self, slabs: Sequence[Slab], linked: Callable[[Slab, CrossSection], frozenset[int]]
    ) -> tuple[list[Patch], list[tuple[Patch, Patch, CrossSection]]]:
        """The patches of a layer, and where two touch each other: pairs, with what they share.

        Of patches of the same links those that already are of one body are left out.
        """
        new = [
            self._patch(slab, area, linked(slab, area))
            for slab in slabs
            for area in slab.area.decompose()
            if area.area() > SLIVER
        ]
        top = max((slab.top for slab in slabs), default=0.0)
        self.kept = [patch for patch in self.kept if patch.slab.top > top - DEEPEST]
        touching = []
        for one, other, shared in self._touching(new):
            self._join(one.number, other.number)
            touching.append((one, other, shared))
        self.kept += new
        return new, touching

    def _patch(self, slab: Slab, area: CrossSection, links: frozenset[int]) -> Patch:
        number = len(self._above)
        self._above.append(number)
        volume = area.area() * (slab.top - slab.bottom)
        low_x, low_y, high_x, high_y = area.bounds()
        box = (low_x, low_y, high_x, high_y)
        self._lumps[number] = Lump(volume, max(slab.bottom, 0.0), slab.top, box, 1)
        return Patch(number, slab, area, links)

    def _touching(self, new: Sequence[Patch]) -> Iterator[tuple[Patch, Patch, CrossSection]]:
        around = boxes([patch.area for patch in new])
        below = boxes([patch.area for patch in self.kept])
        for k, patch in enumerate(new):
            beside = [new[j] for j in _which(around[k], around[:k])]
            under = [self.kept[j] for j in _which(around[k], below)]
            for other in (*beside, *under):
                if other.slab is patch.slab or not patch.slab.reaches(other.slab):
                    continue
                same = patch.links == other.links
                if not same or self.root(patch.number) != self.root(other.number):
                    shared = patch.area ^ other.area
                    if shared.area() > JOINED:
                        yield patch, other, shared

    def root(self, number: int) -> int:
        """The patch that stands for the body of a patch."""
        above = self._above
        while above[number] != number:
            above[number] = above[above[number]]
            number = above[number]
        return number

    def _join(self, one: int, other: int) -> None:
        one, other = self.root(one), self.root(other)
        if one != other:
            low, high = min(one, other), max(one, other)
            self._above[high] = low
            self._lumps[low] = _together(self._lumps[low], self._lumps.pop(high))

    def lumps(self) -> dict[int, Lump]:
        """The bodies so far, by what stands for them, the largest first."""
        return dict(sorted(self._lumps.items(), key=lambda item: -item[1].volume))


def _which(box: Array, others: Array) -> list[int]:
    return [int(place) for place in meet(box, others).nonzero()[0]]


def _together(one: Lump, other: Lump) -> Lump:
    low_x, low_y, high_x, high_y = zip(one.box, other.box, strict=True)
    return Lump(
        one.volume + other.volume,
        min(one.low, other.low),
        max(one.high, other.high),
        (min(low_x), min(low_y), max(high_x), max(high_y)),
        one.patches + other.patches,
    )


def by_link(patches: Sequence[Patch]) -> dict[int, list[Patch]]:
    """The patches that lie in the place of one link alone."""
    found: dict[int, list[Patch]] = defaultdict(list)
    for patch in patches:
        if len(patch.links) == 1:
            found[next(iter(patch.links))].append(patch)
    return found
