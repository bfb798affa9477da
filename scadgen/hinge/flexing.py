"""An arm of a hinge that is bent aside, as finite elements load it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from manifold3d import Manifold

Point = tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class Flexing:
    """A bar along y that is held where it leaves its root and pushed aside, along x, as printed.

    place: the name of its strain among the hinge's strengths. solid: the bar, and what carries it,
    cut off its body in a plane square to x (mm). held: x of that plane. root: y of where the bar
    leaves what carries it. outside: x of its face away from the body. thickness: along x. pushed:
    low and high corner of the place that is pushed. way: by how much, mm, for that strain. force:
    that its formula tells for a way (mm), with a modulus (MPa) and Poisson's ratio, N.
    """

    place: str
    title: str
    solid: Callable[[], Manifold]
    held: float
    root: float
    outside: float
    thickness: float
    pushed: tuple[Point, Point]
    way: float
    force: Callable[[float, float, float], float]
