"""Solids that are outlines drawn out along one line: they are moved and cut as outlines."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from scadgen.motion.axis import Axis, Vector
from scadgen.motion.plane import room_around
from scadgen.motion.rest import Soundness, body
from scadgen.motion.slabs import body_of

if TYPE_CHECKING:
    import numpy
    from manifold3d import CrossSection, Manifold

    from scadgen.trees.raised import Raised

    Array = numpy.ndarray[Any, Any]

#: Lengths that differ by less are the same, mm; and a line is along another, but for so much.
SAME = 1e-9


@dataclass(frozen=True, eq=False)
class Prism:
    """An outline, seen along the line, and where on the line it begins and ends, mm."""

    outline: CrossSection
    low: float
    high: float

    @classmethod
    def of(cls, solid: Manifold, line: Vector) -> Prism | None:
        """A solid as one; None if it has faces that are neither along the line nor its ends."""
        import numpy as np

        if solid.is_empty():
            return None
        seen = _seen(solid, line)
        *_, low, _, _, high = seen.bounding_box()
        mesh = seen.to_mesh64()
        faces = mesh.vert_properties[:, :3][mesh.tri_verts.astype(int)]
        (ux, uy, _), (vx, vy, _) = (faces[:, 1:] - faces[:, :1]).transpose(1, 2, 0)
        ends = (abs(faces[:, :, 2] - level).max(axis=1) < SAME for level in (low, high))
        if not (np.logical_or(*ends) | (abs(ux * vy - uy * vx) < SAME)).all():
            return None
        return cls(seen.slice((low + high) / 2), low, high)


@dataclass(frozen=True, eq=False)
class Stack:
    """Prisms along a line (a unit vector), together."""

    line: Vector
    prisms: tuple[Prism, ...]

    @classmethod
    def of(cls, parts: Iterable[Raised | Manifold], line: Vector) -> Stack | None:
        """Parts as prisms, the same outlines once; None if one is raised another way, or made."""
        from scadgen.trees.raised import Raised

        found: list[Prism] = []
        seen: dict[tuple[Any, ...], CrossSection] = {}
        for part in parts:
            if not isinstance(part, Raised):
                return None
            for one in part.every:
                turned, origin = one.place()
                right, up, along = _frame(line) @ turned
                if abs(abs(along[2]) - 1) > SAME:
                    return None
                u, v, start = (_frame(line) @ origin).tolist()
                key = id(one.outline), *right[:2], u, *up[:2], v
                if key not in seen:
                    seen[key] = one.outline.transform([[*right[:2], u], [*up[:2], v]])
                ends = [0.0, one.height] if not one.centered else [-one.height / 2, one.height / 2]
                low, high = sorted(start + float(along[2]) * end for end in ends)
                found.append(Prism(seen[key], low, high))
        return cls(line, tuple(found))

    def carried(self, degrees: float, way: Vector) -> Stack:
        """Turned about the line through the origin, right-handed, then shifted (mm)."""
        u, v, along = across(way, self.line)
        moved = {o: o.rotate(degrees).translate((u, v)) for o in self.outlines}
        return self._with(
            Prism(moved[p.outline], p.low + along, p.high + along) for p in self.prisms
        )

    def without(self, other: Prism) -> Stack | None:
        """What is left beside another prism; None if that does not go all along it."""
        if any(p.low < other.low or p.high > other.high for p in self.prisms):
            return None
        left = {o: o - other.outline for o in self.outlines}
        return self._with(
            Prism(left[p.outline], p.low, p.high)
            for p in self.prisms
            if not left[p.outline].is_empty()
        )

    def _with(self, prisms: Iterable[Prism]) -> Stack:
        return Stack(self.line, tuple(prisms))

    @property
    def outlines(self) -> frozenset[CrossSection]:
        return frozenset(p.outline for p in self.prisms)

    def room_in(self, relief: Prism, limit: float) -> float:
        """Smallest distance to what is not in a relief along the same line, mm, up to the limit; 0
        where the two meet."""
        for p in self.prisms:
            limit = min(limit, p.low - relief.low, relief.high - p.high)
        outlines = list(dict.fromkeys(p.outline for p in self.prisms))
        return room_around(outlines, relief.outline, limit) if limit > 0 else 0.0


@dataclass(frozen=True, eq=False)
class Beside:
    """What of solids is beside a prism: to what is drawn out along the same line, their shadows are
    as near as they. left: draws it, mm.
    """

    line: Vector
    solids: Sequence[Manifold]
    prism: Prism
    left: Callable[[], Sequence[Manifold]]

    @classmethod
    def of(
        cls,
        solids: Sequence[Manifold],
        line: Vector,
        prism: Prism,
        left: Callable[[], Sequence[Manifold]],
    ) -> Beside | None:
        """None if the prism does not go all along them."""
        seen = [_seen(solid, line) for solid in solids]
        ends = [(box[2], box[5]) for box in (solid.bounding_box() for solid in seen)]
        if any(low < prism.low or high > prism.high for low, high in ends):
            return None
        return cls(line, seen, prism, left)

    def room_in(self, relief: Prism, limit: float) -> float:
        """As of a stack."""
        shadows = (
            Prism(seen.project() - self.prism.outline, *seen.bounding_box()[2::3])
            for seen in self.solids
        )
        beside = tuple(shadow for shadow in shadows if not shadow.outline.is_empty())
        return Stack(self.line, beside).room_in(relief, limit)


def made(parts: Stack | Beside | Sequence[Manifold]) -> Sequence[Manifold]:
    """Parts as solids: one of all prisms with the same outline."""
    from manifold3d import Manifold, OpType

    if isinstance(parts, Beside):
        return parts.left()
    if not isinstance(parts, Stack):
        return parts
    solids: dict[CrossSection, list[Manifold]] = {}
    for p in parts.prisms:
        solids.setdefault(p.outline, []).append(_drawn_out(p, parts.line))
    return [Manifold.batch_boolean(alike, OpType.Add) for alike in solids.values()]


def body_together(parts: Stack | Sequence[Manifold]) -> Soundness:
    """What the union of parts is by itself."""
    from manifold3d import Manifold, OpType

    found = body_of(parts.prisms) if isinstance(parts, Stack) else None
    return found or body(Manifold.batch_boolean(list(made(parts)), OpType.Add))


def _seen(solid: Manifold, line: Vector) -> Manifold:
    return Axis((0.0, 0.0, 0.0), line).seen_along(solid)


def _drawn_out(prism: Prism, line: Vector) -> Manifold:
    import numpy as np

    turn, length = _frame(line).T, prism.high - prism.low
    return prism.outline.extrude(length).transform(np.column_stack([turn, turn[:, 2] * prism.low]))


def across(way: Vector, line: Vector) -> tuple[float, float, float]:
    """A way as outlines have it that are seen along a line, and how far it goes along that."""
    u, v, along = (_frame(line) @ way).tolist()
    return u, v, along


@lru_cache(maxsize=16)
def _frame(line: Vector) -> Array:
    """What turns space so that the line looks along z."""
    import numpy as np

    found = np.array(Axis((0.0, 0.0, 0.0), line).frame)
    found.setflags(write=False)
    return found
