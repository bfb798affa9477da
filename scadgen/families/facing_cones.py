"""The facing cones: two short tips hold a link between two ears."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import ClassVar

from scadgen.hinge.family import derived, family, mm
from scadgen.hinge.gaps import Gap, Grip
from scadgen.hinge.kinds.upright import Arm, UprightPivot
from scadgen.hinge.rules import Rule, Serves, at_least
from scadgen.hinge.shapes import cone_pair
from scadgen.strength import cones, giving, loop, prying
from scadgen.strength import rod as rods
from scadgen.strength.asked import EVERY
from scadgen.strength.carried import Carrier, Cut, Force, between, pried, split
from scadgen.strength.duty import Duty
from scadgen.strength.filling import in_tension, round_bar
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength, Told, gives
from scadgen.trees.expr import atan
from scadgen.trees.solid import Shape, part, rectangle, revolve


@family(
    good="very strong: no lever, the link is held between two ears",
    weak="printed upright, the flat undersides of the link and of the upper ear sag and may weld",
)
class FacingCones(UprightPivot):
    """Upright hinge: two facing cones, one on each ear, hold a link between them."""

    trust = 0.6

    comes_off = "ears that are spread let go of the link"

    hangs = "the link and the upper ear start over air: their undersides are flat"

    height: float = mm(24, 8, 200, 0.5, "Size", "Height of the hinge", automatic=True)
    cone: float = mm(7, 3, 30, 0.5, "Size", "Diameter of a cone at its root")
    tip: float = mm(2.1, 1, 10, 0.1, "Size", "Height of a cone")
    wall: float = mm(2.4, 0.8, 8, 0.1, "Size", "Wall of the link around its sockets")
    ear: float = mm(4, 1, 20, 0.5, "Size", "Height of an ear", automatic=True)
    hold: float = mm(0.8, 0.4, 4, 0.1, "Fit", "Grip of a cone that is left after all play")

    @derived
    def radius(self) -> float:
        """Outer radius of the ears and of the link"""
        return self.cone / 2 + self.wall

    @derived
    def rind(self) -> float:
        """Depth of the wall that an arm may reach into"""
        return self.wall

    @derived
    def link(self) -> float:
        """Height of the link between the ears"""
        return self.height - 2 * self.ear - 2 * self.play

    def rules(self) -> Iterable[Rule]:
        yield at_least(
            self.wall, self.thinnest, "or the link is too thin to print solid", Serves.PRINTING
        )
        yield at_least(
            self.ear, self.wall, "or the arms of the leaf have nothing to hold", Serves.STRENGTH
        )
        yield at_least(self.tip, self.end_float + self.hold, "or the link slips off a cone")
        blunt = 2 * self.tip + 2 * self.line_width
        yield at_least(self.cone, blunt, "or the cone ends in a point too thin to print")
        least = 2 * self.ear + 2 * self.play + 2 * self.tip + self.wall
        yield at_least(self.height, least, "or the two sockets meet in the link")
        yield from super().rules()

    answers = EVERY
    not_measured: ClassVar[Mapping[str, str]] = {
        "grip of a cone under load": "it is a way that parts give, no stress in a section"
    }

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        told = Told(duty, plastic)
        pried, tip = self.pried(duty), self.cone - 2 * self.tip
        force = pried / 2 + prying.tilting_force(duty.tilt, self.link - self.tip)
        bent = cones.tip_bending(force, tip, 45, self.tip)
        yield told.stress(
            "cone in bending", bent, round_bar(tip), cones, "blunter cones", across=True
        )
        cut = rods.ROUND_PEAK * cones.tip_shear(force, tip)
        yield told.stress(
            "cone in shear", cut, round_bar(tip), cones, "blunter cones", across=True, shear=True
        )
        torn = loop.tear_out(force, self.wall, self.tip)
        wall = "a thicker wall"
        yield told.stress("socket torn out", torn, in_tension(self.wall), loop, wall, shear=True)
        spread = cones.thrust(force, 45) + duty.pull
        hoop = cones.socket_hoop(spread, 45, 2 * self.radius, self.cone, self.tip)
        yield told.stress("socket split", hoop, in_tension(self.wall), cones, wall)
        # A side force spreads both ears, and a pull one of them.
        spread_by = self.arm_gives(2 * cones.thrust(force, 45) + duty.pull, self.ear, told)
        left, change = self.tip - self.end_float, "a thicker leaf"
        yield gives("grip of a cone under load", spread_by, left, giving, change)
        ear = Arm("arm of an ear", self.ear, self.ear / 2 + self.tip)
        yield self.arm_strength(ear, force, spread, duty, plastic)
        link = Arm("arm of the link", self.link)
        yield self.arm_strength(link, pried, duty.pull, duty, plastic, duty.tilt)
        yield from super().strengths(duty, plastic)

    def carriers(self) -> Iterable[Carrier]:
        top, low = self.ear + self.tip, self.ear + self.play
        cone = tuple(Cut("fixed", (0, 0, z), "z") for z in between(self.ear, top))
        tilt = 1 / (self.link - self.tip)
        force = (self.bearing_at(top, 1 / 2), self.beside_at(top, tilt))
        yield Carrier("cone in bending", "normal", cone, force)
        yield Carrier("cone in shear", "shear", cone[-1:], force)
        at = (0.0, (self.cone / 2 + self.radius) / 2, low + self.tip / 2)
        wall = Cut("moving", at, "x", (self.wall, self.wall, self.tip))
        # Half of it in each of two planes.
        torn = (pried(self.heel, at, "y", 1 / 4), Force("tilt", at, "y", tilt / 2))
        yield Carrier("socket torn out", "shear", (wall,), torn)
        # At 45 degrees a side force spreads the cones by as much, along the axis.
        spread = (
            self.bearing_at(top, 1 / 2, "z"),
            self.beside_at(top, tilt, "z"),
            Force("pull", (0, 0, top), "z"),
        )
        yield split("socket split", wall, self.cone / 2, "y", *spread)
        yield self.arm_carrier("arm of an ear", "fixed", 0, self.ear, *force, *spread)
        middle = self.height / 2
        pull = Force("pull", (0, 0, middle), "z")
        whole = (self.bearing_at(middle), pull, *self.tilt_at(middle))
        yield self.arm_carrier("arm of the link", "moving", low, low + self.link, *whole)
        yield from super().carriers()

    @property
    def end_float(self) -> float:
        """Way of the link from one ear to the other."""
        return 2 * self.play

    def grips(self) -> Iterable[Grip]:
        left = self.tip - self.end_float
        yield Grip("the grip of a cone", left, self.hold, lean=45, bore=True)

    def gaps(self) -> Iterable[Gap]:
        yield Gap("the cones", self.clearance, lean=45, bore=True)
        upper = self.height - self.ear - self.play
        yield Gap("under the link", self.play, lean=90, at=self.ear, hangs=True)
        yield Gap("under the upper ear", self.play, lean=90, at=upper, hangs=True)
        yield from self.leaf_gaps(self.foot)

    def fixed(self) -> Shape:
        ear_arm = self.foot_arm(self.ear)
        arms = ear_arm + ear_arm.at(y=self.height - self.ear)
        return self.ears() + self.leaf_with(arms).mirrored(x=1)

    def moving(self) -> Shape:
        low = self.ear + self.play
        arm = self.foot_arm(self.link).at(y=low)
        return self.link_solid().at(z=low) + self.leaf_with(arm)

    @part
    def ears(self) -> Shape:
        """Two ears with a cone each."""
        lower = self.footing(self.radius, self.ear)
        upper = rectangle(self.radius, self.ear).at(y=self.height - self.ear)
        cones = cone_pair(self.cone / 2, self.tip, self.link + 2 * self.play, self.join)
        return revolve(lower + upper + cones.at(y=self.ear))

    @part
    def link_solid(self) -> Shape:
        """Link with a socket at either end."""
        sockets = cone_pair(self.cone / 2 * self.rim, self.tip, self.link, self.join)
        return revolve(rectangle(self.radius, self.link) - sockets)

    @derived
    def side_play(self) -> float:
        """Way square to the axis until the cones touch"""
        return self.play

    @derived
    def tilt_play(self) -> float:
        """Tilt until the mouths of the sockets touch, if nothing else does before"""
        return atan(self.play / ((self.link + self.cone) / 2))
