"""Which boxes of two sets are near each other, without trying all of them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

    import numpy as np

    Array = np.ndarray[Any, Any]

#: Most pairs of nodes that are looked at together: what bounds the memory.
TOGETHER = 400_000
#: Bits of a place along one axis, in the order along which near boxes stand side by side.
BITS = 20


def boxes(triangles: Array) -> Array:
    """The box around each triangle, as (count, 2, 3): lowest and highest corner."""
    import numpy as np

    return np.stack([triangles.min(1), triangles.max(1)], 1)


def near_pairs(one: Array, other: Array | None, margin: float) -> Iterator[tuple[Array, Array]]:
    """Indices of boxes, one of each set, that come within ``margin`` (mm) along every axis.

    Boxes are (count, 2, 3). Without ``other`` they are pairs within the first set, each once and
    none with itself. They come in batches, in an order that depends on nothing but the boxes.
    """
    import numpy as np

    if len(one) == 0 or (other is not None and len(other) == 0):
        return
    within = other is None
    sets = [one] if other is None else [one, other]
    depth = max(int(np.ceil(np.log2(max(len(boxes), 2)))) for boxes in sets)
    trees = [_tree(boxes, depth) for boxes in sets]
    (order_a, levels_a), (order_b, levels_b) = trees[0], trees[-1]
    waiting = [(0, np.zeros(1, np.int64), np.zeros(1, np.int64))]
    while waiting:
        level, a, b = waiting.pop()
        near = _near(levels_a[level][a], levels_b[level][b], margin)
        if within:
            near = near & (b - a >= (level == depth))
        a, b = a[near], b[near]
        if level == depth:
            if len(a):
                yield order_a[a], order_b[b]
            continue
        for start in range(0, len(a), TOGETHER // 4):
            some_a, some_b = a[start : start + TOGETHER // 4], b[start : start + TOGETHER // 4]
            child_a = (2 * some_a[:, None] + np.array([0, 0, 1, 1])).ravel()
            child_b = (2 * some_b[:, None] + np.array([0, 1, 0, 1])).ravel()
            waiting.append((level + 1, child_a, child_b))


def _near(a: Array, b: Array, margin: float) -> Array:
    import numpy as np

    below = (a[:, 0] <= b[:, 1] + margin) & (b[:, 0] <= a[:, 1] + margin)
    return np.asarray(below.all(axis=1))


def _tree(boxes: Array, depth: int) -> tuple[Array, list[Array]]:
    """The boxes' order, and the boxes around 1, 2, 4 ... groups of neighbours in that order."""
    import numpy as np

    order = np.argsort(_places(boxes.mean(1)), kind="stable")
    level = np.empty((2**depth, 2, 3))
    level[:, 0], level[:, 1] = np.inf, -np.inf
    level[: len(boxes)] = boxes[order]
    levels = [level]
    while len(level) > 1:
        level = np.stack(
            [level[:, 0].reshape(-1, 2, 3).min(1), level[:, 1].reshape(-1, 2, 3).max(1)], 1
        )
        levels.append(level)
    return order, levels[::-1]


def _places(points: Array) -> Array:
    """A number for each point; points with near numbers are near each other (Z-order curve)."""
    import numpy as np

    low, high = points.min(0), points.max(0)
    cells = ((points - low) / max((high - low).max(), 1e-30) * (2**BITS - 1)).astype(np.uint64)
    places = np.zeros(len(points), np.uint64)
    for bit in range(BITS):
        for axis in range(3):
            digit = (cells[:, axis] >> np.uint64(bit)) & np.uint64(1)
            places |= digit << np.uint64(3 * bit + axis)
    return places
