"""The kinds of hinge: what all pivots share, upright or lying, and what all flexures share.

Each kind fixes how its families lie on the bed (z = 0), the line they turn about and the parts
they draw. The fixed side is at negative, the moving side at positive x (upright) or y (lying).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from scadgen.expr import atan, ceil, cos, where
from scadgen.family import Hinge, Piece, derived, mm
from scadgen.rules import Rule, at_least, at_most
from scadgen.shapes import swept
from scadgen.solid import Shape, circle, extrude, part, rectangle


@dataclass(frozen=True, kw_only=True)
class Pivot(Hinge):
    """Two links that turn about an axis; a leaf on each joins it to the maker's part."""

    kind: ClassVar[str] = "pivot"

    foot: float = mm(0.4, 0, 1, 0.1, "Fit", "Chamfer along the bed, for the first layer's spread")
    leaf_length: float = mm(15, 0, 100, 0.5, "Leaves", "Length of a leaf; 0 leaves a plain stub")
    leaf_thickness: float = mm(4, 1.2, 12, 0.2, "Leaves", "Thickness of a leaf")

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
    def leaf_span(self) -> float:
        """A stub is as long as it is thick"""
        return where(self.leaf_length > 0, self.leaf_length, self.leaf_thickness)


@dataclass(frozen=True, kw_only=True)
class UprightPivot(Pivot):
    """A pivot whose axis is the z axis: both leaves stand on the bed on their lower edges."""

    posture: ClassVar[str] = "standing: axis upright, both leaves on their lower edges"

    height: float = mm(36, 10, 200, 0.5, "Size", "Height of the hinge")

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
        return 180 - 2 * atan((self.leaf_thickness / 2 + self.clearance) / self.reach)

    def rules(self) -> Iterable[Rule]:
        yield from super().rules()
        yield at_least(self.angle, -self.swing, "or it is drawn further than it turns")
        yield at_most(self.swing, self.stop, "or the leaves meet before")

    def posed(self, shape: Shape) -> Shape:
        return shape.turned(z=self.angle)

    def fixed_relief(self) -> Shape:
        return self.relief()

    def moving_relief(self) -> Shape:
        return self.relief().mirrored(x=1)

    @part
    def relief(self) -> Shape:
        """Room for one link on its way both ways: subtract it from the other side's body."""
        step = self.sweep_step
        sector = swept(self.leaf_plan(), -self.swing, step, 2 * self.swing / step)
        return extrude(circle(self.reach) + sector, self.height + 2).at(z=-1)

    @part
    def leaf_plan(self) -> Shape:
        """Leaf seen from above, with room around it."""
        length = self.leaf_end / cos(self.sweep_step / 2) + self.clearance
        width = self.leaf_thickness + 2 * self.clearance
        return rectangle(length, width).at(y=-width / 2)

    @derived
    def sweep_step(self) -> float:
        """Turn from one position of a swept leaf to the next"""
        return 2 * self.swing / ceil(self.swing / 5)
