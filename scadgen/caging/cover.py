"""The boundary of a region, cut into cells until in each of them a ball stays in both cores."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from itertools import count
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from scadgen.caging.poses import TILT, WAY, motion, posed
from scadgen.caging.witnesses import TOGETHER

if TYPE_CHECKING:
    from scadgen.caging.region import Region
    from scadgen.caging.witnesses import Witnesses

Array = np.ndarray[Any, Any]

#: A cell that has been halved so often sees only the places that told most of it, and so many.
NARROWED, CANDIDATES = 5, 96
#: Of these places so many are measured exactly.
MEASURED = 2


@dataclass(frozen=True, eq=False)
class Node:
    """A cell: halved along a dimension into the nodes ``halves``, or seen by a place."""

    dimension: int
    halves: tuple[int, int]
    place: int


@dataclass(frozen=True, eq=False)
class Cover:
    """What came of cutting a region's boundary into cells.

    radius: of the ball that lies in both cores in every pose on the boundary, mm; 0 where there is
        none, or not enough. cells: how many were tried. weakest: the pose in which the least was
        seen, and how much, mm. tree: a row for each cell, as in a ``Node``, the four faces first;
        empty without a ball.
    """

    radius: float
    cells: int
    weakest: tuple[Array, float]
    tree: Array = field(default_factory=lambda: np.zeros((0, 4), int))

    @cached_property
    def nodes(self) -> tuple[Node, ...]:
        """The cells one by one."""
        return tuple(Node(k, (low, high), place) for k, low, high, place in self.tree.tolist())


def cover(region: Region, seen: Witnesses, *, enough: float, share: float, most: int) -> Cover:
    """Cut the boundary into cells until each is blocked by ``share`` of the least that is seen.

    It gives up where that is less than ``enough`` (mm), or after the ``most`` cells.
    """
    cells = _Cells(*region.faces())
    tree: list[Array] = []
    least, weakest, radius, tried = np.inf, cells.middles[0], np.inf, 0
    made = len(cells.middles)
    for level in count():
        tried += len(cells.middles)
        found = _looked(cells, seen, narrow=level >= NARROWED)
        if found.seen.min() < least:
            least, weakest = float(found.seen.min()), cells.middles[found.seen.argmin()]
        if share * least < enough or tried > most:
            return Cover(0.0, tried, (weakest, least))
        blocked = found.sure >= share * least
        radius = min(radius, float(found.sure[blocked].min(initial=np.inf)))
        rows = np.stack([np.full_like(found.place, k) for k in (-1, 0, 0, -1)], axis=1)
        rows[blocked, 3] = found.place[blocked]
        tree.append(rows)
        if blocked.all():
            break
        cells, along = _Cells(cells.middles, cells.halves, found.told).kept(~blocked).halved(seen)
        halves = made + np.arange(2 * len(along)).reshape(2, -1)
        rows[~blocked, :3] = np.stack([along, *halves], axis=1)
        made += 2 * len(along)
    return Cover(radius, tried, (weakest, least), np.concatenate(tree))


@dataclass(frozen=True, eq=False)
class _Cells:
    """Cells (n, 4): middles, half sizes, and the places by which they are judged; None for all."""

    middles: Array
    halves: Array
    told: Array | None = None

    def kept(self, which: Array | slice) -> _Cells:
        told = None if self.told is None else self.told[which]
        return _Cells(self.middles[which], self.halves[which], told)

    def halved(self, seen: Witnesses) -> tuple[_Cells, Array]:
        """The lower half of each, then the upper ones, and along which dimension: the one that
        moves places most."""
        lever = float(seen.levers.max())
        moved = self.halves.copy()
        moved[:, TILT] *= lever
        moved[:, WAY] *= lever * 2 * np.sin((self.middles[:, TILT] + self.halves[:, TILT]) / 2)
        along = moved.argmax(1)
        step = np.zeros_like(moved)
        rows = np.arange(len(moved))
        step[rows, along] = self.halves[rows, along] / 2
        middles = np.concatenate([self.middles - step, self.middles + step])
        told = None if self.told is None else np.concatenate([self.told] * 2)
        return _Cells(middles, np.concatenate([self.halves - step] * 2), told), along


class _Found(NamedTuple):
    """Of each cell: the radius seen in its middle, about; the one that is sure all over it, and
    the place that sees it; and the places that tell most of it."""

    seen: Array
    sure: Array
    place: Array
    told: Array | None


def _looked(cells: _Cells, seen: Witnesses, *, narrow: bool) -> _Found:
    parts = [
        _looked_at(cells.kept(slice(first, first + TOGETHER)), seen, narrow=narrow)
        for first in range(0, len(cells.middles), TOGETHER)
    ]
    told = [part.told for part in parts if part.told is not None]
    return _Found(
        np.concatenate([part.seen for part in parts]),
        np.concatenate([part.sure for part in parts]),
        np.concatenate([part.place for part in parts]),
        np.concatenate(told) if told else None,
    )


def _looked_at(cells: _Cells, seen: Witnesses, *, narrow: bool) -> _Found:
    told = cells.told
    there = seen.there(cells.middles, told)
    own, levers = (part[None] if told is None else part[told] for part in (seen.own, seen.levers))
    lost = motion(cells.middles, cells.halves, levers).astype(np.float32)
    best = _most(np.minimum(there - lost, own), MEASURED)
    place = best if told is None else np.take_along_axis(told, best, 1)
    sure = _sure(cells, seen, place)
    winner = sure.argmax(1)[:, None]
    if narrow and there.shape[1] > CANDIDATES:
        most = _most(np.minimum(there - lost / 2, own), CANDIDATES)
        told = most if told is None else np.take_along_axis(told, most, 1)
    sure, place = (np.take_along_axis(part, winner, 1)[:, 0] for part in (sure, place))
    return _Found(np.minimum(there, own).max(1), sure, place, told)


def _sure(cells: _Cells, seen: Witnesses, which: Array) -> Array:
    """The radius of a ball about each place (n, m) that lies in both cores all over the cell."""
    places, pair = seen.places[which].astype(float), seen.pair
    levers = np.linalg.norm(places - np.array([0, 0, pair.centre]), axis=2)
    there = pair.fixed.depth(*posed(cells.middles, places, pair.centre))
    lost = motion(cells.middles, cells.halves, levers)
    sure: Array = np.minimum(there - lost, seen.depths[which])
    return sure


def _most(values: Array, many: int) -> Array:
    """Where the largest values of each row are, in no order; of equal ones, if few, the first."""
    if values.shape[1] <= many:
        return np.broadcast_to(np.arange(values.shape[1]), values.shape)
    if many > MEASURED:
        return np.argpartition(-values, many, axis=1)[:, :many]
    found, left, rows = [], values.copy(), np.arange(len(values))
    for _ in range(many):
        found.append(left.argmax(1))
        left[rows, found[-1]] = -np.inf
    return np.stack(found, axis=1)
