"""Arms that are bent aside, in finite elements on their own solids: strain at the root, and force.

An arm is held where its post or block meets the body, and pushed at its lip or nose until that has
given as much as its formula is told. What the root is strained is the greatest of straight lines
through the strains of the cubes across the arm, along it, as a formula for bars has it: at a sharp
corner itself more is found the finer the cubes are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from scadgen.elements.bears import stiffness
from scadgen.elements.fill import Array, cells
from scadgen.elements.system import Body
from scadgen.findings.finding import Finding, Place

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.hinge.flexing import Flexing
    from scadgen.strength.materials import Plastic
    from scadgen.strength.place import Strength

#: Cubes across an arm, first and then.
ACROSS = (4, 6)
#: Least cubes in a row across it through which a line is laid.
ROW = 3
#: Share by which two sizes may differ, and how many times what is asked is left alone, as of links.
SETTLED, AMPLE = 0.15, 2.0


@dataclass(frozen=True, eq=False)
class Bar:
    """An arm in cubes of one size, pushed by 1 N. elastic: stress per strain, MPa."""

    arm: Flexing
    size: float
    elastic: Array

    @cached_property
    def body(self) -> Body:
        """Its cubes, held in its plane, beyond the root."""
        arm = self.arm

        def held(at: Array) -> Array:
            return (at[:, 0] < arm.held + self.size / 4) & (at[:, 1] > arm.root)

        return Body(cells(arm.solid(), self.size), self.elastic, held)

    @cached_property
    def pushed(self) -> Array:
        """Which corners are pushed: those in the place, with room of a cube around it."""
        low, high = np.array(self.arm.pushed)
        at = self.body.corners
        near: Array = np.all((at > low - self.size) & (at < high + self.size), axis=1)
        return near & self.body.free

    @cached_property
    def ways(self) -> Array:
        """The ways that its corners take under 1 N, mm."""
        force = np.zeros_like(self.body.corners)
        force[self.pushed, 0] = 1 / self.pushed.sum()
        (found,) = self.body.solve([force])
        return found

    @property
    def way(self) -> float:
        """How far it gives under 1 N where it is pushed, mm."""
        return float(self.ways[self.pushed, 0].mean())

    @cached_property
    def strains(self) -> Array:
        """Strain along the arm in the middle of each cube, under 1 N."""
        cubes = self.body.numbered[1]
        moved = self.ways[cubes].reshape(len(cubes), -1, 1)
        found: Array = (self.body.bricks.strain[self.body.bricks.kind] @ moved)[:, 1, 0]
        return found

    @cached_property
    def root(self) -> tuple[float, tuple[float, float, float]]:
        """Greatest strain at the faces of the arm near its root, under 1 N, and where."""
        arm = self.arm
        x, y, z = self.body.corners[self.body.numbered[1]].mean(axis=1).T
        middle = arm.outside - arm.thickness / 2
        near = (abs(y - arm.root) < arm.thickness) & (abs(x - middle) < arm.thickness / 2)
        worst, at = 0.0, (middle, arm.root, 0.0)
        places = np.round(np.stack((y[near], z[near]), axis=1), 3)
        order = np.unique(places, axis=0, return_inverse=True)[1].ravel()
        depth, strain = x[near] - middle, self.strains[near]
        for k in range(order.max(initial=-1) + 1):
            row = order == k
            if row.sum() >= ROW:
                slope, level = np.polyfit(depth[row], strain[row], 1)
                most = abs(level) + abs(slope) * arm.thickness / 2
                if most > worst:
                    side = np.sign(slope * level) or 1.0
                    y0, z0 = places[row][0]
                    worst, at = most, (middle + side * arm.thickness / 2, float(y0), float(z0))
        return float(worst), at

    @property
    def strain(self) -> float:
        """What its root is strained by when it has given as much as is told, as a share."""
        return self.root[0] * self.arm.way / self.way


@dataclass(frozen=True, eq=False)
class Flexed:
    """An arm in cubes of two sizes, and what its formula says of it."""

    arm: Flexing
    told: Strength
    bars: tuple[Bar, Bar]
    plastic: Plastic
    margin: float

    @property
    def ratio(self) -> float:
        """Strain of the solid over that of the formula."""
        return 100 * self.bars[1].strain / float(self.told.actual)

    def findings(self) -> Iterator[Finding]:
        """Whether the arm's own shape bears being bent as far."""
        coarse, fine = self.bars
        strain, borne = 100 * fine.strain, float(self.told.permissible)
        change = abs(strain - 100 * coarse.strain) / strain
        factor = borne / (strain * (1 + change))
        sizes = " and ".join(f"{bar.size:.2g}" for bar in self.bars)
        words = (
            f"bent aside by {self.arm.way:.3g} mm its root is strained by {strain:.3g} % along "
            f"the arm, {self.ratio:.2f} times what its formula says; {borne:.3g} % is borne; "
            f"{factor:.3g} times what is asked, with the {change:.0%} added by which cubes of "
            f"{sizes} mm differ."
        )
        settled = change <= SETTLED or factor >= AMPLE * self.margin
        yield Finding(
            f"solid, {self.arm.title}",
            factor >= self.margin,
            words,
            measured=factor,
            needed=self.margin,
            unit="times",
            slack=0.25 * self.margin,
            change=self.told.change,
            place=Place(fine.root[1]),
            leaves_open="" if settled else f"has not converged: {change:.0%} to finer cubes",
        )

    def shares(self) -> list[tuple[str, Manifold, Array, Array]]:
        """Its title, its solid, places (mm), and the share of what is borne that each has."""
        bar = self.bars[1]
        at = bar.body.corners[bar.body.numbered[1]].mean(axis=1)
        used = 100 * abs(bar.strains) * self.arm.way / bar.way / float(self.told.permissible)
        return [(self.arm.title, self.arm.solid(), at, used * self.margin)]


def flexed(
    arm: Flexing,
    told: Strength,
    plastic: Plastic,
    margin: float,
    tell: Callable[[str], None] = lambda _: None,
) -> Flexed:
    """An arm, solved in cubes of two sizes."""
    tell(arm.title)
    elastic = stiffness(plastic)
    first, then = (Bar(arm, arm.thickness / count, elastic) for count in ACROSS)
    return Flexed(arm, told, (first, then), plastic, margin)
