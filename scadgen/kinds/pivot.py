"""What all pivots share: two links, a leaf on each, and room for each to swing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from scadgen.expr import cos, maximum
from scadgen.family import Hinge, Piece, derived, mm
from scadgen.rules import Rule, at_least, at_most
from scadgen.solid import Shape

Point = tuple[float, float, float]


@dataclass(frozen=True, kw_only=True)
class Pivot(Hinge):
    """Two links that turn about an axis; a leaf on each joins it to the maker's part."""

    kind: ClassVar[str] = "pivot"

    foot: float = mm(0.4, 0, 1, 0.1, "Fit", "Chamfer along the bed, for the first layer's spread")
    leaf_length: float = mm(15, 0, 100, 0.5, "Leaves", "Length of a leaf; 0 leaves a plain stub")
    leaf_thickness: float = mm(4, 1.2, 12, 0.2, "Leaves", "Thickness of a leaf")

    def axis(self) -> tuple[Point, Point]:
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

    def rules(self) -> Iterable[Rule]:
        yield from super().rules()
        landing = self.layer * cos(45)
        yield at_least(self.clearance, landing, "or a layer of one link lands on the other")
        yield at_most(self.swing, self.stop, "or the leaves meet before")

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
    def radius(self) -> float:
        """Outer radius of the knuckles"""
        raise NotImplementedError

    @derived
    def reach(self) -> float:
        """From the axis to the leaves, clear of all knuckles"""
        raise NotImplementedError

    @derived
    def leaf_span(self) -> float:
        """A leaf is at least a stub, as long as it is thick"""
        return maximum(self.leaf_length, self.leaf_thickness)

    @derived
    def leaf_end(self) -> float:
        """From the axis to the far end of a leaf"""
        return self.reach + self.leaf_span

    @derived
    def stop(self) -> float:
        """Turn at which the leaves would meet, less the gap"""
        raise NotImplementedError
