"""A mechanism as pictures show it: two sides, one of which its first joint carries along."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.joint import Joint, Look
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.motion.axis import Axis

#: What is left of a direction beside one of the world's is rounding.
STRAIGHT = 1e-9
_ENDS = ((min, range(3)), (max, range(3, 6)))


@dataclass(frozen=True, eq=False)
class Sides:
    """The pieces of a mechanism by their colours; joints after the first stay as they print."""

    whole: Mechanism

    @property
    def joint(self) -> Joint | None:
        """The joint that is shown to move; None where nothing moves."""
        return next(iter(self.whole.joints), None)

    @property
    def ends(self) -> tuple[float, float]:
        """Positions from and to which it is shown to move, in the joint's unit."""
        return self.joint.ends if self.joint else (0.0, 0.0)

    @property
    def unit(self) -> str:
        """Unit of the positions."""
        return self.joint.unit if self.joint else ""

    def at(self, position: float = 0.0) -> dict[str, Manifold]:
        """The solids at a position, ``fixed`` and, if a piece is carried along, ``moving`` (mm)."""
        found: dict[str, list[Manifold]] = {"fixed": [], "moving": []}
        for piece, solid in self.whole.at(position):
            carried = self.joint is not None and self.whole.moves(piece, self.joint)
            found["moving" if carried else "fixed"].append(solid)
        return {side: together(solids) for side, solids in found.items() if solids}

    @cached_property
    def printed(self) -> dict[str, Manifold]:
        """The sides as they print."""
        return self.at()

    @cached_property
    def opened(self) -> dict[str, Manifold]:
        """The sides at the end of the motion that is shown: the one farther from how it prints."""
        low, high = self.ends
        return self.at(high if high >= -low else low)

    @property
    def look(self) -> Look | None:
        """Where the joint says that a cut shows it best."""
        return self.joint.look if self.joint else None

    @cached_property
    def cut(self) -> dict[str, Manifold]:
        """The sides as sections show them: as they print, or where the joint says."""
        return self.at(self.look.at) if self.look else self.printed

    @property
    def swung(self) -> Manifold | None:
        """What has moved, at the end of its motion; None where nothing is shown to move."""
        if self.look:
            return None
        return self.opened.get("moving", self.opened["fixed"]) if any(self.ends) else None

    @property
    def axis(self) -> Axis | None:
        """The axis between two sides, where there is one and it is parallel to x, y or z."""
        tells = self.joint and self.look is None and "moving" in self.printed
        axis = self.joint.axis if self.joint and tells else None
        return axis if axis and along(axis.unit) is not None else None

    @property
    def fold_line(self) -> int | None:
        """The way of the lines about which a lying sheet folds, x being 0 and y 1."""
        line = self.joint.fold_line if self.joint else None
        k = along(line) if line else None
        return k if k in (0, 1) else None

    @cached_property
    def box(self) -> tuple[float, ...]:
        """Low and high ends along x, y and z of all that prints, mm."""
        ends = [solid.bounding_box() for solid in self.printed.values()]
        low, high = ([pick(e[k] for e in ends) for k in ks] for pick, ks in _ENDS)
        return (*low, *high)

    @property
    def middle(self) -> tuple[float, float, float]:
        """Middle of all that prints, mm."""
        x, y, z = ((self.box[k] + self.box[k + 3]) / 2 for k in range(3))
        return x, y, z

    @property
    def size(self) -> float:
        """Longest side of the box around all that prints, mm."""
        return max(self.box[k + 3] - self.box[k] for k in range(3))


def along(direction: tuple[float, float, float]) -> int | None:
    """To which of x, y and z, as 0 to 2, a direction is parallel; None where it leans."""
    long = [k for k in range(3) if abs(direction[k]) > STRAIGHT]
    return long[0] if len(long) == 1 else None


def together(solids: list[Manifold]) -> Manifold:
    """Several solids as one, and one as it is."""
    from manifold3d import Manifold, OpType

    return solids[0] if len(solids) == 1 else Manifold.batch_boolean(solids, OpType.Add)
