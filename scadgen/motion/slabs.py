"""Whether prisms along one line are one sound body together, without making it.

Cut across, the body is the same from one end of a prism to the next. So it is a row of slabs, of
which neighbours share a face. Where no slab has a hole, each piece of a slab is a disc, and so is
each piece of a face; then the body has no voids, and as many pieces and openings as the graph whose
nodes are the pieces of slabs, and whose links are those of faces.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate, pairwise
from typing import TYPE_CHECKING, Any

from scadgen.motion.plane import inside
from scadgen.motion.rest import Soundness
from scadgen.trees.joined import joined

if TYPE_CHECKING:
    import numpy
    from manifold3d import CrossSection

    from scadgen.motion.stack import Prism

    Array = numpy.ndarray[Any, Any]
    Outlines = tuple[CrossSection, ...]

#: Ends that differ by less are the same, mm.
SAME = 1e-9
#: A piece of a section that is no larger, mm2, is a sliver that rounding left.
SLIVER = 1e-8


def body_of(prisms: Sequence[Prism]) -> Soundness | None:
    """What the union of prisms along one line is by itself; None where a slab of it has a hole."""
    rows = _rows(prisms)
    drawn = {over: _Section.of(over) for over in dict.fromkeys(over for _, over in rows)}
    slabs = [drawn[over] for _, over in rows]
    if any(slab.holes for slab in slabs):
        return None
    starts = [0, *accumulate(len(slab.points) for slab in slabs)]
    faces: dict[frozenset[_Section], _Section] = {}
    links: list[tuple[int, int]] = []
    for k, (here, there) in enumerate(pairwise(slabs)):
        pair = frozenset((here, there))
        if pair not in faces:
            faces[pair] = here.face(there)
        one, other = here.holding(faces[pair]), there.holding(faces[pair])
        if faces[pair].holes or one is None or other is None:
            return None
        links += [(starts[k] + a, starts[k + 1] + b) for a, b in zip(one, other, strict=True)]
    pieces = _pieces(starts[-1], links)
    volume = sum(thick * slab.area for (thick, _), slab in zip(rows, slabs, strict=True))
    openings = len(links) - starts[-1] + pieces
    return Soundness(pieces, voids=0, openings=openings, watertight=volume > 0, volume=volume)


def _rows(prisms: Sequence[Prism]) -> list[tuple[float, Outlines]]:
    """How thick each slab is (mm), and the outlines that go all through it."""
    levels: list[float] = []
    for end in sorted(end for prism in prisms for end in (prism.low, prism.high)):
        if not levels or end - levels[-1] > SAME:
            levels.append(end)
    return [
        (b - a, tuple(dict.fromkeys(p.outline for p in prisms if p.low < (a + b) / 2 < p.high)))
        for a, b in pairwise(levels)
    ]


@dataclass(frozen=True, eq=False)
class _Section:
    """The union of some outlines: its loops, and a point well inside each; how many are holes."""

    over: Outlines
    outline: CrossSection
    loops: tuple[Array, ...]
    points: Array
    holes: int
    area: float

    @classmethod
    def of(cls, over: Outlines) -> _Section:
        import numpy as np

        outline = joined(over)
        every = outline.to_polygons()
        areas = [_area(loop) for loop in every]
        loops = tuple(o for o, area in zip(every, areas, strict=True) if area > SLIVER)
        holes = sum(area < 0 for area in areas)
        points = np.empty((0, 2)) if holes or not loops else _inner(loops)
        return cls(over, outline, loops, points, holes, sum(areas))

    def face(self, other: _Section) -> _Section:
        """What is in both."""
        for less, more in ((self, other), (other, self)):
            if set(less.over) <= set(more.over):
                return less
        return _Section.of((self.outline ^ other.outline,))

    @cached_property
    def _held(self) -> dict[_Section, list[int] | None]:
        return {}

    def holding(self, face: _Section) -> list[int] | None:
        """In which loop each point of a face lies; None if one lies in none, or in several."""
        if face is self:
            return list(range(len(self.points)))
        if face not in self._held:
            self._held[face] = self._holding(face.points)
        return self._held[face]

    def _holding(self, points: Array) -> list[int] | None:
        if not self.loops:
            return None if len(points) else []
        held = inside(points, self.loops)
        if not (held.sum(axis=1) == 1).all():
            return None
        found: list[int] = held.argmax(axis=1).tolist()
        return found


def _area(loop: Array) -> float:
    x, y = loop.T
    return float((x[:-1] @ y[1:] - x[1:] @ y[:-1] + x[-1] * y[0] - x[0] * y[-1]) / 2)


def _inner(loops: Sequence[Array]) -> Array:
    """The middle of the largest triangle of each loop."""
    import numpy as np
    from manifold3d import triangulate

    corners, owners = np.concatenate(loops), np.repeat(range(len(loops)), list(map(len, loops)))
    which = triangulate(list(loops))
    a, b, c = corners[which].transpose(1, 0, 2)
    (ux, uy), (vx, vy) = (b - a).T, (c - a).T
    owner = owners[which[:, 0]]
    order = np.lexsort((np.abs(ux * vy - uy * vx), owner))
    last = np.flatnonzero(np.diff(owner[order], append=len(loops)))
    middles: Array = ((a + b + c) / 3)[order[last]]
    return middles


def _pieces(nodes: int, links: Sequence[tuple[int, int]]) -> int:
    """Of how many pieces a graph is."""
    root = list(range(nodes))

    def top(node: int) -> int:
        while root[node] != node:
            root[node] = node = root[root[node]]
        return node

    left = nodes
    for a, b in links:
        one, other = top(a), top(b)
        if one != other:
            root[one], left = other, left - 1
    return left
