"""The kinds of hinge: what all pivots share, upright or lying, and what all flexures share.

Each kind fixes how its families lie on the bed (z = 0), the line they turn about and the parts
they draw. The fixed side is at negative, the moving side at positive x (upright) or y (lying).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from scadgen.expr import atan, cos, equal, let, where
from scadgen.family import Hinge, Piece, derived, mm
from scadgen.rules import Rule, at_least, at_most
from scadgen.shapes import along_x, swept
from scadgen.solid import Shape, choose, circle, each, extrude, hull, part, rectangle


@dataclass(frozen=True, kw_only=True)
class Pivot(Hinge):
    """Two links that turn about an axis; a leaf on each joins it to the maker's part."""

    kind: ClassVar[str] = "pivot"

    foot: float = mm(0.4, 0, 1, 0.1, "Fit", "Chamfer along the bed, for the first layer's spread")
    leaf_length: float = mm(15, 0, 100, 0.5, "Leaves", "Length of a leaf; 0 leaves a plain stub")
    leaf_thickness: float = mm(4, 1.2, 12, 0.2, "Leaves", "Thickness of a leaf")

    def axis(self) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
        """A point on the axis (mm) and its direction."""
        raise NotImplementedError

    def fixed(self) -> Shape:
        """The fixed link, as printed."""
        raise NotImplementedError

    def moving(self) -> Shape:
        """The moving link, as printed."""
        raise NotImplementedError

    def fixed_relief(self) -> Shape:
        """Room that the moving link sweeps: to subtract from a body on the fixed side."""
        raise NotImplementedError

    def moving_relief(self) -> Shape:
        """Room that the fixed link sweeps, seen from the moving one: to subtract from its body."""
        raise NotImplementedError

    def posed(self, shape: Shape) -> Shape:
        """``shape``, drawn as printed, turned with the moving link."""
        raise NotImplementedError

    def pieces(self) -> Iterable[Piece]:
        yield Piece(("both", "fixed"), self.fixed())
        yield Piece(("both", "moving"), self.posed(self.moving()))
        yield Piece(("fixed_relief",), self.fixed_relief())
        yield Piece(("moving_relief",), self.posed(self.moving_relief()))

    @derived
    def play(self) -> float:
        """Way along the axis until two 45-degree walls touch"""
        return self.clearance / cos(45)

    @derived
    def lead(self) -> float:
        """Shift of a corner of 45 degrees between walls that keep the gap"""
        return self.play - self.clearance

    @derived
    def rim(self) -> float:
        """Bores are drawn around their circle, so that facets take no gap"""
        return 1 / cos(180 / self.facets)

    @derived
    def reach(self) -> float:
        """From the axis to the leaves, clear of all knuckles"""
        raise NotImplementedError

    @derived
    def leaf_end(self) -> float:
        """From the axis to the far end of a leaf"""
        return self.reach + self.leaf_span

    @derived
    def stop(self) -> float:
        """Turn at which the leaves would meet, less the gap"""
        raise NotImplementedError

    def rules(self) -> Iterable[Rule]:
        yield from super().rules()
        yield at_most(self.swing, self.stop, "or the leaves meet before")

    @derived
    def leaf_span(self) -> float:
        """A stub is as long as it is thick"""
        return where(self.leaf_length > 0, self.leaf_length, self.leaf_thickness)


@dataclass(frozen=True, kw_only=True)
class UprightPivot(Pivot):
    """A pivot whose axis is the z axis: both leaves stand on the bed on their lower edges."""

    posture: ClassVar[str] = "standing: axis upright, both leaves on their lower edges"

    height: float = mm(40, 10, 200, 0.5, "Size", "Height of the hinge")

    @derived
    def stop(self) -> float:
        """Turn at which the leaves would meet, less the gap"""
        return 180 - 2 * atan((self.leaf_thickness / 2 + self.clearance) / self.reach)

    def axis(self) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
        return (0, 0, 0), (0, 0, 1)

    def posed(self, shape: Shape) -> Shape:
        return shape.turned(z=self.angle)

    def fixed_relief(self) -> Shape:
        return self.relief()

    def moving_relief(self) -> Shape:
        return self.relief().mirrored(x=1)

    @part
    def relief(self) -> Shape:
        """Room for one link on its way both ways: subtract it from the other side's body."""
        sector = swept(self.leaf_room(), -self.swing, 2 * self.swing, self.sweeps)
        return extrude(circle(self.reach) + sector, self.height + 2).at(z=-1)

    @part
    def leaf_room(self) -> Shape:
        """Leaf seen from above, with room around it."""
        width = self.leaf_thickness + 2 * self.clearance
        return rectangle(self.leaf_end + self.clearance, width).at(y=-width / 2)


