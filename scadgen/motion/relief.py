"""How much air a relief leaves around what moves past it, at the worst angle of a whole turn."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache, cached_property
from typing import TYPE_CHECKING, TypeVar

from scadgen.motion.rest import boxed
from scadgen.motion.stack import Beside, Prism, Stack, made

if TYPE_CHECKING:
    from manifold3d import CrossSection, Manifold

    from scadgen.motion.axis import Vector
    from scadgen.trees.raised import Raised

#: Air is looked for up to so many times the clearance.
SEARCH = 2
#: Steps of a relief between which it is looked, spread evenly: in the first and the last as well.
STEPS = 3
#: Halvings of half a step by which the worst angle is closed in.
HALVINGS = 3
#: Where so many angles are the worst alike, a side does not turn with it, and none is closed in.
MANY = 3
#: Distances that differ by less are the same, mm.
SAME = 1e-6
#: How closely the place is told, mm.
CLOSELY = 0.5
#: Faces of a body and of a part of it that coincide, but for rounding, are this near, mm.
SKIN = 1e-3
#: So many skins the sharpest corner of an outline is moved out; a sharper one is cut off there.
MITER = 10.0
#: A part whose walls are thicker than this along its way to where the rest is rooted, mm, leaves no
#: gaps between the places in which it is drawn.
THIN = 0.39
#: Of faces that meet at a corner those are parallel whose directions differ by less, squared.
PARALLEL = 1e-6


#: A solid, or an outline.
Body = TypeVar("Body", "Manifold", "CrossSection")

#: Draws what moves past at each of some angles (degrees): parts that together make it, mm.
Past = Callable[[Sequence[float]], Iterable[Stack | Beside | Sequence["Manifold"]]]


@dataclass(frozen=True)
class Left:
    """The least air between what moves and what a relief leaves of any body.

    gap: mm; 0 where they meet or overlap, and never more than twice the clearance, which means "at
        least this". angle: at which it is so, degrees. place: where, to half a millimetre, seen
        from the side that the relief is for (mm); None where no less than the clearance is left.
    """

    gap: float
    angle: float
    place: Vector | None = None


def left_by(
    relief: Manifold | Raised,
    past: Past,
    turn: tuple[float, float],
    step: float,
    clearance: float,
    facets: int | None = None,
) -> Left:
    """The least air that ``relief`` leaves around what moves past, from one end of the turn on.

    A maker subtracts the relief from a body of any shape, so the strictest body is all of space:
    measured is the distance from the other side's solid to whatever is not relief. No body that was
    cut by the relief can come nearer. What the hinge itself has on this side is not looked at: it
    is added after the relief was subtracted, wherever that reaches.

    past: the other side, seen from the side that the relief is for. turn: the least and the
        greatest angle. step: turn from one step of the relief to the next; it is looked at both
        ends of the turn and half-way between steps, and closer about the worst, if not many are the
        worst. facets: sides of round walls to a full turn: it is looked at whole and half facets
        too. clearance: what should be left, mm.
    """
    room = _Room(relief, SEARCH * clearance + 1)
    seen: dict[float, float] = {}

    def look(*angles: float) -> None:
        within = (min(max(angle, turn[0]), turn[1]) for angle in angles)
        new = [angle for angle in dict.fromkeys(within) if angle not in seen]
        for angle, drawn in zip(new, past(new) if new else (), strict=True):
            limit = min([SEARCH * clearance, *(gap + 2 * SAME for gap in seen.values())])
            seen[angle] = room.left_by(drawn, limit)

    look(*_angles(turn, step, facets))
    worst = min(seen, key=seen.__getitem__)
    alike = sum(gap <= seen[worst] + SAME for gap in seen.values())
    for halving in range(HALVINGS if alike < MANY else 0):
        look(*(worst + way * step / 4 / 2**halving for way in (-1, 1)))
        worst = min(seen, key=seen.__getitem__)
    if seen[worst] > clearance - SAME:
        return Left(seen[worst], worst)
    (nearest,) = past([worst])
    return Left(seen[worst], worst, room.place(nearest, seen[worst]))


def rooted(own: Body, towards: Sequence[float], root: float) -> Body:
    """What counts as ``own`` of a body that bends, in one piece with that part; the rest moves.

    It is the part, and what is within ``root`` (mm) of it ``towards`` (a unit vector) the rest:
    rooted there, that bends no way off. A skin of a micrometre around it, too, so that faces which
    coincide leave no slivers. An outline stands for what is drawn out from it.
    """
    from manifold3d import CrossSection, JoinType, OpType

    steps = math.ceil(root / THIN)
    outline = isinstance(own, CrossSection)
    grown: Body = own.offset(SKIN, JoinType.Miter, MITER) if outline else _thicker(own, SKIN)
    ways: list[list[float]] = [
        [root * k / steps * part for part in towards] for k in range(1, steps + 1)
    ]
    return type(own).batch_boolean([grown, *(grown.translate(way) for way in ways)], OpType.Add)


def _thicker(solid: Manifold, by: float) -> Manifold:
    """The solid with its faces a little farther out (mm): each corner is moved so far square to
    every face that it has, or as nearly as that can be."""
    import numpy as np
    from manifold3d import Manifold, Mesh64

    mesh = solid.to_mesh64()
    points, corners = np.array(mesh.vert_properties[:, :3]), mesh.tri_verts.astype(int)
    a, b, c = points[corners].transpose(1, 0, 2)
    square = np.cross(b - a, c - a)
    area = np.linalg.norm(square, axis=1)
    way = square / np.maximum(area, 1e-300)[:, None]
    sides, wanted = np.zeros((len(points), 3, 3)), np.zeros((len(points), 3))
    for k in range(3):
        np.add.at(sides, corners[:, k], way[:, :, None] * square[:, None, :])
        np.add.at(wanted, corners[:, k], by * square)
    moved = np.einsum("nij,nj->ni", np.linalg.pinv(sides, PARALLEL, hermitian=True), wanted)
    return Manifold(Mesh64(points + moved, corners.astype(np.uint64)))


def _angles(turn: tuple[float, float], step: float, facets: int | None) -> list[float]:
    """Both ends, half-way between steps here and there, and next to these a whole and a half
    facet."""
    low, high = turn
    last = round((high - low) / step) - 1
    found = [low, high]
    for k in range(STEPS):
        middle = low + (round(last * k / (STEPS - 1)) + 1 / 2) * step
        found.append(middle)
        if facets:
            half = 180 / facets
            nearest = math.floor(middle / half) * half
            found += [nearest, nearest + half]
    return found


@dataclass(frozen=True, eq=False)
class _Room:
    """A relief, and all that it is not: looked at so far about it (mm)."""

    drawn: Manifold | Raised
    margin: float

    @cached_property
    def relief(self) -> Manifold:
        from scadgen.trees.raised import solid_of

        return solid_of(self.drawn)

    @cached_property
    def outside(self) -> Manifold:
        from manifold3d import Manifold

        box = self.relief.bounding_box()
        size = [box[k + 3] - box[k] + 2 * self.margin for k in range(3)]
        around = Manifold.cube(size).translate([box[k] - self.margin for k in range(3)])
        return around - self.relief

    @cached_property
    def _along(self) -> Callable[[Vector], Prism | None]:
        def along(line: Vector) -> Prism | None:
            raised = Stack.of([self.drawn], line)
            if raised and len(raised.prisms) == 1:
                return raised.prisms[0]
            return Prism.of(self.relief, line)

        return cache(along)

    def left_by(self, drawn: Stack | Beside | Sequence[Manifold], limit: float) -> float:
        """Distance of parts from what is not relief, mm, looked for up to the limit."""
        if isinstance(drawn, Stack | Beside) and (alike := self._along(drawn.line)):
            return drawn.room_in(alike, limit)
        parts = _solids(drawn)
        if not limit or not all(boxed(part, self.relief) for part in parts):
            return 0.0
        for part in parts:
            limit = float(self.outside.min_gap(part, limit)) if limit else 0.0
        return limit

    def place(self, drawn: Stack | Beside | Sequence[Manifold], gap: float) -> Vector:
        """Where a part comes so near to what is not relief, or reaches farthest into it."""
        parts = _solids(drawn)
        if not gap:
            poking = [piece for part in parts for piece in (part - self.relief).decompose()]
            return _middle(max(poking, key=lambda piece: piece.volume(), default=parts[0]))

        def off(piece: Manifold) -> float:
            return float(self.outside.min_gap(piece, gap + SAME))

        piece = min(parts, key=off)
        while True:
            box = piece.bounding_box()
            sides = [box[k + 3] - box[k] for k in range(3)]
            k = sides.index(max(sides))
            if sides[k] <= CLOSELY:
                return _middle(piece)
            normal = [float(axis == k) for axis in range(3)]
            piece = min(piece.split_by_plane(normal, (box[k] + box[k + 3]) / 2), key=off)


def _solids(drawn: Stack | Beside | Sequence[Manifold]) -> list[Manifold]:
    return [part for part in made(drawn) if not part.is_empty()]


def _middle(solid: Manifold) -> Vector:
    box = solid.bounding_box()
    x, y, z = ((box[k] + box[k + 3]) / 2 for k in range(3))
    return x, y, z
