"""The facing cones on their side: cones built along the layers, in flat-footed knuckles."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import ClassVar

from scadgen.hinge.family import count, derived, family, mm
from scadgen.hinge.gaps import Grip
from scadgen.hinge.judged import Judged, WeakSpot
from scadgen.hinge.kinds.detent import Clicking
from scadgen.hinge.rules import Rule, Serves, at_least, at_most
from scadgen.hinge.shapes import about_x, cone_pair
from scadgen.strength import cones, giving, loop, prying
from scadgen.strength import rod as rods
from scadgen.strength.asked import EVERY
from scadgen.strength.carried import Carrier, Cut, Force, between, pried, split
from scadgen.strength.duty import Duty
from scadgen.strength.filling import in_tension, round_bar
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength, Told, gives
from scadgen.trees.expr import atan
from scadgen.trees.solid import Shape, each, part


@family(
    good="no overhang, close fit, strong: the cones are built along the layers",
    weak="the knuckles stand up from the leaf; a pull along the axis spreads them",
)
class SideCones(Clicking):
    """Lying hinge: each knuckle of the moving link is held between two facing cones."""

    coupon_given: ClassVar[Mapping[str, float]] = {"cone": 7, "tip": 2.2, "wall": 2.4, "hold": 0.8}
    trust = 1.0

    comes_off = "a pull along the axis spreads the knuckles off its cones"

    length: float = mm(
        30, 10, 200, 0.5, "Size", "Length of the hinge along its axis", automatic=True
    )
    knuckles: int = count(
        1, 1, 12, "Size", "Knuckles of the moving link; the fixed link has one more"
    )
    cone: float = mm(7, 3, 30, 0.5, "Size", "Diameter of a cone at its root")
    tip: float = mm(2.2, 1, 10, 0.1, "Size", "Height of a cone")
    wall: float = mm(2.4, 0.8, 8, 0.1, "Size", "Wall of a knuckle around its sockets")
    hold: float = mm(0.8, 0.4, 4, 0.1, "Fit", "Grip of a cone that is left after all play")

    @derived
    def side_gap(self) -> float:
        """Air gap between the sides of neighbouring knuckles: that of the cones along the axis"""
        return self.play

    @derived
    def radius(self) -> float:
        """Outer radius of a knuckle"""
        return self.cone / 2 + self.wall

    def rules(self) -> Iterable[Rule]:
        yield at_least(
            self.wall, self.thinnest, "or the knuckle is too thin to print solid", Serves.PRINTING
        )
        yield at_least(self.tip, self.end_float + self.hold, "or a knuckle slips off its cone")
        blunt = 2 * self.tip + 2 * self.line_width
        yield at_least(self.cone, blunt, "or the cone ends in a point too thin to print")
        yield at_most(
            self.foot,
            self.wall,
            "or a cone starts over the chamfer of its knuckle",
            Serves.PRINTING,
        )
        shortest = self.shortest(2 * self.tip + self.wall)
        yield at_least(self.length, shortest, "or the two sockets meet in a knuckle")
        yield from super().rules()

    answers = EVERY
    not_measured: ClassVar[Mapping[str, str]] = {
        "grip of a cone under load": "it is a way that parts give, no stress in a section"
    }

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        told = Told(duty, plastic)
        both = self.pried(duty) / prying.bearing_places(self.knuckles)
        tilt = prying.tilting_force(duty.tilt, self.engaged - self.tip)
        force, tip = both / 2 + tilt, self.cone - 2 * self.tip
        blunter, wall = "blunter cones", "a thicker wall"
        bent = cones.tip_bending(force, tip, 45, self.tip)
        yield told.stress("cone in bending", bent, round_bar(tip), cones, blunter)
        cut = rods.ROUND_PEAK * cones.tip_shear(force, tip)
        yield told.stress(
            "cone in shear", cut, round_bar(tip), cones, blunter, across=True, shear=True
        )
        torn = loop.tear_out(force, self.wall, self.tip)
        name = "socket torn out"
        yield told.stress(name, torn, in_tension(self.wall), loop, wall, across=True, shear=True)
        spread = cones.thrust(force, 45) + duty.pull
        hoop = cones.socket_hoop(spread, 45, 2 * self.radius, self.cone, self.tip)
        yield told.stress("socket split", hoop, in_tension(self.wall), cones, wall, across=True)
        # A side force spreads the knuckles at either side, and a pull one of them.
        spread_by = self.knuckle_gives(2 * cones.thrust(force, 45) + duty.pull, told)
        left, change = self.tip - self.end_float, "a thicker leaf"
        yield gives("grip of a cone under load", spread_by, left, giving, change)
        yield from self.knuckle_strengths(both + self.beside(duty), spread, duty, plastic)
        yield from super().strengths(duty, plastic)

    #: Its knuckles, under a force along the axis.
    weak_spot: ClassVar[WeakSpot] = WeakSpot(light=50, heavy=350, lost=0.4)

    def practice(self, duty: Duty, plastic: Plastic) -> Judged:
        usual = super().practice(duty, plastic)
        # At 45 degrees a side force spreads the cones by as much, along the axis.
        force = cones.thrust(self.pried(duty), 45) + duty.pull
        left = self.weak_spot.left(force, duty)
        words = f"{force:.2g} N along the axis spread its knuckles; {usual.words}"
        return Judged(usual.worth * left, words) if left < 1 else usual

    def carriers(self) -> Iterable[Carrier]:
        share = 1 / min(self.knuckles, prying.RESTS_ON)
        root = self.knuckle - self.length / 2
        top, face = root + self.tip, root + self.side_gap
        cone = tuple(Cut("fixed", (x, 0, self.axis_at), "x") for x in between(root, top))
        tilt = 1 / (self.engaged - self.tip)
        force = (
            self.bearing_at(top, share / 2),
            Force("tilt", (top, 0, self.axis_at), "yz", tilt),
        )
        yield Carrier("cone in bending", "normal", cone, force)
        yield Carrier("cone in shear", "shear", cone[-1:], force)
        at = (face + self.tip / 2, 0.0, self.axis_at + (self.cone / 2 + self.radius) / 2)
        wall = Cut("moving", at, "y", (self.tip, self.wall, self.wall))
        # Half of it in each of two planes.
        torn = (pried(self.heel, at, "z", share / 4), Force("tilt", at, "z", tilt / 2))
        yield Carrier("socket torn out", "shear", (wall,), torn)
        # At 45 degrees a side force spreads the cones by as much, along the axis.
        middle = (self.first, 0.0, self.axis_at)
        spread = (
            pried(self.heel, middle, "x", share / 2),
            Force("tilt", middle, "x", tilt),
            Force("pull", middle, "x"),
        )
        yield split("socket split", wall, self.cone / 2, "z", *spread)
        yield from self.knuckle_carriers(self.bearing_at(self.first, share), *spread)
        yield from super().carriers()

    @property
    def end_float(self) -> float:
        """Way of a knuckle from one cone to the other."""
        return 2 * self.play

    def grips(self) -> Iterable[Grip]:
        yield Grip("the grip of a cone", self.tip - self.end_float, self.hold)

    def fixed(self) -> Shape:
        knuckles = self.fixed_knuckles(self.footed_outline().mirrored(x=1))
        return knuckles + self.cones() + self.leaf().mirrored(y=1)

    def moving(self) -> Shape:
        return self.moving_knuckles(self.footed_outline()) - self.sockets() + self.leaf()

    @part
    def cones(self) -> Shape:
        """Pairs of cones across the moving knuckles."""
        pair = cone_pair(self.cone / 2, self.tip, self.knuckle + 2 * self.side_gap, self.join)
        return self.along_axis(pair.at(y=-self.side_gap))

    @part
    def sockets(self) -> Shape:
        """Room for the cones in the moving link."""
        return self.along_axis(
            cone_pair(self.cone / 2 * self.rim, self.tip, self.knuckle, self.join)
        )

    def along_axis(self, outline: Shape) -> Shape:
        """A half section, revolved about the axis at each knuckle of the moving link."""
        pairs = each("i", self.knuckles, lambda i: outline.at(y=(2 * i + 1) * self.pitch))
        return about_x(pairs).at(x=-self.length / 2, z=self.axis_at)

    @derived
    def side_play(self) -> float:
        """Way square to the axis until the cones touch"""
        return self.play

    @derived
    def tilt_play(self) -> float:
        """Tilt until the mouths of the outermost sockets touch, if nothing else does before"""
        return atan(self.play / ((self.engaged + self.cone) / 2))
