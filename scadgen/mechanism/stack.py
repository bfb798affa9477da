"""Solids that are outlines drawn out along one line: they are moved and cut as outlines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.mechanism.slabs import body_of
from scadgen.motion.axis import Axis, Vector
from scadgen.motion.relief import SKIN, rooted
from scadgen.motion.rest import Soundness, body

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
        """A solid as one; None if it is none: then it fills less than its shadow does."""
        import numpy as np

        seen = solid.transform(np.column_stack([np.array(_frame(line)), np.zeros(3)]))
        *_, low, _, _, high = seen.bounding_box()
        outline, volume = seen.project(), solid.volume()
        whole = abs(outline.area() * (high - low) - volume) <= SAME * volume
        return cls(outline, low, high) if whole else None

    def rooted(self, line: Vector, towards: Vector, root: float) -> Prism:
        """It and what counts as its own of a body that bends, as of solids."""
        u, v, _ = _frame(line) @ towards
        return Prism(rooted(self.outline, (u, v), root), self.low - SKIN, self.high + SKIN)


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
                across, sideways, along = _frame(line) @ turned
                if abs(abs(along[2]) - 1) > SAME:
                    return None
                u, v, start = _frame(line) @ origin
                key = id(one.outline), *across[:2], u, *sideways[:2], v
                if key not in seen:
                    seen[key] = one.outline.transform([[*across[:2], u], [*sideways[:2], v]])
                ends = [0.0, one.height] if not one.centered else [-one.height / 2, one.height / 2]
                low, high = sorted(start + along[2] * end for end in ends)
                found.append(Prism(seen[key], low, high))
        return cls(line, tuple(found))

    def carried(self, degrees: float, way: Vector) -> Stack:
        """Turned about the line through the origin, right-handed, then shifted (mm)."""
        u, v, along = _frame(self.line) @ way
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

    def filled(self) -> list[Manifold]:
        """Each outline drawn out once, from where it first begins to where it last ends.

        To what is an outline drawn out along the same line, and farther, they are as near as the
        prisms; to anything else no less near.
        """
        spans: dict[CrossSection, tuple[float, float]] = {}
        for p in self.prisms:
            low, high = spans.get(p.outline, (p.low, p.high))
            spans[p.outline] = min(low, p.low), max(high, p.high)
        return [_drawn_out(outline, self.line, *ends) for outline, ends in spans.items()]


def made(parts: Stack | Sequence[Manifold]) -> Sequence[Manifold]:
    """Parts as solids, one for each prism."""
    if not isinstance(parts, Stack):
        return parts
    return [_drawn_out(p.outline, parts.line, p.low, p.high) for p in parts.prisms]


def body_together(parts: Stack | Sequence[Manifold]) -> Soundness:
    """What the union of parts is by itself."""
    from manifold3d import Manifold, OpType

    found = body_of(parts.prisms) if isinstance(parts, Stack) else None
    return found or body(Manifold.batch_boolean(list(made(parts)), OpType.Add))


def _drawn_out(outline: CrossSection, line: Vector, low: float, high: float) -> Manifold:
    import numpy as np

    turn = _frame(line).T
    return outline.extrude(high - low).transform(np.column_stack([turn, turn[:, 2] * low]))


def _frame(line: Vector) -> Array:
    """What turns space so that the line looks along z."""
    import numpy as np

    return np.array(Axis((0.0, 0.0, 0.0), line).frame)
