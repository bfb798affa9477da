"""Where the plastic of two links touches, and how far lines may spread before it does."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from scadgen.printing.cuts import SLIVER
from scadgen.printing.outlines import within
from scadgen.toolpaths.areas import wider
from scadgen.toolpaths.patches import Patch, by_link

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from scadgen.toolpaths.links import Links

#: How far lines are made wider on each side, mm, in search of the spread that welds.
SEARCHED = 0.2
#: Halvings of the spread that is searched: to 0.003 mm.
HALVINGS = 6
#: Steps by which two sections are grown towards each other, mm, to find where plastic joins them.
REACHES = (0.1, 0.2, 0.35, 0.6, 1.0, 2.0)
#: Most lines that are named.
NAMED = 4


@dataclass(frozen=True)
class Weld:
    """Two links touch. z: top of the layer, mm. x, y: in the largest part of what they share, mm.

    area: mm2. lines: of the file, that lie there. landed: whether one lies on the other.
    """

    links: tuple[int, int]
    z: float
    x: float
    y: float
    area: float
    lines: tuple[int, ...]
    landed: bool


@dataclass(frozen=True)
class Near:
    """The least spread on each side, mm, that joins two links, and where."""

    links: tuple[int, int]
    spread: float
    z: float
    x: float
    y: float
    landed: bool


@dataclass(eq=False)
class Watch:
    """Looks for welds and near places, layer by layer, with the links' places known."""

    links: Links
    welds: list[Weld] = field(default_factory=list)
    near: dict[tuple[int, int], Near] = field(default_factory=dict)

    def layer(
        self,
        new: Sequence[Patch],
        kept: Sequence[Patch],
        touching: Sequence[tuple[Patch, Patch, CrossSection]],
    ) -> list[Weld]:
        """The welds of a layer. kept: patches of it and below."""
        found = [*self._within(new), *self._across(touching)]
        self.welds += found
        self._look(new, kept)
        return found

    def _within(self, new: Sequence[Patch]) -> Iterator[Weld]:
        """Patches that lie in the place of several links."""
        for patch in new:
            for pair in itertools.combinations(sorted(patch.links), 2):
                yield self._joined(patch, pair)

    def _joined(self, patch: Patch, pair: tuple[int, int]) -> Weld:
        one, other = (self.links.section(link, patch.slab.middle) for link in pair)
        shared = patch.area
        for reach in REACHES:
            between = wider(one, reach) ^ wider(other, reach) ^ patch.area
            if between.area() > SLIVER:
                shared = between
                break
        return _weld(pair, patch, shared, landed=False)

    def _across(self, touching: Sequence[tuple[Patch, Patch, CrossSection]]) -> Iterator[Weld]:
        """Patches of one link that touch those of another above, below or beside them."""
        for patch, other, shared in touching:
            if len(patch.links) == len(other.links) == 1 and patch.links != other.links:
                one, two = sorted((*patch.links, *other.links))
                yield _weld((one, two), patch, shared, landed=patch.slab.top != other.slab.top)

    def _look(self, new: Sequence[Patch], kept: Sequence[Patch]) -> None:
        every, fresh = by_link(kept), {patch.number for patch in new}
        for pair in itertools.combinations(sorted(every), 2):
            for patch, other in itertools.product(*(every[link] for link in pair)):
                if patch.number in fresh or other.number in fresh:
                    self._nearer(pair, patch, other)

    def _nearer(self, pair: tuple[int, int], patch: Patch, other: Patch) -> None:
        if not (patch.slab.reaches(other.slab) or other.slab.reaches(patch.slab)):
            return
        best = self.near[pair].spread if pair in self.near else SEARCHED
        if not best or _far(patch, other, 2 * best):
            return
        shared = wider(patch.area, 2 * best) ^ other.area
        if shared.area() <= SLIVER:
            return
        low, high = 0.0, best
        if (patch.area ^ other.area).area() > SLIVER:
            high = 0.0
        for _ in range(HALVINGS if high else 0):
            middle = (low + high) / 2
            between = wider(patch.area, 2 * middle) ^ other.area
            if between.area() > SLIVER:
                high, shared = middle, between
            else:
                low = middle
        x, y = within(max(shared.decompose(), key=lambda one: one.area()))
        z = max(patch.slab.top, other.slab.top)
        self.near[pair] = Near(
            pair, low if high else 0.0, z, x, y, patch.slab.top != other.slab.top
        )


def _far(one: Patch, other: Patch, distance: float) -> bool:
    a, b = one.area.bounds(), other.area.bounds()
    return any(a[k] - b[k + 2] > distance or b[k] - a[k + 2] > distance for k in (0, 1))


def _weld(pair: tuple[int, int], patch: Patch, shared: CrossSection, *, landed: bool) -> Weld:
    largest = max(shared.decompose(), key=lambda one: one.area())
    x, y = within(largest)
    return Weld(pair, patch.slab.top, x, y, shared.area(), lines_at(patch, x, y), landed)


def lines_at(patch: Patch, x: float, y: float) -> tuple[int, ...]:
    """The lines of a patch's file that cover a point, or the nearest one."""
    import numpy as np

    lines = patch.slab.lines
    along = lines.end - lines.start
    to = np.array([x, y]) - lines.start
    share = np.clip((to * along).sum(1) / np.maximum((along * along).sum(1), 1e-12), 0, 1)
    away = np.hypot(*(to - share[:, None] * along).T) - lines.width / 2
    order = np.argsort(away)
    covering = [int(lines.source[k]) for k in order[:NAMED] if away[k] <= 0]
    return tuple(sorted(set(covering))) or (int(lines.source[order[0]]),)
