"""What the leaves of all pivots share: size, free corners, holes for screws."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import ClassVar, cast

from scadgen.hinge.drilled import Drilled
from scadgen.hinge.family import Hinge, choice, count, derived, mm
from scadgen.hinge.rules import Rule, at_least
from scadgen.strength import anyform, leaf, prying
from scadgen.strength import arm as arms
from scadgen.strength.carried import Carrier, Cut, Force, Lever, Tube
from scadgen.strength.duty import Duty
from scadgen.strength.filling import in_bending, in_tension
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength, Told
from scadgen.trees.expr import maximum, minimum, table, where
from scadgen.trees.solid import Shape, choose, each, extrude, hull, part

# Source: ISO 273, clearance holes for bolts and screws (values from memory).
CLEARANCE_HOLES = table(
    "clearance_holes",
    "ISO 273: M3, M4, M5",
    (3.2, 3.4, 3.6),
    (4.3, 4.5, 4.8),
    (5.3, 5.5, 5.8),
)
# Source: ISO 10642, theoretical head diameter; wood screws: DIN 97 (values from memory).
HEADS = table(
    "heads",
    "ISO 10642, flat-head wood screws: M3, M4, M5",
    (6.72, 5.6),
    (8.96, 7.5),
    (11.2, 9.2),
)


@dataclass(frozen=True, kw_only=True)
class Leaves(Hinge):
    """Leaves of a hinge: plain stubs, plates, or plates with holes for screws.

    The holes stand in a row half-way along the leaf, countersunk on the leaf's inner face.
    """

    stretched: ClassVar[str] = "leaf_thickness"

    leaf_length: float = mm(15, 0, 100, 0.5, "Leaves", "Length of a leaf; 0 leaves a plain stub")
    leaf_thickness: float = mm(4, 1.2, 12, 0.2, "Leaves", "Thickness of a leaf")
    leaf_corner: float = mm(2, 0, 20, 0.5, "Leaves", "Radius of a leaf's free corners; 0: square")
    screw: int = choice(0, ("none", "M3", "M4", "M5"), "Leaves", "Screws that hold a leaf")
    screws: int = count(2, 1, 8, "Leaves", "Screws in a leaf, if any")
    hole_series: int = choice(
        1, ("fine", "medium", "coarse"), "Leaves", "Series of the clearance holes (ISO 273)"
    )
    head: int = choice(
        1, ("not sunk", "ISO 10642", "wood screw"), "Leaves", "Countersink for a flat head"
    )

    @derived
    def reach(self) -> float:
        """From the axis to the leaves, clear of all knuckles"""
        raise NotImplementedError

    @derived
    def leaf_width(self) -> float:
        """Width of a leaf, along the axis"""
        raise NotImplementedError

    @derived
    def leaf_span(self) -> float:
        """A leaf is at least a stub as long as thick"""
        return maximum(self.leaf_length, self.leaf_thickness)

    @derived
    def leaf_end(self) -> float:
        """From the axis to the far end of a leaf"""
        return self.reach + self.leaf_span

    @derived
    def corner(self) -> float:
        """Radius of free corners that fit the leaf"""
        return minimum(self.leaf_corner, self.leaf_span / 2, self.leaf_width / 2)

    @derived
    def hole(self) -> float:
        """Diameter of a screw hole"""
        return CLEARANCE_HOLES(maximum(self.screw - 1, 0), self.hole_series)

    @derived
    def sink(self) -> float:
        """Diameter of the countersink at the leaf's surface"""
        heads = HEADS(maximum(self.screw - 1, 0), maximum(self.head - 1, 0))
        sunk = (self.screw > 0) & (self.head > 0)
        return where(sunk, maximum(heads, self.hole), self.hole)

    @derived
    def spread(self) -> float:
        """Holes stand so many of their diameters apart (common practice, no source)"""
        return 3

    @derived
    def seat(self) -> float:
        """Room for a screw: 1 mm around its head"""
        return where(self.screw > 0, maximum(self.spread * self.hole, self.sink + 2), 0)

    @derived
    def screw_pitch(self) -> float:
        """From one screw to the next"""
        return self.leaf_width / self.screws

    def bulk(self) -> float:
        return 2 * self.leaf_span * self.leaf_thickness * self.leaf_width

    @classmethod
    def free_fields(cls) -> tuple[str, ...]:
        return (*super().free_fields(), "leaf_thickness")

    @classmethod
    def free_beside(cls, fixed: Mapping[str, float]) -> tuple[str, ...]:
        """A leaf that screws hold is as long as they and the duty need."""
        free = super().free_beside(fixed)
        screwed = fixed.get("screw", 0) > 0 and "leaf_length" not in fixed
        return (*free, "leaf_length") if screwed else free

    @property
    def heel(self) -> float:
        """From the axis to where the moving part leans on the fixed one at the end of its turn."""
        return self.reach

    def drilled_holes(self) -> Drilled | None:
        if not self.screw:
            return None
        plain = dataclasses.replace(self, screw=0)
        return Drilled(self.screw_pins(), int(self.screws), self.hole, plain)

    def cautions(self) -> dict[str, str]:
        screws = {"Screws": leaf.SCREW_CAUTION} if self.screw else {}
        return super().cautions() | screws

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        import numpy as np

        told = Told(duty, plastic)
        moment = prying.leaf_moment(duty.load, duty.lever, self.heel)
        bent = leaf.root_stress(moment, self.leaf_width, self.leaf_thickness)
        both = self.tilted(bent, self.heel, self.leaf_width, duty, plastic)
        yield told.stress(
            "leaf in bending", both, in_bending(self.leaf_thickness), leaf, "a thicker leaf"
        )
        if np.any(self.screw > 0):
            yield from self.screw_strengths(duty, plastic)

    def tilted(self, bent: float, way: float, width: float, duty: Duty, plastic: Plastic) -> float:
        """Stress in a section of the leaf that a load bends (MPa), with what tilts the leaf.

        ``way`` from the axis, so ``width`` without its holes. What acts further out counts: a load
        beside the middle twists the leaf, a pull at a lever bends it in its plane.
        """
        lever = anyform.maximum(duty.pull_lever - way, 0)
        aside = leaf.edgewise_stress(duty.pull * lever, self.leaf_width, width, self.leaf_thickness)
        torque = anyform.where(way < duty.lever, duty.load * duty.offset, 0)
        twisted = arms.twisting(torque, width, self.leaf_thickness)
        return cast(float, arms.together(bent + aside, twisted, 1 / plastic.layer_share))

    def leaf_cut(self, way: float) -> Cut:
        """The whole section of the moving leaf, so far from the axis."""
        raise NotImplementedError

    def leaf_load(self) -> Force:
        """A load on the moving leaf, square to its face."""
        raise NotImplementedError

    def leaf_pull(self) -> Force:
        """A pull on the moving leaf, along the axis."""
        raise NotImplementedError

    def screw_tube(self, height: float) -> Tube:
        """The wall through the leaf around the head of its first screw."""
        raise NotImplementedError

    def carriers(self) -> Iterable[Carrier]:
        load, aside = self.leaf_load(), self.leaf_pull()
        root = self.leaf_cut(self.heel + 2 * self.join)
        yield Carrier("leaf in bending", "both", (root,), (load, aside))
        if self.screw > 0:
            row = self.leaf_cut(self.reach + self.leaf_span / 2)
            yield Carrier("leaf between its screws", "both", (row,), (load, aside))
            over = Lever(self.heel, self.leaf_span / 2)
            tube = self.screw_tube(self.leaf_thickness)
            pulled = Force("load", tube.at, tube.axis, 1 / self.screws, over)
            yield Carrier("screw heads pulled through", "shear", (tube,), (pulled,))

    def screw_strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        """What is left of a leaf beside its holes; without screws nothing of it is loaded."""
        told = Told(duty, plastic)
        row = anyform.maximum(self.reach + self.leaf_span / 2, self.heel)
        screwed = anyform.where(self.screw > 0, 1, 0)
        moment = screwed * prying.leaf_moment(duty.load, duty.lever, row)
        left = self.leaf_width - self.screws * self.sink
        bent = leaf.root_stress(moment, left, self.leaf_thickness)
        both = screwed * self.tilted(bent, row, left, duty, plastic)
        yield told.stress(
            "leaf between its screws", both, in_bending(self.leaf_thickness), leaf, "a thicker leaf"
        )
        pry = prying.leaf_moment(duty.load, duty.lever, self.heel) / (self.leaf_span / 2)
        pulled = screwed * pry / self.screws
        cut = leaf.pull_through_shear(pulled, self.sink, self.leaf_thickness)
        name, change = "screw heads pulled through", "a thicker leaf"
        yield told.stress(
            name, cut, in_tension(self.leaf_thickness), leaf, change, shear=True, caution=True
        )

    def rules(self) -> Iterable[Rule]:
        yield at_least(self.leaf_length, self.seat, "or a screw is too near the edge of the leaf")
        sunk = where(self.screw > 0, (self.sink - self.hole) / 2 + 1, 0)
        yield at_least(self.leaf_thickness, sunk, "or a countersunk head goes through the leaf")
        yield from super().rules()

    def round_hole(self, radius: float) -> Shape:
        """Hole around the origin of a leaf drawn flat, as it prints without supports."""
        raise NotImplementedError

    def at_screws(self, shape: Shape) -> Shape:
        """A shape at each screw of a leaf drawn flat."""
        row = each("i", self.screws, lambda i: shape.at(y=(2 * i + 1) * self.screw_pitch / 2))
        return row.at(x=self.reach + self.leaf_span / 2)

    @part
    def screw_holes(self) -> Shape:
        """Holes in a leaf drawn flat: x from the axis, y along it."""
        return self.at_screws(self.round_hole(self.hole / 2))

    @part
    def countersinks(self) -> Shape:
        """Countersinks of 90 degrees."""
        head = extrude(self.round_hole(self.sink / 2), 1)
        shank = extrude(self.round_hole(self.hole / 2), self.join)
        return self.at_screws(hull(head, shank.at(z=(self.hole - self.sink) / 2)))

    def screw_pins(self) -> Shape:
        """A pin as wide as its hole through each hole of both leaves, as they print."""
        raise NotImplementedError

    def drilled(self, outline: Shape) -> Shape:
        """The outline of a leaf drawn flat, less the holes if there are screws."""
        return outline - choose(self.screw > 0, self.screw_holes())

    def sunk(self, leaf: Shape, sinks: Shape) -> Shape:
        """A solid leaf, less the countersinks if it has any."""
        return leaf - choose(self.sink > self.hole, sinks)
