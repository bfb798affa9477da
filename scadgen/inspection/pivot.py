"""The axis of a hinge: found on its round walls, or told; and tried by a little turn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.inspection.revolved import Revolved, revolved
from scadgen.motion.axis import Axis
from scadgen.motion.contact import meet
from scadgen.motion.nearest import distance
from scadgen.tables.documents import JobError

if TYPE_CHECKING:
    from manifold3d import Manifold

#: Turns by which an axis is tried, degrees.
LITTLE = (0.5, 1.0, 2.0, 4.0)
#: Most axes that are tried.
TRIED = 6
#: Share of the round edges that must agree on an axis about which nothing turns.
CONVINCING = 0.4
#: Sides of the bearing that are assumed for an axis that is told.
FACETS = 64


@dataclass(frozen=True)
class FoundAxis:
    """An axis, and why it is one.

    walls: what its round walls say; None for an axis that was told. free_low, free_high: how far it
        was turned each way in the trial without meeting anything, degrees.
    """

    axis: Axis
    walls: Revolved | None
    free_low: float
    free_high: float

    @property
    def sure(self) -> str:
        """How sure it is, in a word."""
        if self.walls is None:
            return "told"
        both = self.free_low > 0 and self.free_high > 0
        if both and self.walls.share >= CONVINCING:
            return "sure"
        return "likely" if self.free_low > 0 or self.free_high > 0 else "doubtful"

    @property
    def facets(self) -> int:
        """Sides of the bearing to a full turn, for sampling: phases between them count too."""
        sides = self.walls.facets if self.walls else FACETS
        return 2 * min(max(sides, 8), 256)  # nobody says that the links stand at whole facets

    @property
    def words(self) -> str:
        """Where it is, how it was found, how sure that is."""
        point, way = self.axis.origin, self.axis.unit
        where = f"through {_triple(point, 3)} along {_triple(way, 4)}"
        if self.walls is None:
            how = "as told"
        else:
            how = (
                f"{self.sure}: the normals of {100 * self.walls.share:.0f} % of the round walls "
                f"near the other body meet it within {max(self.walls.miss, 0.001):.3f} mm, "
                f"{self.walls.facets} facets to a turn"
            )
        return f"{where}; {how}; {self._trial()}"

    def _trial(self) -> str:
        if self.free_low == self.free_high == 0:
            return "not even a little turn is free"
        return f"a turn from -{self.free_low:g} to {self.free_high:g} deg meets nothing"

    def to_dict(self) -> dict[str, Any]:
        """Plain data."""
        walls = self.walls
        return {
            "origin": list(self.axis.origin),
            "direction": list(self.axis.unit),
            "sure": self.sure,
            "share": walls and walls.share,
            "edges": walls and walls.edges,
            "miss": walls and walls.miss,
            "facets": walls and walls.facets,
        }


def told(values: Sequence[float], fixed: Manifold, moving: Manifold) -> FoundAxis:
    """The axis that was told: a point (mm) and a direction. Raises JobError for what is none."""
    try:
        x, y, z, u, v, w = values
        axis = Axis((x, y, z), (u, v, w))
    except ValueError as error:
        given = ",".join(f"{value:g}" for value in values)
        raise JobError(
            f"axis = {given}; it must be six numbers, a point in mm and a direction that is not "
            f"zero, such as 0,0,0,0,0,1 ({error})."
        ) from None
    return _tried(axis, None, fixed, moving)


def found(fixed: Manifold, moving: Manifold) -> FoundAxis:
    """The axis that the round walls of two bodies share, about which a little turn is free.

    Raises JobError when there is none.
    """
    gap = distance(fixed, moving)
    overlapping = meet(fixed, moving)
    best: FoundAxis | None = None
    for count, walls in enumerate(revolved(fixed, moving, gap)):
        tried = _tried(walls.axis, walls, fixed, moving)
        if overlapping or (tried.free_low > 0 and tried.free_high > 0):
            return tried
        rank = (tried.free_low + tried.free_high, walls.share)
        if best is None or rank > (best.free_low + best.free_high, _share(best)):
            best = tried
        if count + 1 >= TRIED:
            break
    if best and (best.free_low + best.free_high > 0 or _share(best) >= CONVINCING):
        return best
    raise JobError(
        "no axis found: the bodies have no round walls that face each other about one line. "
        "Tell the axis: a point on it in mm, and its direction."
    )


def _share(one: FoundAxis) -> float:
    return one.walls.share if one.walls else 0.0


def _tried(axis: Axis, walls: Revolved | None, fixed: Manifold, moving: Manifold) -> FoundAxis:
    low, high = (_free(axis, way, fixed, moving) for way in (-1, 1))
    return FoundAxis(axis, walls, low, high)


def _free(axis: Axis, way: int, fixed: Manifold, moving: Manifold) -> float:
    free = 0.0
    for angle in LITTLE:
        if meet(fixed, axis.turn(moving, way * angle)):
            break
        free = angle
    return free


def _triple(values: Sequence[float], digits: int) -> str:
    return "({})".format(", ".join(f"{round(value, digits) + 0.0:g}" for value in values))
