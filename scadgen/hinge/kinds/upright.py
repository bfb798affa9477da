"""Pivots that stand: the axis is the z axis, and both leaves stand on their lower edges."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import ClassVar, cast

from scadgen.hinge.family import derived, mm
from scadgen.hinge.gaps import Gap
from scadgen.hinge.kinds.heeled import Heeled
from scadgen.hinge.rules import Rule, Serves, at_least, at_most
from scadgen.hinge.shapes import swept
from scadgen.hinge.steps import Steps
from scadgen.printing.remnants import FELT, LOOP
from scadgen.strength import anyform, giving, notch
from scadgen.strength import arm as arms
from scadgen.strength.carried import Carrier, Cut, Force, Point, pried, tilting
from scadgen.strength.duty import Duty
from scadgen.strength.filling import in_bending
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength, Told, stiffness
from scadgen.trees.expr import cos, maximum, sqrt, where
from scadgen.trees.solid import Shape, circle, extrude, part, polygon, rectangle


@dataclass(frozen=True)
class Arm:
    """What joins a leaf to a knuckle: its name, its height, and how far beside its middle, along
    the axis, the knuckle is loaded (mm)."""

    name: str
    height: float
    beside: float = 0


@dataclass(frozen=True, kw_only=True)
class UprightPivot(Heeled):
    """A pivot about the z axis. Outlines of leaves and arms are drawn in x and z, on the +x side.

    An arm joins a leaf to a knuckle. Its underside climbs from the leaf at 45 degrees.
    """

    posture: ClassVar[str] = "standing: axis upright, both leaves on their lower edges"
    along: ClassVar[str] = "height"
    broadens: ClassVar[str] = "leaf_thickness"
    #: Whether it has rings that close around their shafts as they grow out from a leaf.
    closes: ClassVar[bool] = False

    height: float = mm(40, 10, 200, 0.5, "Size", "Height of the hinge", automatic=True)

    @classmethod
    def coupon(cls) -> Steps | None:
        steps = super().coupon()
        return steps and replace(steps, turned=90)

    @derived
    def leaf_width(self) -> float:
        """Width of a leaf, along the axis"""
        return self.height

    @derived
    def reach(self) -> float:
        """From the axis to the leaves, clear of all knuckles"""
        return self.radius + 2 * self.clearance

    @derived
    def rind(self) -> float:
        """Depth of a knuckle that its arm may reach into"""
        raise NotImplementedError

    @derived
    def solid(self) -> float:
        """Radius within which a faceted knuckle is solid"""
        return self.radius / self.rim

    @derived
    def slim(self) -> float:
        """From the axis to the bore, which no arm may enter"""
        return (self.radius - self.rind) * self.rim + self.join

    @derived
    def bite(self) -> float:
        """Arms' reach into knuckles"""
        flank = self.flank
        return self.radius - sqrt(maximum(self.solid * self.solid - flank * flank, 0)) + self.join

    @derived
    def deep(self) -> float:
        """How far beside its bore a wall ends"""
        return sqrt(maximum(self.solid * self.solid - self.slim * self.slim, 0))

    @derived
    def flank(self) -> float:
        """From the axis to the outer side of the arms"""
        return self.leaf_thickness / 2 + self.aside

    def rules(self) -> Iterable[Rule]:
        most = maximum(2 * self.deep - 2 * self.setback, self.deep - 2 * self.clearance)
        yield at_most(self.leaf_thickness, most, "or the corners of the arms leave the wall")
        yield from super().rules()
        if not self.closes:  # what rings ask that close is more
            thin = self.leaf_thickness < self.loop * self.line_width
            end = where(thin, (self.leaf_thickness / 2 + self.felt) / 2, 0)
            why = "or a leaf with no room for a loop is one line, whose end reaches a knuckle"
            yield at_least(self.clearance, end, why, Serves.PRINTING)

    @derived
    def loop(self) -> float:
        """Narrowest that slicers lay a loop in, in lines"""
        return LOOP

    @derived
    def felt(self) -> float:
        """Room beyond the end of a single line"""
        return FELT

    def arm_strength(
        self, arm: Arm, force: float, pull: float, duty: Duty, plastic: Plastic, tilt: float = 0
    ) -> Strength:
        """An arm under forces on its knuckle, square to the axis and along it (N).

        ``tilt``: moment about a line square to the axis, that its knuckle holds alone (N mm).
        """
        told = Told(duty, plastic)
        turned = force * abs(arm.beside)
        height, thick = arm.height, self.leaf_thickness
        corner = notch.factor(self.line_width, height)
        sideways, pulled = force * self.arm_lever, pull * self.reach
        bent = arms.bending(sideways, turned, pulled, height, thick, corner)
        sheared = arms.twisting(turned + pull * self.aside, height, thick)
        weak = 1 / plastic.layer_share
        both = arms.tilted(bent, sheared, tilt, height, thick, weak, corner)
        return told.stress(arm.name, both, in_bending(height, thick), arms, "a thicker leaf")

    def arm_gives(self, force: float, height: float, told: Told) -> float:
        """How far an arm so high gives way along the axis, under a force on its knuckle (N)."""
        solid = in_bending(height, self.leaf_thickness).share(told.plastic.filling)
        soft = solid * stiffness(told.plastic, told.duty)
        thick = self.leaf_thickness
        twist = giving.bar_twist(force * self.aside, self.reach, height, thick, soft)
        bent = giving.bar_end(force, self.reach, height, thick, soft)
        return cast(float, bent + twist * self.aside)

    @property
    def arm_lever(self) -> float:
        """From the axis to the middle of an arm where it leaves its leaf (mm)."""
        reach, aside = self.reach, self.aside
        return cast(float, anyform.sqrt(reach * reach + aside * aside))

    def tilt_at(self, height: float, share: float = 1.0) -> tuple[Force, Force]:
        """A share of what tilts the moving link, as it is held at a height of the axis."""
        return tilting((0, 0, height), "z", "xy", share)

    def beside_at(self, height: float, share: float, along: str = "xy") -> Force:
        """A force that comes of the tilt, at a height of the axis; its share in 1/mm."""
        return Force("tilt", (0, 0, height), along, share)

    def bearing_at(self, height: float, share: float = 1.0, along: str = "xy") -> Force:
        """A share of the force on the bearing, at a height of the axis."""
        return pried(self.heel, (0, 0, height), along, share)

    def arm_carrier(self, place: str, part: str, low: float, top: float, *forces: Force) -> Carrier:
        """An arm of a part, cut where it leaves its leaf, from its underside to its top."""
        way = self.reach - self.join
        at: Point = (way if part == "moving" else -way, -self.aside, (low + top) / 2)
        arm = Cut(part, at, "x", (self.leaf_thickness, self.leaf_thickness, top - low))
        corner = float(notch.factor(self.line_width, top - low))
        return Carrier(place, "both", (arm,), forces, peak=corner)

    def gaps(self) -> Iterable[Gap]:
        yield Gap("the bearing", self.clearance, lean=45, curved=True, bore=True)
        yield from self.leaf_gaps(self.foot)

    def leaf_gaps(self, chamfer: float) -> Iterable[Gap]:
        """Beside the leaves: a knuckle of the other link on the bed has the chamfer (mm)."""
        yield Gap("beside the leaf", self.reach - self.radius, bed=(self.foot, chamfer))
        yield from self.printed_gaps()

    def axis(self) -> tuple[Point, Point]:
        return (0, 0, 0), (0, 0, 1)

    def extruded_along(self, outline: Shape) -> Shape:
        return extrude(outline, self.height)

    def relieved_along(self, outline: Shape) -> Shape:
        return extrude(outline, self.height + 2).at(z=-1)

    @derived
    def stop_start(self) -> float:
        """From the axis to where a stop meets the moving leaf's face"""
        return self.reach

    @derived
    def stop_end(self) -> float:
        """From axis to stop corners"""
        return (self.stop_start + self.leaf_thickness) / cos(self.stop_lean / 2)

    @derived
    def stop_lean(self) -> float:
        """Angle between a stop's middle line and a leaf that meets it"""
        return (180 - self.stop_at) / 2

    @part
    def arm(self, start: float, top: float) -> Shape:
        """Arm in side view; its underside meets the knuckle at start."""
        outer, inner = self.reach + self.join, self.radius - self.bite
        low = start + self.radius - self.reach
        return polygon(
            (outer, low), (self.reach, low), (inner, start + self.bite), (inner, top), (outer, top)
        )

    @part
    def foot_arm(self, top: float) -> Shape:
        """Arm in side view that lies on the bed."""
        width = self.reach + self.join - (self.radius - self.bite)
        return rectangle(width, top).at(x=self.radius - self.bite)

    def footing(self, radius: float, top: float) -> Shape:
        """Half section of a round foot on the bed, chamfered below."""
        return polygon(
            (0, 0), (radius - self.foot, 0), (radius, self.foot), (radius, top), (0, top)
        )

    def fixed_relief(self) -> Shape:
        return self.relief()

    def moving_relief(self) -> Shape:
        return self.relief().mirrored(x=1)

    @part
    def relief(self) -> Shape:
        """Room for one link on its way both ways: subtract it from the other side's body."""
        sector = swept(self.leaf_room(), self.lowest(), self.stride, self.sweeps)
        return self.relieved_along(circle(self.reach * self.rim) + sector)
