"""A hook whose arm bends, in slices: which of them may meet a body as it is carried past."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import numpy
    from manifold3d import Manifold

    from scadgen.motion.axis import Vector

    Array = numpy.ndarray[Any, Any]

#: What is rounded off a place differs by less, mm.
ROUNDING = 1e-6


@dataclass(frozen=True, eq=False)
class Hook:
    """What of a body bends, cut into slices by planes square to ``normal`` (a unit vector), each
    beyond its place (mm) and not beyond the one before; and what stays.
    """

    slices: tuple[Manifold, ...]
    stays: Manifold
    normal: Vector
    places: tuple[float, ...]

    @classmethod
    def of(
        cls, solid: Manifold, normal: Vector, places: Sequence[float], aside: tuple[Vector, float]
    ) -> Hook:
        """A body cut so, the farthest place first: what is beyond the last, and beyond another
        plane, too."""
        from manifold3d import Manifold

        beyond, behind = solid.split_by_plane(normal, places[-1])
        rest, still = beyond.split_by_plane(*aside)
        parts = []
        for place in places[:-1]:
            part, rest = rest.split_by_plane(normal, place)
            parts.append(part)
        return cls((*parts, rest), Manifold.compose([behind, still]), normal, tuple(places))

    def beside(self, solid: Manifold) -> list[Manifold]:
        """What of another body is level with each slice, and a little more."""
        x, y, z = self.normal
        parts, rest = [], solid
        for place in self.places:
            parts.append(rest.trim_by_plane((x, y, z), place - ROUNDING))
            rest = rest.trim_by_plane((-x, -y, -z), -place - ROUNDING)
        return parts


@dataclass(frozen=True, eq=False)
class Passing:
    """A hook that is carried past a body, with slices bent as far as they may be by ``most``."""

    fixed: Manifold
    hook: Hook
    most: Callable[[Manifold], Manifold]

    def near(self, pose: Array) -> Manifold:
        """The slices, not bent, that may meet the body in a pose (3 x 4), however far they bend."""
        import numpy as np

        turn, origin = pose[:, :3], pose[:, 3]
        corners = self._corners @ turn.T
        corners += origin
        walls = self._level if self._keeps_level(turn, origin) else self._whole
        meets = corners.min(axis=1) < walls[:, 1]
        meets &= corners.max(axis=1) > walls[:, 0]
        return self._together(tuple(np.flatnonzero(meets.all(axis=1)).tolist()))

    def _keeps_level(self, turn: Array, origin: Array) -> bool:
        """Whether what is carried to a pose stays level with the same of the body."""
        import numpy as np

        normal = np.array(self.hook.normal)
        turned = float(np.abs(normal @ turn - normal).sum())
        return turned * self._size + abs(float(normal @ origin)) < ROUNDING

    @cached_property
    def _together(self) -> Callable[[tuple[int, ...]], Manifold]:
        from manifold3d import Manifold

        return cache(lambda which: Manifold.compose([self.hook.slices[k] for k in which]))

    @cached_property
    def _corners(self) -> Array:
        """The corners of the box in which each slice stays as it bends, as an array [slice, 8, 3]:
        none if it is empty."""
        import numpy as np

        ends = [(part, self.most(part)) for part in self.hook.slices]
        boxes = np.array([[part.bounding_box() for part in both] for both in ends])
        low, high = boxes[:, :, :3].min(axis=1), boxes[:, :, 3:].max(axis=1)
        which = (np.arange(8)[:, None] >> np.arange(3)) & 1 == 1
        found: Array = np.where(which, high[:, None], low[:, None])
        return found

    @cached_property
    def _size(self) -> float:
        import numpy as np

        return float(np.abs(self._corners).max(initial=1.0, where=np.isfinite(self._corners)))

    @cached_property
    def _level(self) -> Array:
        """The box around what of the body is level with each slice, as an array [slice, 2, 3]."""
        return _boxes(self.hook.beside(self.fixed))

    @cached_property
    def _whole(self) -> Array:
        return _boxes([self.fixed] * len(self.hook.slices))


def _boxes(solids: Sequence[Manifold]) -> Array:
    """The boxes around solids, as an array [solid, end, xyz], and a little wider."""
    import numpy as np

    boxes = np.array([solid.bounding_box() for solid in solids]).reshape(-1, 2, 3)
    boxes += np.array([[-ROUNDING], [ROUNDING]])
    return boxes
