"""Bodies cut into printed layers: each cross section is made once, for all that ask for it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations
from typing import TYPE_CHECKING, Any, TypeVar

from scadgen.printing.facing import Facing, facing
from scadgen.printing.nearness import Nearness
from scadgen.printing.undersides import Undersides, undersides
from scadgen.printing.upright import Upright, upright

if TYPE_CHECKING:
    from manifold3d import CrossSection, Manifold

T = TypeVar("T")

#: Allowance on the reach and below the bed, mm: rounding of the outlines, and far below what a
#: printer can place.
TOLERANCE = 0.005
#: A corner of a section nearer than this, mm, to the straight line between the corners beside it is
#: none: faces are cut into triangles, and half of what a section has are their corners.
STRAIGHT = 1e-6
#: Patches smaller than this, mm2, are less than any printer lays down: 0.07 mm square.
SLIVER = 0.005
#: In thick layers, whose lines are at least as wide as high, so are patches smaller than this share
#: of the height squared.
SLIVER_SHARE = 1 / 8


@dataclass(frozen=True, eq=False)
class Cuts:
    """Bodies that stand on z = 0, with their cross sections at the middles of layers.

    near: how near two bodies come, by place, where it is known.

    Raises ValueError when a body reaches below the bed.
    """

    bodies: tuple[Manifold, ...]
    near: Mapping[tuple[int, int], Nearness] = field(default_factory=dict)
    _made: dict[tuple[int, float], CrossSection] = field(default_factory=dict, repr=False)
    _found: dict[tuple[Any, int, float], list[Any]] = field(default_factory=dict, repr=False)
    _straight: dict[tuple[int, int], CrossSection] = field(default_factory=dict, repr=False)
    _alike: dict[tuple[int | bytes, ...], CrossSection] = field(default_factory=dict, repr=False)

    def __post_init__(self) -> None:
        lowest = min(body.bounding_box()[2] for body in self.bodies)
        if lowest < -TOLERANCE:
            raise ValueError(
                f"layers: a body reaches down to z = {lowest:.4g} mm; the bed is at z = 0."
            )

    @cached_property
    def top(self) -> float:
        """Height of the tallest body, mm."""
        return max(float(body.bounding_box()[5]) for body in self.bodies)

    @cached_property
    def pairs(self) -> tuple[tuple[int, int, Nearness], ...]:
        """Every two bodies, by place, and how near they come."""
        numbered = combinations(enumerate(self.bodies), 2)
        return tuple(
            (i, j, self.near.get((i, j)) or Nearness(one, other))
            for (i, one), (j, other) in numbered
        )

    @cached_property
    def undersides(self) -> tuple[Undersides, ...]:
        """What leans out over the air in each body."""
        return tuple(undersides(body) for body in self.bodies)

    @cached_property
    def facing(self) -> tuple[Facing, ...]:
        """Where faces of each body look up and down."""
        return tuple(facing(body) for body in self.bodies)

    @cached_property
    def upright(self) -> tuple[Upright, ...]:
        """Where nothing leans in each body."""
        return tuple(upright(body) for body in self.bodies)

    def count(self, height: float) -> int:
        """Layers of the tallest body, each so high (mm)."""
        return max(1, math.ceil(self.top / height - 0.5))

    def section(self, body: int, layer: int, height: float) -> CrossSection:
        """Cross section of a body at the middle of a layer, counted from 0 at the bed.

        Layers with the same corners have the same one, so that what is found of it can be kept;
        between two heights where nothing leans it is cut only once.
        """
        z = round((layer + 0.5) * height, 9)  # layers of 0.1 and of 0.3 mm share some middles
        if (body, z) not in self._made:
            self._made[body, z] = self._section(body, z)
        return self._made[body, z]

    def once(
        self, find: Callable[[CrossSection, float], Iterable[T]], section: CrossSection, line: float
    ) -> list[T]:
        """What ``find`` gives of one of the sections and a measure of lines, mm: found once."""
        key = find, id(section), line
        if key not in self._found:
            self._found[key] = list(find(section, line))
        return self._found[key]

    def _section(self, body: int, z: float) -> CrossSection:
        band = self.upright[body].band(z)
        if band is None:
            return self._cut(body, z)
        if (body, band) not in self._straight:
            self._straight[body, band] = self._cut(body, z)
        return self._straight[body, band]

    def _cut(self, body: int, z: float) -> CrossSection:
        cut = self.bodies[body].slice(z).simplify(STRAIGHT)
        corners = (outline.tobytes() for outline in cut.to_polygons())
        return self._alike.setdefault((body, *corners), cut)


def cuts(bodies: Sequence[Manifold] | Cuts) -> Cuts:
    """The bodies' cuts, or those that are given already."""
    return bodies if isinstance(bodies, Cuts) else Cuts(tuple(bodies))
