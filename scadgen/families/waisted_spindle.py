"""The waisted spindle: an upright pivot in which every face slopes or stands."""

from __future__ import annotations

from collections.abc import Iterable

from scadgen.hinge.family import count, derived, family
from scadgen.hinge.kinds.upright import Arm
from scadgen.hinge.kinds.waist import WaistPivot
from scadgen.hinge.rules import Rule, at_least
from scadgen.strength import anyform, prying
from scadgen.strength import arm as arms
from scadgen.strength import rod as rods
from scadgen.strength.asked import EVERY
from scadgen.strength.carried import Carrier, Cut, Force
from scadgen.strength.duty import Duty
from scadgen.strength.filling import round_bar
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength, Told
from scadgen.trees.solid import Shape, each, part, revolve


@family(
    good="stands without supports, turns freely, is held at both ends",
    weak="tall: each ring needs a shaft about three times as long as the knuckle is wide",
)
class WaistedSpindle(WaistPivot):
    """Upright hinge: rings turn around the waists of a shaft held at both ends."""

    trust = 0.85
    closes = True

    rings: int = count(1, 1, 6, "Size", "Rings of the moving link, one above the other")

    @derived
    def storey(self) -> float:
        """Height from one root of the shaft to the next"""
        return (self.height - self.knuckle) / self.rings

    answers = EVERY

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        told = Told(duty, plastic)
        neck, alone = 2 * self.neck, anyform.where(self.rings > 1, 0, duty.tilt)
        beside = anyform.where(self.rings > 1, duty.tilt, 0)
        apart = anyform.maximum(self.rings - 1, 1) * self.storey
        force = self.pried(duty) / prying.bearing_places(self.rings)
        force = force + prying.tilting_force(beside, apart)
        # The arms of the knuckles twist easily: the shaft counts as held in their middles only.
        low = self.knuckle / 2 + self.bearing_height
        moment = rods.moment_between(force, low, self.storey - low)
        tilted = rods.moment_beyond(alone, low, self.storey - low)
        # Pulled along the axis, both arms bend, and turn the ends of the shaft alike.
        turned = arms.turned_end(duty.pull / 2, self.arm_lever)
        moment = moment + tilted + turned
        bent = rods.bending_stress(moment, neck) + rods.tension(duty.pull, neck)
        change = "a thicker shaft"
        yield told.stress("neck bent and pulled", bent, round_bar(neck), rods, change, across=True)
        yield from self.ring_strengths(force, alone, duty, plastic)
        most = force * anyform.maximum(low / self.storey, anyform.where(self.rings > 1, 1, 0))
        most = most + prying.tilting_force(alone, self.storey)
        knuckle = Arm("arm of a knuckle", self.knuckle)
        yield self.arm_strength(knuckle, most, duty.pull / 2, duty, plastic)
        above = self.bearing_height - (self.corbel + self.ring_top) / 2
        ring = Arm("arm of a ring", self.ring_top - self.corbel, above)
        yield self.arm_strength(ring, force, duty.pull, duty, plastic, alone)
        yield from super().strengths(duty, plastic)

    def carriers(self) -> Iterable[Carrier]:
        share, root = 1 / min(self.rings, prying.RESTS_ON), self.knuckle
        throat, low = root + self.bearing_height, self.knuckle / 2
        over = low + self.storey  # the shaft is a beam between the middles of its knuckles
        held = (throat - low) / self.storey
        neck, pull = Cut("fixed", (0, 0, throat), "z"), Force("pull", (0, 0, throat), "z")
        above = self.bearing_at(over, share * held)
        apart = (self.rings - 1) * self.storey
        tilt = (self.beside_at(over, held / apart),) if apart else self.tilt_at(throat, 1 - held)
        # By the arms' lift the ends of the shaft are turned.
        turned = (
            Force("pull", (0, 0, throat + 0.5), "x", self.reach / 4),
            Force("pull", (0, 0, throat - 0.5), "x", -self.reach / 4),
        )
        yield Carrier("neck bent and pulled", "normal", (neck,), (above, pull, *turned, *tilt))
        yield from self.ring_carriers("fixed", "moving", root, share, apart)
        # A knuckle between two rings may have to hold both their shares.
        most = share * (1 if self.rings > 1 else held)
        half = Force("pull", (0, 0, over), "z", 1 / 2)
        whole = (self.bearing_at(over, most), self.beside_at(over, 1 / (apart or self.storey)))
        ends = (self.storey, self.storey + root)
        yield self.arm_carrier("arm of a knuckle", "fixed", *ends, *whole, half)
        force, ends = self.bearing_at(throat, share), (root + self.corbel, root + self.ring_top)
        tilt = (self.beside_at(throat, 1 / apart),) if apart else self.tilt_at(throat)
        yield self.arm_carrier("arm of a ring", "moving", *ends, force, pull, *tilt)
        yield from super().carriers()

    def rules(self) -> Iterable[Rule]:
        waist = self.waist + self.throat + self.flare
        storey = self.closed - self.lead + waist + self.knuckle
        why = "or the waist starts before the rings have closed around the shaft"
        yield at_least(self.height, self.knuckle + self.rings * storey, why)
        yield from super().rules()

    def fixed(self) -> Shape:
        arms = each("i", self.rings, lambda i: self.knuckle_arm().at(y=(i + 1) * self.storey))
        leaf = self.leaf_with(self.foot_arm(self.knuckle) + arms)
        return self.spindle() + leaf.mirrored(x=1)

    def moving(self) -> Shape:
        rings = each("i", self.rings, lambda i: self.ring().at(z=self.knuckle + i * self.storey))
        arms = each("i", self.rings, lambda i: self.ring_arm().at(y=self.knuckle + i * self.storey))
        return rings + self.leaf_with(arms)

    @part
    def spindle(self) -> Shape:
        """Knuckles and shaft as one."""
        storeys = each(
            "i", self.rings, lambda i: self.storey_outline().at(y=self.knuckle + i * self.storey)
        )
        return revolve(self.footing(self.radius, self.knuckle) + storeys)

    @part
    def storey_outline(self) -> Shape:
        """Half section: tapered root, shaft, waist and the knuckle above."""
        top = self.pinch - self.waist
        return self.shaft_outline(top, top) + self.waist_outline()

    @part
    def ring(self) -> Shape:
        """Ring around the waist, grown out from its leaf by a corbel."""
        return self.corbelled(self.socket_outline(self.corbel))

    @part
    def knuckle_arm(self) -> Shape:
        """Arm to a knuckle, in side view."""
        return self.arm(0, self.knuckle)

    @part
    def ring_arm(self) -> Shape:
        """Arm to a ring, in side view."""
        return self.arm(self.corbel, self.ring_top)
