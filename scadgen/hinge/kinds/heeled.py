"""Standing pivots whose opening a heel stops: it wraps the knuckles from behind.

What prints flat is past any stop of its opening; what prints half shut is not. The heel stands on
the fixed leaf, as high as the hinge, and meets the back of the moving one.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, cast

from scadgen.hinge.family import deg, derived
from scadgen.hinge.gaps import Gap
from scadgen.hinge.kinds.half_shut import HalfShut
from scadgen.hinge.meets import Click, Stop
from scadgen.hinge.rules import Rule, Serves, at_least, at_most
from scadgen.mechanism.joint import HEEL
from scadgen.strength import anyform, loop, prying
from scadgen.strength.carried import Carrier, Cut, Force, Lever
from scadgen.strength.duty import Duty
from scadgen.strength.filling import in_bending
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength, Told
from scadgen.text.numbers import digits
from scadgen.trees.expr import cos, let, maximum, minimum, sin, sqrt, where
from scadgen.trees.solid import Shape, choose, circle, part, polygon, rectangle

if TYPE_CHECKING:
    from scadgen.mechanism.mechanism import Mechanism

#: From this turn on, degrees, what lies half a turn from the tip of a heel is nearer to x.
FAR_ROUND = 135
#: The strength of the heel, by name.
BENT = "heel of the stop"


@dataclass(frozen=True, kw_only=True)
class Heeled(HalfShut):
    """A pivot about the z axis that may have a stop of its opening, counted from shut."""

    opens_to: float = deg(0, 0, 175, 5, "Part", "Opening, from shut, that a heel stops; 0: none")

    @derived
    def farthest_back(self) -> float:
        """A leaf without a heel may stand so far back, and never farther"""
        return 100

    @derived
    def opened(self) -> float:
        """Turn at which the heel stops the opening, from flat"""
        return 180 - self.opens_to

    @derived
    def least_turn(self) -> float:
        """Other end of its swing: heel, or as it folds"""
        return where(self.opens_to > 0, self.opened, self.backmost)

    def lowest(self) -> float:
        return self.least_turn

    def drawn_from(self) -> float:
        return where(self.opens_to > 0, self.opened + 1, self.backmost)

    @derived
    def back(self) -> float:
        """From the axis back to the plane of a leaf's outer face"""
        return self.setback + self.leaf_thickness / 2

    @derived
    def heel_end(self) -> float:
        """From the axis to the far side of the heel: it meets the leaf over that one's thickness"""
        far = self.reach + self.leaf_thickness
        return sqrt(self.back * self.back + far * far)

    def around(self) -> tuple[float, float, float]:
        """The heel's reach, its tip whole: the leaf that meets it takes the tip's corner."""
        up = self.heel_end * anyform.sin(anyform.minimum(self.opened, 90))
        right, front, behind = super().around()
        heeled = self.opens_to > 0
        right = cast(float, anyform.where(heeled, self.heel_end, right))
        front = cast(float, anyform.where(heeled, -self.heel_end, front))
        behind = cast(float, anyform.where(heeled, anyform.maximum(up, behind), behind))
        return right, front, behind

    def rules(self) -> Iterable[Rule]:
        heeled = self.opens_to > 0
        near = where(heeled, self.reach - self.leaf_thickness / 2, self.farthest_back)
        why = "or its heel would be thicker than the knuckles"
        yield at_most(self.setback, near, why, Serves.STRENGTH)
        short = where(heeled, self.opened + self.short_of_stop, 0)
        why = "or it prints past its heel, or joined with it"
        yield at_least(self.printed_at, short, why, Serves.PRINTING)
        yield from super().rules()
        room = where(heeled, self.heel_end + self.clearance - self.reach + self.leaf_corner, 0)
        yield at_least(self.leaf_length, room, "or the heel has no leaf to meet", Serves.MOTION)
        screwed = heeled & (self.screw > 0)
        beyond = where(screwed, 2 * (self.heel_end - self.reach) + self.seat, 0)
        yield at_least(self.leaf_length, beyond, "or the heel covers the screws", Serves.MOTION)

    def meets(self) -> Iterable[Click | Stop]:
        yield from super().meets()
        yield Stop(HEEL, self.opens_to > 0, self.reach, self.stop_in_layers)

    def printed_gaps(self) -> Iterable[Gap]:
        yield from super().printed_gaps()
        yield self.printed_gap("before the heel", self.heel_way)

    @derived
    def heel_way(self) -> float:
        """At least the way from the heel to the moving leaf as it prints"""
        left = minimum(maximum(self.printed_at - self.opened, 0), 90)
        return where(self.opens_to > 0, self.reach * sin(left), self.reach)

    def stops(self) -> Shape:
        heel = choose(self.opens_to > 0, self.extruded_along(self.heel_outline()))
        return super().stops() + heel

    def stops_pass(self) -> Shape:
        heel = circle((self.heel_end + self.clearance) * self.rim)
        return super().stops_pass() + choose(self.opens_to > 0, self.relieved_along(heel))

    @part
    def heel_outline(self) -> Shape:
        """Heel behind the knuckles, from leaf to leaf."""
        far = let("far", 2 * self.heel_end, "beyond the heel")
        amid = let("amid", (180 + self.opened) / 2, "direction half-way between the leaves")
        rays = ((far * cos(turn), far * sin(turn)) for turn in (self.opened, amid))
        between = polygon((0, 0), *rays, (-far, 0))
        moving = rectangle(far, self.back + self.reach / 2).at(y=-self.back).turned(z=self.opened)
        over = rectangle(far, self.join - self.face).at(-far, self.face)
        ring = circle(self.heel_end) - circle(self.reach * self.rim)
        return ring - between - moving - choose(self.face < 0, over)

    def drawn_flat(self) -> Mechanism:
        """Flat it lies beyond its heel, which is left out."""
        if not self.opens_to:
            return super().drawn_flat()
        return replace(self, opens_to=0, printed_at=0, angle=0).mechanism()

    def heel_meets(self) -> float:
        return self.opened if self.opens_to else 0

    def stop_words(self) -> str:
        words = super().stop_words()
        if not self.opens_to:
            return words
        return f"{words}; a heel meets the leaf {digits(self.opens_to)} deg from shut"

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        import numpy as np

        if np.any(self.opens_to > 0):
            yield self.heel_strength(duty, plastic)
        yield from super().strengths(duty, plastic)

    def heel_strength(self, duty: Duty, plastic: Plastic) -> Strength:
        """The heel, pushed at its tip by a load that would open the hinge further.

        It is bent most half a turn from there, by the force times its way from that section, and so
        that it straightens, as a ring does a quarter turn from where it is pulled.
        """
        wall, middle = self.heel_end - self.reach, (self.heel_end + self.reach) / 2
        force = prying.web_pull(duty.load, duty.lever, self.reach)
        moment = force * (self.reach + middle)
        # A thin ring that is pulled across is straightened by so much of its pull times its radius.
        straightened = 1 / 2 - 1 / math.pi
        pull = anyform.where(self.opens_to > 0, moment / (straightened * middle), 0)
        ring = loop.thick_ring_stress(pull, 2 * self.heel_end, 2 * self.reach, self.leaf_width)
        told = Told(duty, plastic)
        return told.stress(BENT, ring, in_bending(wall), loop, "a thicker leaf")

    def carriers(self) -> Iterable[Carrier]:
        if self.opens_to:
            wall, high = self.heel_end - self.reach, self.leaf_width / 2
            middle, window = (self.heel_end + self.reach) / 2, (wall, wall, 2 * high)
            behind = Cut("fixed", (0, -middle, high), "x", window)
            if self.opened > FAR_ROUND:  # half a turn from the tip is nearer to x
                behind = Cut("fixed", (middle, 0, high), "y", window)
            turn = math.radians(self.opened)
            tip = (self.reach * math.cos(turn), self.reach * math.sin(turn), high)
            push = Force("load", tip, "xy", over=Lever(0, self.reach, 1))
            yield Carrier(BENT, "normal", (behind,), (push,))
        yield from super().carriers()
