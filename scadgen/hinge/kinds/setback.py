"""Standing leaves set back from the axis, so that they fold face to face."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import ClassVar

from scadgen.hinge.family import deg, derived, mm
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.shapes import bore_outline, standing
from scadgen.strength import anyform, leaf, notch
from scadgen.strength import arm as arms
from scadgen.strength.carried import Carrier, Cut, Force, Tube
from scadgen.strength.duty import Duty
from scadgen.strength.filling import in_bending
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength, Told
from scadgen.trees.expr import atan, maximum, minimum, where
from scadgen.trees.solid import Shape, choose, circle, part, polygon, rectangle

#: The web is cut so far into the leaf's side of it, as a share of its length.
FAR_SIDE = 0.9


@dataclass(frozen=True, kw_only=True)
class SetBack(Pivot):
    """A pivot about the z axis whose leaves stand in its plane, or behind it, towards -y.

    Arms stand as far behind the axis as folding shut needs, and no further; a leaf that stands
    further back is joined to them by a web, as high and as thick as itself.
    """

    meeting: ClassVar[str] = "or the leaves meet before: a setback lets them fold further"

    angle: float = deg(0, -190, 190, 1, "Part", "Angle drawn; 0 is how it prints")
    swing: float = deg(110, 10, 190, 5, "Part", "Turn that the hinge must be free for")
    stop_at: float = deg(0, 0, 185, 5, "Part", "Turn that flat faces stop; 0 for no such stop")
    setback: float = mm(
        0, 0, 100, 0.5, "Leaves", "From the axis back to the middle of a leaf; 0: in its plane"
    )

    @derived
    def widest(self) -> float:
        """Widest turn that may be asked for: a little more than half a turn"""
        return 190

    @derived
    def beyond(self) -> float:
        """How far back arms are that fold past half a turn"""
        return self.leaf_thickness / 2 + 2 * self.clearance

    @derived
    def aside(self) -> float:
        """How far the arms are set back"""
        return minimum(self.setback, self.beyond)

    @derived
    def face(self) -> float:
        """From the axis to the plane of a leaf's inner face"""
        return self.leaf_thickness / 2 - self.setback

    @derived
    def arm_face(self) -> float:
        """From the axis to the plane of the arms' inner face"""
        return self.leaf_thickness / 2 - self.aside

    @property
    def stop_face(self) -> float:
        return self.arm_face

    @property
    def cranked(self) -> bool:
        """Whether a web joins a leaf to its arms."""
        return self.setback > self.aside

    @derived
    def stop(self) -> float:
        """Turn at which the leaves would meet, less the gap"""
        far = (self.face + self.clearance) / self.leaf_end
        return 180 - 2 * atan(maximum(self.overlap / self.meets_at, far))

    @derived
    def overlap(self) -> float:
        """Arms' reach over the axis with the gap; below 0 they fold shut"""
        return self.arm_face + self.clearance

    @derived
    def meets_at(self) -> float:
        """Where arms meet, or the webs behind"""
        return where(self.overlap > 0, self.reach, self.reach + self.leaf_thickness)

    @derived
    def backmost(self) -> float:
        """Other end of its swing: set back, it folds one way only"""
        return where(self.setback > 0, 0, -self.swing)

    def lowest(self) -> float:
        return self.backmost

    @property
    def farthest(self) -> float:
        return super().farthest + self.setback

    @classmethod
    def free_fields(cls) -> tuple[str, ...]:
        return tuple(name for name in super().free_fields() if name != "setback")

    def figures(self) -> dict[str, float]:
        shut = {"between the leaves, folded shut (mm)": -2 * self.face}
        return super().figures() | (shut if self.face < 0 else {})

    def bulk(self) -> float:
        crank = self.setback - self.aside
        return super().bulk() + 2 * crank * self.leaf_thickness * self.leaf_width

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        import numpy as np

        if np.any(self.cranked):
            yield self.web_strength(duty, plastic)
        yield from super().strengths(duty, plastic)

    def web_strength(self, duty: Duty, plastic: Plastic) -> Strength:
        """The web of a leaf that is set back; where there is none, nothing is loaded.

        A load in any direction bends it, a pull twists it, and what acts beside the middle bends
        it along its height. What acts nearer to the axis does not pass it.
        """
        told = Told(duty, plastic)
        thick, high, crank = self.leaf_thickness, self.leaf_width, self.setback - self.aside
        way = self.reach + thick / 2
        out = anyform.maximum(duty.lever - way, 0)
        corner = notch.factor(self.line_width, thick)
        load = anyform.where(out > 0, duty.load, 0)
        pull = anyform.where(duty.pull_lever > way, duty.pull, 0)
        moment = load * anyform.sqrt(out * out + crank * crank)
        along = load * duty.offset + pull * crank
        bent = corner * leaf.root_stress(moment, high, thick) + leaf.root_stress(along, thick, high)
        torque = pull * (duty.pull_lever - way)
        twisted = arms.twisting(torque, high, thick)
        both = arms.together(bent, twisted, 1 / plastic.layer_share)
        there = anyform.where(crank > 0, both, 0)
        name, change = "web of a leaf set back", "a thicker leaf"
        return told.stress(name, there, in_bending(thick), leaf, change)

    def carriers(self) -> Iterable[Carrier]:
        if self.cranked:
            back = self.aside + FAR_SIDE * (self.setback - self.aside)
            corner = float(notch.factor(self.line_width, self.leaf_thickness))
            middle = (self.reach + self.leaf_thickness / 2, -back, self.leaf_width / 2)
            beside = (self.leaf_thickness, math.inf, math.inf)  # no leaf
            web = Cut("moving", middle, "y", beside)
            forces = (replace(self.leaf_load(), along="xy"), self.leaf_pull())
            yield Carrier("web of a leaf set back", "both", (web,), forces, peak=corner)
        yield from super().carriers()

    def leaf_cut(self, way: float) -> Cut:
        middle = (way, -self.setback, self.leaf_width / 2)
        beside = (math.inf, self.leaf_thickness, math.inf)  # no web
        return Cut("moving", middle, "x", beside, whole=True)

    def leaf_load(self) -> Force:
        at = (0, -self.setback, self.leaf_width / 2)
        return Force("load", at, "y", out="x", beside="z")

    def leaf_pull(self) -> Force:
        return Force("pull", (0, -self.setback, self.leaf_width / 2), "z", out="x")

    def screw_tube(self, height: float) -> Tube:
        row = (self.reach + self.leaf_span / 2, -self.setback, self.screw_pitch / 2)
        return Tube("moving", row, "y", self.sink * self.rim, height)

    def pins(self) -> Shape:
        """A pin as wide as its hole through each hole of the moving leaf, drawn flat."""
        pins = standing(self.at_screws(circle(self.hole / 2)), 2 * self.leaf_thickness)
        return pins.at(y=-self.setback)

    def round_hole(self, radius: float) -> Shape:
        return bore_outline(radius, self.rim)

    @part
    def leaf_with(self, arms: Shape) -> Shape:
        """Leaf and the arms that join it to its knuckles."""
        sinks = self.countersinks().turned(x=-90).at(y=self.face, z=self.leaf_width)
        return self.sunk(self.plate_with(arms), sinks)

    @part
    def plate_with(self, arms: Shape) -> Shape:
        """Leaf and arms, in one plane or a web between them."""
        thick, crank = self.leaf_thickness, self.setback - self.aside
        plate = self.drilled(self.leaf_outline())
        plane = standing(plate + arms, thick).at(y=-self.aside)
        apart = standing(plate, thick).at(y=-self.setback) + standing(arms, thick).at(y=-self.aside)
        web = standing(self.web_outline(), thick + crank).at(y=-(self.setback + self.aside) / 2)
        return choose(self.cranked, apart + web, plane)

    @part
    def web_outline(self) -> Shape:
        """Web in side view: inner edge chamfered as the leaf's."""
        far = self.reach + self.leaf_thickness
        return polygon(
            (self.reach + self.foot, 0),
            (far, 0),
            (far, self.leaf_width),
            (self.reach, self.leaf_width),
            (self.reach, self.foot),
        )

    @part
    def leaf_outline(self) -> Shape:
        """Leaf in side view: chamfered at the bed, upper free corner rounded."""
        round_x, round_y = self.leaf_end - self.corner, self.leaf_width - self.corner
        plate = polygon(
            (self.reach + self.foot, 0),
            (self.leaf_end, 0),
            (self.leaf_end, round_y),
            (round_x, self.leaf_width),
            (self.reach, self.leaf_width),
            (self.reach, self.foot),
        )
        return plate + choose(self.corner > 0, circle(self.corner).at(round_x, round_y))

    @part
    def leaf_room(self) -> Shape:
        """Leaf, arms and room."""
        behind = self.setback + self.leaf_thickness / 2 + self.room
        width = behind + self.arm_face + self.room
        return rectangle(self.leaf_end + self.room, width).at(y=-behind)
