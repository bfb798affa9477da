"""Which boxes of two sets are near each other, without trying all of them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

    import numpy as np

    Array = np.ndarray[Any, Any]

#: Most pairs of nodes that are looked at together: what bounds the memory.
TOGETHER = 400_000
#: Bits of a place along all axes, in the order along which near boxes stand side by side.
BITS = 60


def boxes(triangles: Array) -> Array:
    """The box around each triangle, as (count, 2, 3): lowest and highest corner."""
    import numpy as np

    return np.stack([triangles.min(1), triangles.max(1)], 1)


def near_pairs(one: Array, other: Array | None, margin: float) -> Iterator[tuple[Array, Array]]:
    """Indices of boxes, one of each set, that come within ``margin`` along every axis.

    Boxes are (count, 2, axes), of three axes or more. Without ``other`` they are pairs within the
    first set, each once and none with itself. They come in batches, in an order that depends on
    nothing but the boxes.
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
        if within:
            once = b - a >= (level == depth)
            a, b = a[once], b[once]
        a, b = _near(levels_a[level], levels_b[level], a, b, margin)
        if level == depth:
            if len(a):
                yield order_a[a], order_b[b]
            continue
        filled = [levels[level + 1].shape[2] for levels in (levels_a, levels_b)]
        for start in range(0, len(a), TOGETHER // 4):
            some = slice(start, start + TOGETHER // 4)
            waiting.append((level + 1, *_children(a[some], b[some], *filled)))


def _children(a: Array, b: Array, filled_a: int, filled_b: int) -> tuple[Array, Array]:
    """Every child of each node with every child of its partner; none that stands for no boxes."""
    import numpy as np

    child_a = (2 * a[:, None] + np.array([0, 0, 1, 1])).ravel()
    child_b = (2 * b[:, None] + np.array([0, 1, 0, 1])).ravel()
    there = (child_a < filled_a) & (child_b < filled_b)
    return child_a[there], child_b[there]


def _near(one: Array, other: Array, a: Array, b: Array, margin: float) -> tuple[Array, Array]:
    """The pairs of nodes whose boxes come within the margin: axis by axis, fewer each time."""
    for axis in range(one.shape[1]):
        below = one[0, axis].take(a) <= other[1, axis].take(b) + margin
        below &= other[0, axis].take(b) <= one[1, axis].take(a) + margin
        a, b = a[below], b[below]
    return a, b


def _tree(boxes: Array, depth: int) -> tuple[Array, list[Array]]:
    """The boxes' order, and the boxes around 1, 2, 4 ... groups of neighbours in that order.

    Those are (2, axes, groups); groups without boxes, which are the last ones, are left out.
    """
    import numpy as np

    order = np.argsort(_places(boxes.mean(1)), kind="stable")
    level = np.ascontiguousarray(boxes[order].transpose(1, 2, 0))
    levels = [level]
    for _ in range(depth):
        if level.shape[2] % 2:
            level = np.concatenate([level, level[:, :, -1:]], 2)
        low = np.minimum(level[0, :, ::2], level[0, :, 1::2])
        level = np.stack([low, np.maximum(level[1, :, ::2], level[1, :, 1::2])])
        levels.append(level)
    return order, levels[::-1]


def _places(points: Array) -> Array:
    """A number for each point; points with near numbers are near each other (Z-order curve)."""
    import numpy as np

    axes = points.shape[1]
    bits = BITS // axes
    low, high = points.min(0), points.max(0)
    cells = ((points - low) / max((high - low).max(), 1e-30) * (2**bits - 1)).astype(np.uint64)
    places = np.zeros(len(points), np.uint64)
    for bit in range(bits):
        for axis in range(axes):
            digit = (cells[:, axis] >> np.uint64(bit)) & np.uint64(1)
            places |= digit << np.uint64(axes * bit + axis)
    return places
