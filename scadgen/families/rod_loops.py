"""The rod in loops: a lying pivot whose rod is printed in place, along the layers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import ClassVar

from scadgen.hinge.family import count, derived, family, mm
from scadgen.hinge.gaps import Gap
from scadgen.hinge.kinds.detent import Clicking
from scadgen.hinge.rules import Rule, Serves, at_least
from scadgen.hinge.shapes import OCTANT, along_x, bore_outline, rod_depth, rod_outline, trough_below
from scadgen.hinge.steps import Steps
from scadgen.printing.lines import LAID
from scadgen.strength import giving, loop, prying
from scadgen.strength import rod as rods
from scadgen.strength.asked import EVERY
from scadgen.strength.carried import Carrier, Cut, Force, pried, ring_side, tilting
from scadgen.strength.duty import Duty
from scadgen.strength.filling import IN_WALLS, in_bending, in_tension, round_bar
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength, Told, gives, stiffness
from scadgen.trees.expr import atan, cos, maximum, sin, sqrt
from scadgen.trees.solid import Shape, part

#: How far a line sags that bridges from loop to loop, mm: the worst of the rough fleet over 8.5 mm.
SAGS = 0.1


@family(
    good="strong in every direction square to the rod, whose lines run along it",
    weak="the rod bridges from loop to loop; pulled across its layers a loop or the rod splits",
)
class RodLoops(Clicking):
    """Lying hinge: loops of both links take turns on a rod that is printed in place."""

    coupon_given: ClassVar[Mapping[str, float]] = {"rod": 5, "wall": 2.4}
    trust = 0.75

    knuckles: int = count(
        2,
        1,
        12,
        "Size",
        "Knuckles that move; one more is fixed",
        automatic=True,
    )
    rod: float = mm(5, 3, 16, 0.5, "Size", "Diameter of the rod")
    wall: float = mm(2.4, 0.8, 8, 0.1, "Size", "Wall of a loop above the roof of its bore")
    gap: float = mm(0.4, 0.15, 1, 0.05, "Fit", "Air gap between neighbouring loops", automatic=True)
    bridge: float = mm(10, 4, 25, 1, "Quality", "Longest bridge that the printers manage")

    @classmethod
    def coupon(cls) -> Steps | None:
        steps = super().coupon()
        return steps and replace(steps, given={**steps.given, "gap": 0.7})

    @derived
    def side_gap(self) -> float:
        """Air gap between the sides of neighbouring loops"""
        return self.gap

    @derived
    def bore(self) -> float:
        """Radius of the bore in a loop"""
        return self.rod / 2 + self.clearance

    @derived
    def radius(self) -> float:
        """Outer radius of a loop"""
        return sqrt(2) * self.bore + self.wall

    @derived
    def sags(self) -> float:
        """How far a line sags that bridges from loop to loop"""
        return SAGS

    @derived
    def thread(self) -> float:
        """Room for a line that bridges: as thick as it is wide, and sagging"""
        return self.line_width + self.sags

    @derived
    def half_flat(self) -> float:
        """Half the width of the rod's flat, which bridges"""
        return self.rod / 2 * sin(OCTANT)

    @derived
    def flank(self) -> float:
        """From the axis out and down to a flank"""
        return rod_depth(self.rod / 2) + self.rod / 2 - self.half_flat

    @derived
    def landing(self) -> float:
        """Clearance that keeps a layer off the other link's below: at the roof, or a lower flank"""
        return maximum(self.roof_landing, self.flank_landing)

    @derived
    def flank_landing(self) -> float:
        """Clearance that keeps the rod's lower flanks off the layer of a loop below them"""
        # Nearest beside the trough: there a flank, and the bore a layer lower, are as far aside.
        beside = 2 * self.layer * (self.rod / 2 - self.half_flat)
        return self.layer + self.flank - sqrt(self.flank * self.flank + beside)

    @derived
    def laid(self) -> float:
        """How far slicers lay a line beyond its outline"""
        return LAID

    @derived
    def roof_landing(self) -> float:
        """Clearance that keeps a layer of the roof off the rod's below"""
        # The roof leans by 45 degrees, and is drawn around the bore's circle.
        roof = self.rod / 2 + (self.layer + 2 * self.laid) * cos(45)
        return roof / self.rim - self.rod / 2

    def longest_bridge(self) -> float:
        return self.bridge

    def rules(self) -> Iterable[Rule]:
        yield at_least(
            self.wall, self.thinnest, "or the loop is too thin to print solid", Serves.PRINTING
        )
        yield at_least(self.gap, self.clearance, "or the sides fuse before the bearing")
        shortest = self.shortest(self.rod / 2 + 2 * self.foot)
        yield at_least(self.length, shortest, "or the loops are too slender beside the rod")
        widest = self.bridge - 2 * self.gap
        fewest = (self.length - widest) / (2 * (widest + self.gap))
        yield at_least(self.knuckles, fewest, "or the rod bridges too far", Serves.PRINTING)
        yield from super().rules()

    @classmethod
    def drawn_against(cls) -> dict[str, str]:
        return {"rod": "rod"}

    answers = EVERY
    not_measured: ClassVar[Mapping[str, str]] = {
        "rod in its loops under load": "it is a way that parts give, no stress in a section"
    }

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        told = Told(duty, plastic)
        force = self.pried(duty) / prying.bearing_places(self.knuckles) + self.beside(duty)
        tilt = self.alone(duty)  # it presses at the ends of the loop
        peak = force + prying.tilting_peak(tilt, self.knuckle)
        half = force + 2 * prying.tilting_half(tilt, self.knuckle)
        moment = rods.moment_held_at_sides(force, self.knuckle, self.gap) + tilt / 2
        bent = rods.flat_bending_stress(moment, self.rod)
        thicker, wall = "a thicker rod", "a thicker wall"
        yield told.stress("rod in bending", bent, in_bending(self.rod, self.rod), rods, thicker)
        cut = rods.ROUND_PEAK * rods.double_shear(half, self.rod)
        yield told.stress(
            "rod in shear", cut, round_bar(self.rod), rods, thicker, across=True, shear=True
        )
        pressed = rods.bearing(peak, self.rod, self.knuckle)
        yield told.stress("loop under pressure", pressed, IN_WALLS, rods, thicker)
        outer, roof = 2 * self.radius, 2 * (self.radius - self.wall)
        crown = loop.thick_ring_stress(half, outer, roof, self.knuckle)
        yield told.stress(
            "loop in bending at its crown", crown, in_bending(self.wall, self.knuckle), loop, wall
        )
        side = loop.thick_ring_stress(half, outer, 2 * self.bore, self.knuckle)
        name = "loop in bending at its side"
        yield told.stress(
            name, side, in_bending(self.radius - self.bore, self.knuckle), loop, wall, across=True
        )
        torn = loop.tear_out(half, loop.edge(outer, roof), self.knuckle)
        name = "rod torn out of a loop"
        yield told.stress(
            name, torn, in_tension(self.wall, self.knuckle), loop, wall, across=True, shear=True
        )
        soft = stiffness(plastic, duty)
        way = giving.rod_sags(half, self.knuckle + 2 * self.gap, self.rod, soft)
        way = way + giving.ring_stretches(half, outer, 2 * self.bore, self.knuckle, soft)
        # A loop that has moved by half the rod still holds its other half.
        yield gives("rod in its loops under load", way, self.rod / 2, giving, thicker)
        yield from self.knuckle_strengths(force, duty.pull, duty, plastic)
        yield from super().strengths(duty, plastic)

    def carriers(self) -> Iterable[Carrier]:
        share, at = 1 / min(self.knuckles, prying.RESTS_ON), (self.first, 0.0, self.axis_at)
        rod = Cut("fixed", at, "x")
        # Held at both ends, the force spread over the loop: M = F l/8.
        eighth = (self.knuckle + 2 * self.gap) / 8
        bent = self.bearing_at(self.first + eighth, share)
        # A tilt presses at the ends of a loop that is alone, by 6 M/l; half of it bears 3 M/l.
        alone = self.knuckles == 1
        among = self.length if alone else 2 * (self.knuckles - 1) * self.pitch
        even, most = (3 / self.knuckle, 6 / self.knuckle) if alone else (1 / among, 1 / among)
        off = (self.first + eighth, 0.0, self.axis_at)
        tilt = tilting(at, "x", "yz", 1 / 2) if alone else (Force("tilt", off, "yz", even),)
        yield Carrier("rod in bending", "normal", (rod,), (bent, *tilt))
        beside = self.first - (self.knuckle + self.gap) / 2
        cut = Cut("fixed", (beside, 0, self.axis_at), "x")
        shorn = (self.bearing_at(beside, share / 2), Force("tilt", cut.at, "yz", even / 2))
        yield Carrier("rod in shear", "shear", (cut,), shorn)
        land = Cut("fixed", at, "y", (self.knuckle, self.rod, self.rod))
        pressed = (self.bearing_at(self.first, share, "y"), Force("tilt", at, "y", most))
        yield Carrier("loop under pressure", "normal", (land,), pressed)
        force = (self.bearing_at(self.first, share), Force("tilt", at, "yz", even))
        over = self.radius - self.wall / 2
        crown = Cut("moving", (self.first, 0, self.axis_at + over), "y")
        yield ring_side("loop in bending at its crown", crown, over, "z", *force)
        middle = (self.bore + self.radius) / 2
        side = Cut("moving", (self.first, -middle, self.axis_at), "z")
        yield ring_side("loop in bending at its side", side, -middle, "y", *force)
        torn = (pried(self.heel, crown.at, "z", share / 2), Force("tilt", at, "z", even / 2))
        yield Carrier("rod torn out of a loop", "shear", (crown,), torn)
        yield from self.knuckle_carriers(force[0], Force("pull", at, "x"))
        yield from super().carriers()

    def gaps(self) -> Iterable[Gap]:
        yield from super().gaps()
        span = self.knuckle + 2 * self.gap
        low = rod_depth(self.rod / 2)
        round_ = sqrt(self.bore * self.bore - self.half_flat * self.half_flat) - low
        under = maximum(round_, self.thread)  # at the edges of the flat
        edge, floor = self.axis_at - low, self.axis_at - low - under
        yield Gap(
            "the edge of the rod's flat", self.clearance, lean=90 - OCTANT, at=edge, bridge=span
        )
        yield Gap("under the rod", under, lean=90, at=floor, bridge=span)

    def fixed(self) -> Shape:
        loops = self.fixed_knuckles(self.footed_outline().mirrored(x=1))
        return loops + self.rod_solid() + self.leaf().mirrored(y=1)

    def moving(self) -> Shape:
        trough = trough_below(self.rod / 2, self.thread, self.clearance)
        bore = bore_outline(self.bore, self.rim) + trough
        return self.moving_knuckles(self.footed_outline() - bore) + self.leaf()

    @part
    def rod_solid(self) -> Shape:
        """Rod, solid with the loops of the fixed link."""
        return along_x(rod_outline(self.rod / 2), self.length).at(z=self.axis_at)

    @derived
    def tilt_play(self) -> float:
        """Least tilt until the bores touch the rod at both ends, if nothing else does before"""
        return atan(2 * self.clearance / self.engaged)
