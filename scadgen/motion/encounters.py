"""Which faces of two bodies can come near each other while one turns, and between what angles."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.motion.turning import Pairs
from scadgen.motion.windows import turns, window

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    import numpy as np

    from scadgen.motion.meridian import Faces

    Array = np.ndarray[Any, Any]

#: Most pairs of faces that are looked at together: what bounds the memory.
TOGETHER = 100_000
#: So many of them, the earliest, are put in order first.
SORTED = 30_000


@dataclass(frozen=True, eq=False)
class Encounters:
    """Pairs of faces, by index, that may be near each other from ``start`` to ``end`` (radians)."""

    fixed: Array
    moving: Array
    start: Array
    end: Array

    def __len__(self) -> int:
        return len(self.start)

    def __getitem__(self, some: Array) -> Encounters:
        return Encounters(self.fixed[some], self.moving[some], self.start[some], self.end[some])

    def pairs(self, one: Faces, other: Faces) -> Pairs:
        """Their triangles."""
        return Pairs.of(one.corners[self.fixed], other.corners[self.moving])


def encounters(
    one: Faces,
    other: Faces,
    outlines: tuple[Array, Array],
    span: tuple[float, float],
    distance: float,
) -> Iterator[Encounters]:
    """All within a span of angles (radians) of faces whose outlines are paired.

    At any other angle the two faces are farther apart than the distance (mm), by their own angles
    about the axis. They come in batches.
    """
    import numpy as np

    i, k = outlines
    total = np.cumsum(one.outlines.count[i] * other.outlines.count[k])
    cuts = np.searchsorted(total, np.arange(TOGETHER, total[-1] if len(total) else 0, TOGETHER))
    for some_i, some_k in zip(np.split(i, cuts), np.split(k, cuts), strict=True):
        fixed, moving = one.outlines.holders(some_i, other.outlines, some_k)
        if len(fixed):
            yield _spans(one, other, fixed, moving, span, distance)


def in_order(found: Iterable[Encounters], first: int) -> Iterator[Encounters]:
    """All of them in batches, the earliest first: the first batch of so many, others larger.

    None of a batch starts before any of the batches before it.
    """
    import numpy as np

    every = list(found)
    if not every:
        return
    parts = ("fixed", "moving", "start", "end")
    whole = Encounters(*(np.concatenate([getattr(one, part) for one in every]) for part in parts))
    for order in _ranked(whole.start):
        while len(order):
            yield whole[order[:first]]
            order, first = order[first:], 2 * first


def _ranked(starts: Array) -> Iterator[Array]:
    """The order of starts, the least first; of many, most are sorted only if that is asked for."""
    import numpy as np

    rest, many = np.arange(len(starts)), SORTED
    while len(rest) > 2 * many:
        rest = rest[np.argpartition(starts[rest], many)]
        early, rest = rest[:many], rest[many:]
        yield early[np.argsort(starts[early], kind="stable")]
        many *= 2
    yield rest[np.argsort(starts[rest], kind="stable")]


def _spans(
    one: Faces, other: Faces, fixed: Array, moving: Array, span: tuple[float, float], near: float
) -> Encounters:
    import numpy as np

    start, length = window(one.arcs[fixed], other.arcs[moving], near)
    whole = length >= 2 * np.pi
    start = np.where(whole, span[0], start)
    length = np.where(whole, span[1] - span[0], length)
    first, last = turns(start, length, span)
    first, last = np.where(whole, 0, first), np.where(whole, 0, last)
    found = []
    for more in range(max(0, int((last - first).max()) + 1)):
        some = np.flatnonzero(first + more <= last)
        begin = start[some] + 2 * np.pi * (first[some] + more)
        low, high = np.maximum(begin, span[0]), np.minimum(begin + length[some], span[1])
        found.append((fixed[some], moving[some], low, high))
    if not found:
        none = np.zeros(0, np.int64)
        return Encounters(none, none, np.zeros(0), np.zeros(0))
    return Encounters(*(np.concatenate(parts) for parts in zip(*found, strict=True)))
