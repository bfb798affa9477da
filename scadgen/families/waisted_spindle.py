"""The waisted spindle: an upright pivot in which every face slopes or stands.

Heights within a storey are counted from the root of its shaft, where the knuckle below ends.
"""

from __future__ import annotations

from collections.abc import Iterable

from scadgen.expr import maximum, sqrt
from scadgen.family import count, derived, family, mm
from scadgen.kinds import UprightPivot
from scadgen.rules import Rule, at_least, at_most
from scadgen.shapes import corbel_below, standing
from scadgen.solid import Shape, each, part, polygon, rectangle, revolve


@family(
    good="stands without supports, turns freely, is held at both ends",
    weak="tall: each ring needs a shaft about three times as long as the knuckle is wide",
)
class WaistedSpindle(UprightPivot):
    """Upright hinge: rings turn around the waists of a shaft held at both ends."""

    rings: int = count(1, 1, 6, "Size", "Rings of the moving link, one above the other")
    shaft: float = mm(8, 4, 30, 0.5, "Size", "Diameter of the shaft")
    waist: float = mm(1.8, 0.8, 8, 0.1, "Size", "Depth of the waist in the shaft")
    wall: float = mm(2.4, 0.8, 8, 0.1, "Size", "Wall of a ring around the shaft")
    knuckle: float = mm(4, 1, 30, 0.5, "Size", "Height of the straight part of a knuckle")
    hold: float = mm(0.9, 0.4, 4, 0.1, "Fit", "Grip of the waist that is left after all play")

    @derived
    def radius(self) -> float:
        """Outer radius of knuckles and rings"""
        return self.shaft / 2 + self.clearance + self.wall

    @derived
    def reach(self) -> float:
        """From the axis to the leaves, clear of all knuckles"""
        return self.radius + 2 * self.clearance

    @derived
    def neck(self) -> float:
        """Radius of the waist at its narrowest"""
        return self.shaft / 2 - self.waist

    @derived
    def throat(self) -> float:
        """Length of the waist at its narrowest, for a land of 1 mm in the ring"""
        return 1 + 2 * self.lead

    @derived
    def bore(self) -> float:
        """Radius of the straight bore in a ring"""
        return self.shaft / 2 + self.clearance

    @derived
    def flare(self) -> float:
        """Height in which the waist widens to the next knuckle"""
        return self.radius - self.neck

    @derived
    def corbel(self) -> float:
        """Height at which a ring starts to grow from its leaf"""
        return 2 * self.play

    @derived
    def closed(self) -> float:
        """Height at which the ring has closed around the shaft"""
        side = maximum(self.bore - self.leaf_thickness / 2, 0)
        return self.corbel + 2 * self.radius + side + self.bore

    @derived
    def storey(self) -> float:
        """Height from one root of the shaft to the next"""
        return (self.height - self.knuckle) / self.rings

    @derived
    def pinch(self) -> float:
        """Height at which the waist is down to the neck"""
        return self.storey - self.knuckle - self.flare - self.throat

    @derived
    def lip(self) -> float:
        """Flat rim on top of a ring"""
        return self.wall / 2

    @derived
    def ring_top(self) -> float:
        """Height of the flat rim"""
        return self.storey - self.knuckle - self.lip - self.play

    @derived
    def bite(self) -> float:
        """Reach of an arm into its faceted knuckle, so that the arm's corners are inside"""
        half, solid = self.leaf_thickness / 2, self.radius / self.rim
        return self.radius - sqrt(solid * solid - half * half) + self.join

    def rules(self) -> Iterable[Rule]:
        yield at_least(self.waist, 2 * self.clearance + self.hold, "or a ring slips off its waist")
        yield at_least(self.shaft, 2 * self.waist + 4 * self.line_width, "or the neck is too thin")
        yield at_least(self.wall, 3 * self.line_width, "or the ring is too thin to print solid")
        yield at_least(self.knuckle, self.wall, "or the arms of the leaf have nothing to hold")
        slim, solid = self.radius - self.lip, self.radius / self.rim
        chord = 2 * sqrt(maximum(solid * solid - slim * slim, 0))
        yield at_most(self.leaf_thickness, chord, "or the arms cut into the bore of the ring")
        solid = self.knuckle + self.waist + self.throat + self.flare
        storey = solid + self.closed - self.lead
        why = "or the waist starts before the rings have closed around the shaft"
        yield at_least(self.height, self.knuckle + self.rings * storey, why)
        yield from super().rules()

    def fixed(self) -> Shape:
        return self.spindle() + self.fixed_leaf()

    def moving(self) -> Shape:
        rings = each("i", self.rings, lambda i: self.ring().at(z=self.knuckle + i * self.storey))
        return rings + self.moving_leaf()

    @part
    def spindle(self) -> Shape:
        """Knuckles and shaft, turned in one piece."""
        foot = polygon(
            (0, 0),
            (self.radius - self.foot, 0),
            (self.radius, self.foot),
            (self.radius, self.knuckle),
            (0, self.knuckle),
        )
        storeys = each(
            "i", self.rings, lambda i: self.storey_outline().at(y=self.knuckle + i * self.storey)
        )
        return revolve(foot + storeys)

    @part
    def storey_outline(self) -> Shape:
        """Half section of a storey: tapered root, shaft, waist, flare and the knuckle above."""
        return polygon(
            (0, -self.join),
            (self.radius, -self.join),
            (self.radius, 0),
            (self.shaft / 2, self.radius - self.shaft / 2),
            (self.shaft / 2, self.pinch - self.waist),
            (self.neck, self.pinch),
            (self.neck, self.pinch + self.throat),
            (self.radius, self.storey - self.knuckle),
            (self.radius, self.storey),
            (0, self.storey),
        )

    @part
    def ring(self) -> Shape:
        """Ring around the waist, cut off below where it has not yet grown out from its leaf."""
        throat = (self.neck + self.clearance) * self.rim
        outline = polygon(
            (self.bore * self.rim, self.corbel),
            (self.radius, self.corbel),
            (self.radius, self.ring_top),
            ((self.radius - self.lip) * self.rim, self.ring_top),
            (throat, self.pinch + self.throat - self.lead),
            (throat, self.pinch + self.lead),
            (self.bore * self.rim, self.pinch - self.waist + self.lead),
        )
        below = corbel_below(self.radius, self.bore * self.rim, self.leaf_thickness)
        return revolve(outline) - below.at(z=self.corbel)

    @part
    def fixed_leaf(self) -> Shape:
        """Leaf of the shaft, with an arm to each knuckle."""
        leaf = rectangle(self.leaf_span, self.height).at(x=-self.leaf_end)
        inner, outer = self.bite - self.radius, -self.reach - self.join
        foot_arm = rectangle(inner - outer, self.knuckle).at(x=outer)
        arm = polygon(
            (outer, self.radius - self.reach),
            (-self.reach, self.radius - self.reach),
            (inner, self.bite),
            (inner, self.knuckle),
            (outer, self.knuckle),
        )
        arms = each("i", self.rings, lambda i: arm.at(y=(i + 1) * self.storey))
        return standing(leaf + foot_arm + arms, self.leaf_thickness)

    @part
    def moving_leaf(self) -> Shape:
        """Leaf of the rings, with an arm to each ring that starts its 45-degree corbel."""
        leaf = polygon(
            (self.reach + self.foot, 0),
            (self.leaf_end, 0),
            (self.leaf_end, self.height),
            (self.reach, self.height),
            (self.reach, self.foot),
        )
        inner, outer = self.radius - self.bite, self.reach + self.join
        arm = polygon(
            (outer, self.corbel + self.radius - self.reach),
            (self.reach, self.corbel + self.radius - self.reach),
            (inner, self.corbel + self.bite),
            (inner, self.ring_top),
            (outer, self.ring_top),
        )
        arms = each("i", self.rings, lambda i: arm.at(y=self.knuckle + i * self.storey))
        return standing(leaf + arms, self.leaf_thickness)
