"""Upright pivots in which a ring of one link turns around a shaft of the other."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from scadgen.hinge.family import derived, mm
from scadgen.hinge.gaps import Gap
from scadgen.hinge.kinds.upright import UprightPivot
from scadgen.hinge.rules import Rule, Serves, at_least
from scadgen.hinge.shapes import corbel_below
from scadgen.hinge.steps import Steps
from scadgen.printing.remnants import POINT
from scadgen.trees.expr import cos, maximum
from scadgen.trees.solid import Shape, part, polygon, revolve


@dataclass(frozen=True, kw_only=True)
class RingPivot(UprightPivot):
    """A pivot whose shaft stands in rings. Half sections are drawn with x as radius.

    Storeys are counted in heights above the root of a shaft, where the knuckle below ends.
    """

    shaft: float = mm(8, 4, 30, 0.5, "Size", "Diameter of the shaft")
    wall: float = mm(2.4, 0.8, 8, 0.1, "Size", "Wall of a ring around the shaft")
    knuckle: float = mm(
        4, 1, 30, 0.5, "Size", "Height of the straight part of a knuckle", automatic=True
    )

    @classmethod
    def coupon(cls) -> Steps | None:
        steps = super().coupon()
        # Lines of the usual width leave no room for the first step in a ring that closes.
        narrower = 1 if cls.closes else 0
        return steps and replace(
            steps, first=steps.first + narrower * steps.step, count=steps.count - narrower
        )

    @derived
    def radius(self) -> float:
        """Outer radius of knuckles and rings"""
        return self.shaft / 2 + self.clearance + self.wall

    @derived
    def bore(self) -> float:
        """Radius of the straight bore in a ring"""
        return self.shaft / 2 + self.clearance

    @derived
    def rind(self) -> float:
        """Depth of a ring's wall that an arm may reach into"""
        return self.wall / 2

    @derived
    def corbel(self) -> float:
        """Height at which a ring starts to grow from its leaf"""
        return 2 * self.play

    @derived
    def closed(self) -> float:
        """Height at which the ring closes"""
        side = maximum(self.bore - self.arm_face, 0)
        return self.corbel + 2 * self.radius + side + self.bore

    @derived
    def storey(self) -> float:
        """Height from one root of a shaft to the next"""
        raise NotImplementedError

    def rules(self) -> Iterable[Rule]:
        yield at_least(
            self.wall, self.thinnest, "or the ring is too thin to print solid", Serves.PRINTING
        )
        yield at_least(self.knuckle, self.wall, "or the arms of the leaf have nothing to hold")
        yield from super().rules()
        if self.closes:
            end = self.point * self.line_width + self.felt
            why = "or a line across the narrow ends of a ring that closes reaches the shaft"
            yield at_least(self.clearance, end, why, Serves.PRINTING)

    @derived
    def point(self) -> float:
        """How far a line's end reaches into the bore where a ring closes, in lines"""
        return POINT

    def gaps(self) -> Iterable[Gap]:
        yield Gap("the straight bore", self.clearance, bore=True)
        yield self.slopes()
        yield Gap("under the corbel", self.corbel * cos(45), lean=45)
        yield from self.leaf_gaps(self.foot)

    def slopes(self) -> Gap:
        """Between the slopes of a shaft and the ring over them."""
        return Gap("the slopes of the bearing", self.clearance, lean=45, bore=True)

    def corbelled(self, outline: Shape) -> Shape:
        """The outline revolved, cut off below where it has not yet grown out from its leaf."""
        bore = self.bore * self.rim
        below = corbel_below(self.radius, bore, self.leaf_thickness, self.aside)
        return revolve(outline) - below.at(z=self.corbel)

    @part
    def shaft_outline(self, top: float, peak: float) -> Shape:
        """Half section of a shaft on its root, up to a peak."""
        return polygon(
            (0, -self.join),
            (self.radius, -self.join),
            (self.radius, 0),
            (self.shaft / 2, self.radius - self.shaft / 2),
            (self.shaft / 2, top),
            (0, peak),
        )
