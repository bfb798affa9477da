"""What flexures share: one piece that bends, between two solid borders."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

from scadgen.hinge.exported import Export
from scadgen.hinge.family import Hinge, Piece, derived, mm, numbers
from scadgen.hinge.measures import Measure
from scadgen.hinge.shapes import along_x
from scadgen.strength import leaf
from scadgen.strength.duty import Duty
from scadgen.strength.filling import in_bending
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength, Told
from scadgen.text.numbers import digits
from scadgen.trees.expr import cos, let, sin
from scadgen.trees.solid import Shape, each, hull, part, rectangle

if TYPE_CHECKING:
    from scadgen.mechanism.fold import Fold
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.motion.chains import Chain

#: Bends at which the gap between the borders is measured, and the widest gap looked for, mm: more
#: than any rod by which such gaps are tested.
BENDS, WIDEST = 13, 13.7


@dataclass(frozen=True)
class Sample:
    """What of a flexure stands for the whole: a hinge, pulls across its fold and along it (N).

    words: what part of the whole it is, as a phrase; empty for the whole.
    turns: moments (N mm) in the plane of the sheet that come with the pull across and with that
    along, the latter over what it has at the near edge of the moving border.
    twist: the moment (N mm) about the line across the fold that comes with the load.
    """

    hinge: Flexure
    across: float
    along: float
    words: str = ""
    turns: tuple[float, float] = (0.0, 0.0)
    twist: float = 0.0


@dataclass(frozen=True)
class Node:
    """A line that a sheet bends about, mm. share: of the bend, by which it turns. link: by which
    share of it the link is turned that follows it, or that it is the middle of; None for no link.
    """

    y: float
    z: float
    share: float
    link: float | None


@dataclass(frozen=True, kw_only=True)
class Flexure(Hinge):
    """One piece that bends about lines parallel to x, with a solid border at either end.

    Its outlines are drawn in y and z, z = 0 being the middle of the sheet. The bending part is a
    row of links; a family says where they and the moving border are at any bend.
    """

    kind: ClassVar[str] = "flexure"
    #: The field that says how wide it is along its fold; "" where several do.
    along: ClassVar[str] = ""
    one_piece: ClassVar[bool] = True
    posture: ClassVar[str] = "flat on the bed"
    #: As it prints, the way of the lines that it bends about, and the way its face looks.
    fold_line: ClassVar[tuple[float, float, float]] = (1, 0, 0)
    face: ClassVar[tuple[float, float, float]] = (0, 0, 1)

    thickness: float = mm(2.4, 0.4, 10, 0.1, "Size", "Thickness of the sheet")
    border: float = mm(12, 2, 100, 0.5, "Size", "Solid border at either end, to join to a part")

    @classmethod
    def spanning(cls, width: float, given: Mapping[str, Any]) -> Mapping[str, float]:
        """Values that make it as wide (mm), or a little narrower, beside those that are given."""
        return {cls.along: width} if cls.along else {}

    def measured(self) -> dict[str, Measure]:
        sheet = {"thickness": Measure.THICKNESS, "width": Measure.WIDTH}
        return sheet | {"swing": Measure.MOTION}

    def mechanism(self) -> Mechanism:
        from scadgen.hinge.meshing import bent_meshes, mesh, raised_parts
        from scadgen.mechanism.mechanism import Body, Mechanism, Piece

        sides = ("fixed", "moving")
        fold = self.fold_type()(
            fixed="fixed",
            moving="moving",
            asked=(self.lowest(), self.swing),
            line=self.fold_line,
            face=self.face,
            shape=partial(mesh, self, "both"),
            unmerged=partial(raised_parts, self, "both"),
            border=partial(bent_meshes, self, "moving"),
            clearance=self.clearance,
            openings=self.openings,
            posed=partial(mesh, self, "moving"),
            links=self.chain,
        )
        bodies = (Body(name, f"{name} border", partial(mesh, self, name, 0.0)) for name in sides)
        whole = Piece("sheet", mesh(self, angle=0), sides)
        return Mechanism(self.family, tuple(bodies), (fold,), whole)

    def lines_of_links(self) -> list[Node]:
        """The lines that it bends about, from the fixed border on; none where its links do not
        hold all that is between the borders.
        """
        return []

    def chain(self) -> Chain | None:
        """The chain of turns in which it is drawn bent, and rooms that hold its links."""
        from scadgen.motion.axis import Axis
        from scadgen.motion.chains import Chain, Link
        from scadgen.trees.to_mesh import to_mesh

        nodes, read, way = self.lines_of_links(), numbers(self), self.fold_line
        if not nodes:
            return None
        lines = tuple(Axis((0.0, node.y, node.z), way) for node in nodes)
        rooms = (self.sheet_of(self.link_room(i, 0), self.clearance) for i in range(len(nodes)))
        links = tuple(
            Link(to_mesh(room, read), k, node.link)
            for k, (room, node) in enumerate(zip(rooms, nodes, strict=True))
            if node.link is not None
        )
        return Chain(lines, tuple(node.share for node in nodes), links)

    def strays(self) -> tuple[float, str] | None:
        """By how much an even arc is longer than its chord at the end of the bend."""
        half = math.radians(float(self.swing)) / 2
        drawn = float(self.span) * (1 - math.sin(half) / half)
        return drawn, f"its borders draw together by {digits(drawn, 1)} mm as it bends"

    def fold_type(self) -> type[Fold]:
        """The kind of joint that it is."""
        from scadgen.mechanism.fold import Fold

        return Fold

    def openings(self) -> list[tuple[float, float]]:
        """Gap between the borders, least and most over the bend, up to ``WIDEST`` (mm)."""
        import numpy as np

        from scadgen.hinge.meshing import bent_meshes, mesh

        fixed, bends = mesh(self, "fixed", 0), np.linspace(self.lowest(), self.swing, BENDS)
        moving = bent_meshes(self, "moving", bends.tolist())
        gaps = [float(fixed.min_gap(border, WIDEST)) for border in moving]
        return [(min(gaps), max(gaps))]

    @derived
    def width(self) -> float:
        """Width of the sheet, along the lines it bends about"""
        raise NotImplementedError

    @derived
    def span(self) -> float:
        """Length between the borders, which bends"""
        raise NotImplementedError

    @derived
    def links(self) -> float:
        """Links of the bending part"""
        raise NotImplementedError

    @derived
    def link_length(self) -> float:
        """Length that a link takes up, with what joins it to its neighbours"""
        raise NotImplementedError

    @derived
    def link_height(self) -> float:
        """Height that a link takes up"""
        return self.thickness + self.link_length * sin(self.swing / self.links / 2)

    @derived
    def bow(self) -> float:
        """Most by which a way runs off its straight course from one step of a relief to the next"""
        farthest = self.span + self.border + self.thickness + self.clearance
        return farthest * (1 - cos(self.stride / 2))

    @derived
    def room(self) -> float:
        """Room around what a relief follows: the clearance is left between steps"""
        return self.clearance + self.bow

    @derived
    def room_length(self) -> float:
        """Length of a link with room around it"""
        return self.link_length + 2 * self.room

    @derived
    def room_height(self) -> float:
        """Height of a link with room around it"""
        return self.link_height + 2 * self.room

    def whole(self) -> Shape:
        """The whole piece, bent by the angle."""
        raise NotImplementedError

    def link_at(self, outline: Shape, i: float, bend: float) -> Shape:
        """An outline around the middle of link ``i``, carried to where the link is at a bend."""
        raise NotImplementedError

    def border_at(self, outline: Shape, bend: float) -> Shape:
        """An outline from the moving border's near edge, carried by a bend."""
        raise NotImplementedError

    @classmethod
    def free_fields(cls) -> tuple[str, ...]:
        return tuple(name for name in super().free_fields() if name != "border")

    def extents(self) -> tuple[float, float, float]:
        return self.width, self.span + 2 * self.border, self.thickness

    def pulled(self, duty: Duty) -> float:
        """Pull across the fold of what bends, under a duty (N)."""
        return duty.load

    #: Whether what stands for it bears what a load beside the middle or a pull far out adds.
    sampled_tilted: ClassVar[bool] = False

    def sample(self, duty: Duty) -> Sample:
        """What of it is loaded in place of the whole, under a duty."""
        return Sample(self, self.pulled(duty), duty.pull)

    @property
    def finest(self) -> float:
        """Thickness of the thinnest web, or width of the narrowest slit, in what bends (mm)."""
        return self.thickness

    def border_strength(self, moment: float, duty: Duty, plastic: Plastic) -> Strength:
        """A border under a moment (N mm) about the line that it bends about."""
        told = Told(duty, plastic)
        bent = leaf.root_stress(moment, self.width, self.thickness)
        return told.stress(
            "border in bending", bent, in_bending(self.thickness), leaf, "more thickness"
        )

    def pieces(self) -> Iterable[Piece]:
        yield Piece(("both",), self.whole())
        yield Piece(("fixed",), self.fixed_border())
        yield Piece(("moving",), self.moving_border())
        yield Piece(("fixed_relief",), self.fixed_relief())
        yield Piece(("moving_relief",), self.moving_relief())

    def exported(self) -> Iterable[Export]:
        between = "Length between the borders, which bends (mm)"
        yield Export("length_taken", self.span, between)
        yield Export("width_taken", self.width, "Width, along the lines it bends about (mm)")
        yield from super().exported()

    def carried(self, solid: Shape) -> Shape | None:
        return self.with_border(solid)

    @part
    def with_border(self, solid: Shape) -> Shape:
        """A solid of the moving side, bent along."""
        across = solid.at(z=-self.thickness / 2).turned(z=-90).turned(x=-90)  # its y, z as x, y
        bent = self.border_at(across.at(x=-self.span / 2), self.angle)
        return bent.turned(x=90, z=90).at(z=self.thickness / 2)

    def sheet_of(self, outline: Shape, room: float = 0) -> Shape:
        """An outline given the width of the sheet, and room to either side of it."""
        return along_x(outline, self.width + 2 * room).at(z=self.thickness / 2)

    @part
    def border_outline(self) -> Shape:
        """Moving border, from its near edge on."""
        return rectangle(self.border, self.thickness).at(y=-self.thickness / 2)

    @part
    def fixed_border(self) -> Shape:
        """Border that stays where it is."""
        return self.sheet_of(self.border_outline().at(x=self.span / 2).mirrored(x=1))

    @part
    def moving_border(self) -> Shape:
        """Border at the other end, as it is bent."""
        return self.sheet_of(self.border_at(self.border_outline(), self.angle))

    @part
    def fixed_relief(self) -> Shape:
        """Room that all else sweeps: subtract it from the fixed side's body."""
        return self.sheet_of(self.relief_outline(), self.clearance)

    @part
    def moving_relief(self) -> Shape:
        """The same, seen from the moving border: subtract it from the moving side's body."""
        mirrored = self.relief_outline().mirrored(x=1).at(x=-self.span / 2)
        return self.sheet_of(self.border_at(mirrored, self.angle), self.clearance)

    @part
    def relief_outline(self) -> Shape:
        """Room of the whole bend."""
        return each("k", self.sweeps, self.sweep_step)

    @part
    def sweep_step(self, k: float) -> Shape:
        """Room from one bend to the next."""
        bend = let("bend", self.lowest() + k * self.stride)
        after = let("after", bend + self.stride)
        links = each(
            "i", self.links, lambda i: hull(self.link_room(i, bend), self.link_room(i, after))
        )
        return links + hull(self.border_room(bend), self.border_room(after))

    @part
    def link_room(self, i: float, bend: float) -> Shape:
        """A link with room around it."""
        room = rectangle(self.room_length, self.room_height)
        return self.link_at(room.at(-self.room_length / 2, -self.room_height / 2), i, bend)

    @part
    def border_room(self, bend: float) -> Shape:
        """The moving border with room around it."""
        room = rectangle(self.border + 2 * self.room, self.thickness + 2 * self.room)
        return self.border_at(room.at(-self.room, -self.thickness / 2 - self.room), bend)
