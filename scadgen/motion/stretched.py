"""Distances in some ways only: all of space is stretched in the others, which count for nothing.

So found, a distance holds for every height, or for every place in a plane, at once.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from scadgen.motion.contact import gap_between

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.motion.axis import Axis

#: Space is stretched so much: a distance across the way asked for counts for nothing.
STRETCH = 1e4


class Ways(Protocol):
    """What tells how near two bodies come, mm; no shift that is shorter brings them together."""

    @property
    def beside(self) -> float:
        """In any level plane."""

    @property
    def vertical(self) -> float:
        """Straight up or down."""


def upward(solid: Manifold) -> Manifold:
    """The solid stretched along z: what is left are distances in level planes."""
    return solid.scale((1.0, 1.0, STRETCH))


def sideways(solid: Manifold) -> Manifold:
    """The solid stretched in level planes: what is left are distances straight up."""
    return solid.scale((STRETCH, STRETCH, 1.0))


def gap_across(one: Manifold, other: Manifold, axis: Axis, search: float) -> float:
    """Smallest distance, mm, of two bodies in any plane square to an axis, up to ``search``.

    No shift square to the axis that is shorter brings them together.
    """
    a, b = (upward(axis.seen_along(body)) for body in (one, other))
    return gap_between(a, b, search, search)