@dataclass(frozen=True, kw_only=True)
class LyingPivot(Pivot):
    """A pivot whose axis is parallel to x: both leaves lie flat on the bed."""

    posture: ClassVar[str] = "lying: axis parallel to the bed, both leaves flat on it"

    length: float = mm(40, 10, 200, 0.5, "Size", "Length of the hinge along its axis")
    side_gap: float = mm(0.4, 0.15, 1, 0.05, "Fit", "Air gap between the sides of neighbours")

    @derived
    def axis_height(self) -> float:
        """Height of the axis above the bed"""
        raise NotImplementedError

    @derived
    def stop(self) -> float:
        """Turn at which the leaves would meet, less the gap"""
        above = self.leaf_thickness + self.clearance - self.axis_height
        return 180 - 2 * atan(above / self.reach)

    def rules(self) -> Iterable[Rule]:
        yield from super().rules()
        yield at_least(self.side_gap, self.clearance, "or the sides fuse before the bearing")

    def lowest(self) -> float:
        return 0

    def axis(self) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
        return (0, 0, self.axis_height), (1, 0, 0)

    def posed(self, shape: Shape) -> Shape:
        return shape.at(z=-self.axis_height).turned(x=self.angle).at(z=self.axis_height)

    def fixed_relief(self) -> Shape:
        return self.relief()

    def moving_relief(self) -> Shape:
        return self.relief().mirrored(y=1)

    @part
    def leaf(self) -> Shape:
        """Leaf of the moving side, flat on the bed."""
        outline = rectangle(self.leaf_span, self.leaf_thickness).at(x=self.reach)
        return along_x(outline, self.length)

    @part
    def relief(self) -> Shape:
        """Room for one link on its way up: subtract it from the other side's body."""
        outline = circle(self.reach) + swept(self.leaf_room(), 0, self.swing, self.sweeps)
        return along_x(outline, self.length + 2 * self.side_gap).at(z=self.axis_height)

    @part
    def leaf_room(self) -> Shape:
        """Leaf seen along the axis, with room around it."""
        height = self.leaf_thickness + 2 * self.clearance
        corner = -self.axis_height - self.clearance
        return rectangle(self.leaf_end + self.clearance, height).at(y=corner)


@dataclass(frozen=True, kw_only=True)
class Flexure(Hinge):
    """One piece that bends about lines parallel to x, with a solid border at either end.

    Its outlines are drawn in y and z, z = 0 being the middle of the sheet. The bending part is a
    row of links; a family says where they and the moving border are at any bend.
    """

    kind: ClassVar[str] = "flexure"
    posture: ClassVar[str] = "flat on the bed"

    thickness: float = mm(2.4, 0.4, 10, 0.1, "Size", "Thickness of the sheet")
    border: float = mm(12, 2, 100, 0.5, "Size", "Solid border at either end, to join to a part")

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

    def flat(self) -> Shape:
        """The whole as printed."""
        raise NotImplementedError

    def bent(self) -> Shape:
        """The whole, bent by the angle."""
        raise NotImplementedError

    def link_at(self, outline: Shape, i: float, bend: float) -> Shape:
        """An outline around the middle of link ``i``, carried to where the link is at a bend."""
        raise NotImplementedError

    def border_at(self, outline: Shape, bend: float) -> Shape:
        """An outline drawn from the near edge of the moving border, carried along by a bend."""
        raise NotImplementedError

    def pieces(self) -> Iterable[Piece]:
        yield Piece(("both",), choose(equal(self.angle, 0), self.flat(), self.bent()))
        yield Piece(("fixed",), self.fixed_border())
        yield Piece(("moving",), self.moving_border())
        yield Piece(("fixed_relief",), self.fixed_relief())
        yield Piece(("moving_relief",), self.moving_relief())

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
        """Border at the other end, carried along by the bend."""
        return self.sheet_of(self.border_at(self.border_outline(), self.angle))

    @part
    def fixed_relief(self) -> Shape:
        """Room that all but the fixed border sweeps: subtract it from the fixed side's body."""
        return self.sheet_of(self.relief_outline(), self.clearance)

    @part
    def moving_relief(self) -> Shape:
        """The same, seen from the moving border: subtract it from the moving side's body."""
        mirrored = self.relief_outline().mirrored(x=1).at(x=-self.span / 2)
        return self.sheet_of(self.border_at(mirrored, self.angle), self.clearance)

    @part
    def relief_outline(self) -> Shape:
        """Room that the links and the moving border sweep, bent both ways step by step."""
        return each("k", self.sweeps, self.sweep_step)

    @part
    def sweep_step(self, k: float) -> Shape:
        """Room from one bend to the next."""
        step = 2 * self.swing / self.sweeps
        bend = let("bend", k * step - self.swing)
        after = let("after", bend + step)
        links = each(
            "i", self.links, lambda i: hull(self.link_room(i, bend), self.link_room(i, after))
        )
        return links + hull(self.border_room(bend), self.border_room(after))

    @part
    def link_room(self, i: float, bend: float) -> Shape:
        """A link with room around it."""
        length = self.link_length + 2 * self.clearance
        height = self.thickness + 2 * self.clearance
        return self.link_at(rectangle(length, height).at(-length / 2, -height / 2), i, bend)

    @part
    def border_room(self, bend: float) -> Shape:
        """The moving border with room around it."""
        height = self.thickness + 2 * self.clearance
        room = rectangle(self.border + self.clearance, height).at(y=-height / 2)
        return self.border_at(room, bend)
