"""The captive cone: an upright pivot that is short, because both links stand on the bed."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from scadgen.hinge.family import derived, family, mm
from scadgen.hinge.gaps import Gap
from scadgen.hinge.judged import Judged, WeakSpot
from scadgen.hinge.kinds.upright import Arm
from scadgen.hinge.kinds.waist import WaistPivot
from scadgen.hinge.rules import Rule, at_least
from scadgen.strength import cones
from scadgen.strength import rod as rods
from scadgen.strength.asked import EVERY
from scadgen.strength.carried import Carrier, Cut, Force, between
from scadgen.strength.duty import Duty
from scadgen.strength.filling import round_bar
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength, Told
from scadgen.trees.solid import Shape, part, revolve


@family(
    good="short, both links stand on the bed, turns freely without slop",
    weak="held at one end: a side load bends the neck where it meets the arm",
)
class CaptiveCone(WaistPivot):
    """Upright hinge: a flared spindle, carried by an arm from above, turns in one ring."""

    trust = 0.8

    height: float = mm(16, 6, 100, 0.5, "Size", "Height of the hinge", automatic=True)

    @derived
    def storey(self) -> float:
        """Height from the foot of the spindle to the top of its arm"""
        return self.height

    @derived
    def lever(self) -> float:
        """Lever arm: from the middle of the throat to the middle of the arm"""
        return self.height - self.knuckle / 2 - self.pinch - self.throat / 2

    def figures(self) -> dict[str, float]:
        return super().figures() | {"lever arm (mm)": self.lever}

    @derived
    def ring_bottom(self) -> float:
        """Height at which the ring is closed around the spindle: it stands on the bed"""
        return 0

    #: Its neck, under a side force.
    weak_spot: ClassVar[WeakSpot] = WeakSpot(light=15, heavy=300, lost=0.6)

    def practice(self, duty: Duty, plastic: Plastic) -> Judged:
        usual, force = super().practice(duty, plastic), self.pried(duty)
        left = self.weak_spot.left(force, duty)
        words = "held at one end, which so light a load does not notice"
        if left < 1:
            words = f"held at one end: a side load of {force:.2g} N bends its neck"
        return Judged(usual.worth * left, f"{words}; {usual.words}")

    answers = EVERY

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        told = Told(duty, plastic)
        force, neck = self.pried(duty), 2 * self.neck
        # The arm tilts under a side load and lifts the foot off the ring: the throat bears all.
        bent = cones.neck_bending(force, neck, 45, self.throat, self.flare)
        torn = bent + rods.bending_stress(duty.tilt, neck) + rods.tension(duty.pull, neck)
        change = "a thicker shaft"
        yield told.stress("neck bent and pulled", torn, round_bar(neck), cones, change, across=True)
        yield from self.ring_strengths(force, duty.tilt, duty, plastic)
        above = Arm("arm of the spindle", self.knuckle, self.lever)
        below = Arm("arm of the ring", self.ring_top, self.bearing_height - self.ring_top / 2)
        for arm in (above, below):
            yield self.arm_strength(arm, force, duty.pull, duty, plastic, duty.tilt)
        yield from super().strengths(duty, plastic)

    def carriers(self) -> Iterable[Carrier]:
        low, high, throat = self.pinch, self.height - self.knuckle, self.bearing_height
        neck = tuple(Cut("moving", (0, 0, z), "z") for z in between(low, high))
        pull = Force("pull", (0, 0, throat), "z")
        tilt = self.tilt_at(throat)
        yield Carrier("neck bent and pulled", "normal", neck, (self.bearing_at(low), pull, *tilt))
        yield from self.ring_carriers("moving", "fixed", 0)
        force = self.bearing_at(throat)
        top = self.height
        yield self.arm_carrier("arm of the spindle", "moving", high, top, force, pull, *tilt)
        yield self.arm_carrier("arm of the ring", "fixed", 0, self.ring_top, force, pull, *tilt)
        yield from super().carriers()

    def rules(self) -> Iterable[Rule]:
        waist = self.waist + self.throat + self.flare
        least = self.foot + 1 + waist + self.knuckle
        yield at_least(self.height, least, "or the spindle has no foot to stand on")
        yield from super().rules()

    def gaps(self) -> Iterable[Gap]:
        yield Gap("the straight bore", self.clearance, bore=True, bed=(self.foot, 0))
        yield self.slopes()
        yield from self.leaf_gaps(0)

    def fixed(self) -> Shape:
        return self.ring() + self.leaf_with(self.foot_arm(self.ring_top)).mirrored(x=1)

    def moving(self) -> Shape:
        arm = self.arm(self.height - self.knuckle, self.height)
        return self.spindle() + self.leaf_with(arm)

    @part
    def ring(self) -> Shape:
        """Ring that stands on the bed."""
        return revolve(self.socket_outline(0))

    @part
    def spindle(self) -> Shape:
        """Spindle from foot to knuckle."""
        foot = self.footing(self.shaft / 2, self.pinch - self.waist)
        return revolve(foot + self.waist_outline())
