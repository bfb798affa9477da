"""A turning joint in finite elements: both links, and stress in each under what bears on it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from scadgen.elements.bearing import merged
from scadgen.elements.fill import Array
from scadgen.elements.links import (
    PIECES,
    Answer,
    Held,
    answer,
    bearing_zones,
    pushes,
    shares_of,
)
from scadgen.elements.skin import skin
from scadgen.elements.tilting import couples

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.elements.bearing import Zone
    from scadgen.motion.axis import Axis

_HALF = math.sqrt(0.5)
#: Pushes square to the axis, every 45 degrees, as shares of the four ways of ``pushes``.
AROUND = (
    (1, 0, 0, 0),
    (_HALF, 0, _HALF, 0),
    (0, 0, 1, 0),
    (0, _HALF, _HALF, 0),
    (0, 1, 0, 0),
    (0, _HALF, 0, _HALF),
    (0, 0, 0, 1),
    (_HALF, 0, 0, _HALF),
)
ALONG = ((1, 0), (0, 1))
NONE = (0, 0, 0, 0)
#: Ways of pushes.
SIX = 6


@dataclass(frozen=True)
class Load:
    """What acts on a bearing: a force in any direction square to the axis, and along it (N).

    tilt: a moment about any line square to the axis, N mm.
    """

    name: str
    aside: float
    along: float
    tilt: float = 0.0

    def ways(self) -> Iterator[tuple[float, ...]]:
        """All directions, as forces in the six ways of ``pushes``, and moments in ``TILTS``."""
        for square in AROUND if self.aside else (NONE,):
            for line in ALONG if self.along else ((0, 0),):
                for lean in AROUND if self.tilt else ((),):
                    yield (
                        *(self.aside * share for share in square),
                        *(self.along * share for share in line),
                        *(self.tilt * share for share in lean),
                    )

    @property
    def parts(self) -> list[float]:
        """What acts in each way by itself."""
        return [self.aside] * 4 + [self.along] * 2 + [self.tilt] * 4


@dataclass(frozen=True, eq=False)
class Joint:
    """Two links as they print, each held beyond a radius (mm) from the axis."""

    fixed: Manifold
    moving: Manifold
    axis: Axis
    radius: float
    elastic: Array
    tilted: bool = False
    shared: tuple[list[list[Zone]], list[list[Zone]]] | None = None

    @cached_property
    def zoned(self) -> tuple[list[list[Zone]], list[list[Zone]]]:
        """For each push the zones of both links: those found, or those whose shares are known."""
        if self.shared:
            return self.shared
        both = bearing_zones(skin(self.fixed, PIECES), skin(self.moving, PIECES), self.axis)
        if not self.tilted:
            return both
        ways = pushes(self.axis)
        fixed, moving = (one + couples(one, ways, self.axis) for one in both)
        return fixed, moving

    def sharing(self, shares: list[Array]) -> Joint:
        """The same joint with one zone for each push, its parts sharing the push so."""
        fixed, moving = (
            [
                [merged(group, share)] if group else []
                for group, share in zip(one, shares, strict=True)
            ]
            for one in self.zoned
        )
        return replace(self, shared=(fixed, moving))

    def cut(self, size: float, reach: float, tell: Callable[[str], None]) -> Cut:
        """Solve both links in cubes of a size (mm), stress fitted over a reach (mm)."""
        held = Held(self.axis, self.radius, size, reach, self.elastic)
        found = []
        for name, solid, zoned in zip(
            ("fixed", "moving"), (self.fixed, self.moving), self.zoned, strict=True
        ):
            tell(f"solid of the {name} link, cubes of {size:.2g} mm")
            found.append(answer(solid, held, zoned))
        return Cut(self, size, (found[0], found[1]))


def half_way(solids: tuple[Manifold, ...], zoned: list[list[Zone]], axis: Axis) -> float:
    """Half-way from the bearing to the farthest of both links, from the axis (mm)."""
    held = Held(axis, 0, 0, 0, np.zeros(0))
    far = min(float(held.beyond(one.to_mesh64().vert_properties[:, :3]).max()) for one in solids)
    near = max(float(held.beyond(zone.points).max()) for group in zoned for zone in group)
    return (near + far) / 2


@dataclass(frozen=True, eq=False)
class Cut:
    """Both links, solved in cubes of one size."""

    joint: Joint
    size: float
    answers: tuple[Answer, Answer]

    @cached_property
    def shares(self) -> list[Array]:
        """For each push how its zones share it."""
        return shares_of(*self.answers)

    @cached_property
    def units(self) -> tuple[list[Array], list[Array]]:
        """Stress in both links for each push of 1 N."""
        one, other = (
            [found.under(k, share) for k, share in enumerate(self.shares)] for found in self.answers
        )
        return one, other

    def stress(self, link: int, way: tuple[float, ...]) -> Array:
        """Stress at the link's places under forces in the six ways (n, 6), MPa."""
        total = np.zeros((len(self.answers[link].points), 6))
        for force, unit in zip(way, self.units[link], strict=False):  # no moments, no tilts
            if force:
                total += force * unit
        return total

    def gives_way(self, load: Load) -> float:
        """How far both links together give way at the bearing, the most of all pushes (mm)."""
        most = [0.0]
        ways = zip(self.shares, *(found.gives_way for found in self.answers), strict=True)
        # A tilt's own way is an angle: how far that moves the bearing is left out.
        for force, (share, one, other) in zip(load.parts[:SIX], ways, strict=False):
            most.append(float(force * share @ (one + other) @ share) if len(share) else 0.0)
        return max(most)

    def directions(self) -> list[Array]:
        """The six ways, after which moments push nowhere."""
        still = [np.zeros(3)] * (len(self.shares) - SIX)
        return [*pushes(self.joint.axis), *still]
