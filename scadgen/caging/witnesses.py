"""Places of one core at which its overlap with another may be seen."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from scadgen.caging.poses import around, posed

if TYPE_CHECKING:
    from scadgen.caging.section import Grid, Section

Array = np.ndarray[Any, Any]

#: Places lie so far apart in the section, mm; of more than so many, every second or third is taken;
#: and so many are around the axis.
PACE, PLACES, AROUND = 0.25, 1000, 16
#: No place is shallower than this in its own core, mm, or deeper; nor farther from the other one.
SHALLOWEST, DEEPEST, FARTHEST = 0.02, 1.2, 1.5
#: A place nearer the axis than this, mm, moves too little.
NEAREST = 0.2
#: Poses looked at together.
TOGETHER = 128


@dataclass(frozen=True, eq=False)
class Pair:
    """The sections of both cores, a grid of the fixed one, and the centre of poses on the axis."""

    fixed: Section
    moving: Section
    grid: Grid
    centre: float


@dataclass(frozen=True, eq=False)
class Witnesses:
    """Places (n, 3) of the moving core of a pair, mm, how deep they lie in it, about, and how far
    from the centre."""

    places: Array
    own: Array
    levers: Array
    pair: Pair

    @classmethod
    def of(cls, pair: Pair) -> Witnesses:
        """Places near the fixed core, spread over the moving section."""
        grid = pair.grid
        stride = max(1, round(PACE / grid.step))
        off, along = np.meshgrid(grid.off[::stride], grid.along[::stride], indexing="ij")
        near = (grid.depths[::stride, ::stride] > -FARTHEST) & (off > NEAREST)
        off, along = off[near], along[near]
        own = pair.moving.depth(off, along)
        kept = np.flatnonzero((own > SHALLOWEST) & (own < DEEPEST))
        kept = kept[:: 1 + len(kept) // PLACES]
        places = around(off[kept], along[kept], np.arange(AROUND) * 2 * np.pi / AROUND)
        own = np.repeat(own[kept], AROUND).astype(np.float32)
        levers = np.linalg.norm(places - np.array([0, 0, pair.centre], np.float32), axis=1)
        return cls(places, own, levers, pair)

    @cached_property
    def depths(self) -> Array:
        """How deep each place lies in its own core, exactly."""
        east, north, along = self.places.astype(float).T
        return self.pair.moving.depth(np.hypot(east, north), along)

    def chosen(self, which: Array | slice) -> Witnesses:
        """Some of them."""
        return Witnesses(self.places[which], self.own[which], self.levers[which], self.pair)

    def telling(self, poses: Array, each: int) -> Witnesses:
        """Those that see most of the overlap in any of the poses, so many of each."""
        seen = np.minimum(self.there(poses), self.own)
        if each >= seen.shape[1]:
            return self
        return self.chosen(np.unique(np.argpartition(-seen, each, axis=1)[:, :each]))

    def there(self, poses: Array, which: Array | None = None) -> Array:
        """How deep places come in the other core in poses (n, 4): about, (n, m).

        which: of the places, the row of those wanted for each pose; else all of them.
        """
        places = self.places if which is None else self.places[which]
        return self.pair.grid.at(*posed(poses, places, self.pair.centre))

    def shared(self, poses: Array) -> Array:
        """The radius of the largest ball that is seen in both cores in each pose, about (mm)."""
        found = np.empty(len(poses))
        for first in range(0, len(poses), TOGETHER):
            some = slice(first, first + TOGETHER)
            found[some] = np.minimum(self.there(poses[some]), self.own).max(1)
        return found
