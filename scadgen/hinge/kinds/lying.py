"""Pivots that lie: the axis is parallel to x, and both leaves lie flat on the bed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar, cast

from scadgen.hinge.exported import Export
from scadgen.hinge.family import count, derived, mm
from scadgen.hinge.gaps import Gap
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.rules import Rule, Serves, at_least, at_most
from scadgen.hinge.shapes import OCTANT, along_x, knuckle_outline, standing, swept, tooth
from scadgen.strength import anyform, giving, leaf, notch, prying
from scadgen.strength import arm as arms
from scadgen.strength.carried import Carrier, Cut, Force, Point, Tube, pried, tilting
from scadgen.strength.duty import Duty
from scadgen.strength.filling import in_bending
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength, Told, stiffness
from scadgen.trees.expr import atan, cos, let, maximum, sqrt, where
from scadgen.trees.solid import Shape, choose, circle, each, extrude, hull, part, rectangle

#: How many times what its section says may be told of a low knuckle: a loop, reckoned half as deep.
LOOPED = 1.1


@dataclass(frozen=True, kw_only=True)
class LyingPivot(Pivot):
    """A pivot about a line parallel to x. Its knuckles stand flat-footed, the links taking turns.

    Outlines across the axis are drawn in y and z, the axis at the origin.
    """

    posture: ClassVar[str] = "lying: axis parallel to the bed, both leaves flat on it"
    along: ClassVar[str] = "length"
    stop_in_layers = True

    length: float = mm(40, 10, 200, 0.5, "Size", "Length of the hinge along its axis")
    knuckles: int = count(
        2, 1, 12, "Size", "Knuckles of the moving link; the fixed link has one more"
    )

    axis_height: float = mm(
        0, 0, 150, 0.5, "Size", "Height of the axis over the bed; 0: as low as it can be"
    )

    backing: float = mm(
        0, 0, 150, 0.5, "Size", "Height of your wall that carries raised knuckles; 0: leaf alone"
    )

    @derived
    def foot_height(self) -> float:
        """Height of a knuckle's foot, to leaf or backing"""
        return maximum(self.leaf_thickness, self.backing)

    @derived
    def axis_at(self) -> float:
        """Height of the axis: half of wall plus lid"""
        return where(self.raised, self.axis_height, self.radius)

    @classmethod
    def free_fields(cls) -> tuple[str, ...]:
        box = ("axis_height", "backing")  # those of a box that is drawn already
        return tuple(name for name in super().free_fields() if name not in box)

    @property
    def raised(self) -> bool:
        """Whether the knuckles stand on straight walls, under an axis that is higher."""
        return self.axis_height > 0

    @property
    def walled(self) -> bool:
        """Whether a straight wall, and no loop, is right above the foot of a knuckle."""
        return self.raised & (self.foot_height <= self.axis_at - self.radius)

    @derived
    def side_gap(self) -> float:
        """Air gap between the sides of neighbouring knuckles"""
        raise NotImplementedError

    @derived
    def top(self) -> float:
        """Height of a knuckle's top"""
        # A narrower top may come out as one line, whose round ends reach the next knuckle.
        inner = self.radius / self.rim
        return sqrt(inner * inner - self.line_width * self.line_width)

    @derived
    def leaf_width(self) -> float:
        """Width of a leaf, along the axis"""
        return self.length

    @derived
    def face(self) -> float:
        """From the axis up to the plane of a leaf's inner face"""
        return self.leaf_thickness - self.axis_at

    @derived
    def knuckle(self) -> float:
        """Width of a knuckle"""
        return (self.length - 2 * self.knuckles * self.side_gap) / (2 * self.knuckles + 1)

    @derived
    def pitch(self) -> float:
        """From one knuckle to the next, of the other link"""
        return self.knuckle + self.side_gap

    @derived
    def reach(self) -> float:
        """From axis to leaves, clear of all knuckles"""
        return self.radius / cos(OCTANT) + self.clearance + self.play

    @derived
    def stop(self) -> float:
        """Turn at which the leaves would meet, less the gap"""
        above = self.leaf_thickness + self.clearance - self.axis_at
        return 180 - 2 * atan(above / self.reach)

    def figures(self) -> dict[str, float]:
        play = {"play along the axis, each way (mm)": self.side_gap}
        return super().figures() | play | {"wall and lid together, to close (mm)": 2 * self.axis_at}

    def exported(self) -> Iterable[Export]:
        height = "Height of the axis: half as high as wall and lid together (mm)"
        yield Export("axis_height", self.axis_at, height)
        yield from super().exported()

    def taken(self) -> float:
        return self.length + 2 * self.side_gap

    def lowest(self) -> float:
        return 0

    @property
    def farthest(self) -> float:
        return self.leaf_end + self.axis_at + self.clearance

    def shortest(self, knuckle: float) -> float:
        """Length of a hinge whose knuckles are so wide."""
        return (2 * self.knuckles + 1) * knuckle + 2 * self.knuckles * self.side_gap

    def rules(self) -> Iterable[Rule]:
        why = "or the leaf is thicker than the knuckle is high"
        yield at_most(self.leaf_thickness, 2 * self.radius, why, Serves.MOTION)
        lowest = where(self.raised, self.radius, 0)
        why = "or its knuckles would reach below the bed"
        yield at_least(self.axis_height, lowest, why)
        walled = where(self.raised, self.axis_height, 0)
        why = "or your wall would reach over the axis, or carry nothing"
        yield at_most(self.backing, walled, why, Serves.STRENGTH)
        most = where(self.raised, 0, 180)
        yield at_most(
            self.stop_at, most, "or it has a stop and walls that raise the axis", Serves.MOTION
        )
        yield from super().rules()

    def alone(self, duty: Duty) -> float:
        """Moment that tilts a moving link of one knuckle, which holds it alone (N mm)."""
        return cast(float, anyform.where(self.knuckles > 1, 0, duty.tilt))

    def beside(self, duty: Duty) -> float:
        """Force on the outermost of several knuckles, from what tilts the moving link (N)."""
        apart = 2 * anyform.maximum(self.knuckles - 1, 1) * self.pitch
        tilt = anyform.where(self.knuckles > 1, duty.tilt, 0)
        return cast(float, prying.tilting_force(tilt, apart))

    def knuckle_strengths(
        self, force: float, pull: float, duty: Duty, plastic: Plastic
    ) -> Iterable[Strength]:
        """A knuckle under a force on it, square to the axis, and one along it (N).

        One that is alone holds what tilts the moving link, too. Its foot bends and twists where it
        meets the leaf; above it it may be pushed over. There its section is that of its walls;
        without these it counts as no longer, square to the axis, than its radius (assumed).
        """
        told, thick = Told(duty, plastic), self.foot_height
        high = self.axis_at - thick / 2
        reach = anyform.sqrt(self.reach * self.reach + high * high)
        # Where the foot meets the knuckle and the leaf its upper side has a corner.
        turned = notch.factor(self.line_width, thick) * force * reach
        bent = arms.bending(turned, 0, pull * self.reach, self.knuckle, thick)
        sheared = arms.twisting(pull * abs(high), self.knuckle, thick)
        tilt, weak = self.alone(duty), 1 / plastic.layer_share
        both = arms.tilted(bent, sheared, tilt, self.knuckle, thick, weak)
        section, change = in_bending(thick, self.knuckle), "a thicker leaf or more backing"
        yield told.stress("foot of a knuckle", both, section, arms, change)
        arm = anyform.maximum(self.axis_at - thick, 0)
        deep = anyform.where(self.walled, 2, 1) * self.radius
        over = leaf.bending_stress(pull, arm, deep, self.knuckle)
        free = anyform.where(arm > 0, tilt, 0)  # else the foot holds it all along its height
        over = over + leaf.root_stress(free, deep, self.knuckle)
        leant = anyform.where(self.walled, force, 0)  # low ones are loops, which are told apart
        over = over + leaf.bending_stress(leant, arm, self.knuckle, deep)
        section, name = in_bending(self.knuckle, deep), "knuckle pushed over"
        yield told.stress(name, over, section, leaf, "more length", across=True)

    def knuckle_gives(self, force: float, told: Told) -> float:
        """How far a knuckle gives way at the axis, along it, under a force (N).

        Its foot bends in the leaf's plane and twists; above it the knuckle bends as a bar.
        """
        thick = self.foot_height
        solid = in_bending(thick, self.knuckle).share(told.plastic.filling)
        soft = solid * stiffness(told.plastic, told.duty)
        foot = giving.bar_end(force, self.reach, self.knuckle, thick, soft)
        high = anyform.maximum(self.axis_at - thick / 2, 0)
        turn = giving.bar_twist(force * high, self.reach, self.knuckle, thick, soft)
        arm = anyform.maximum(self.axis_at - thick, 0)
        above = giving.bar_end(force, arm, self.knuckle, self.radius, soft)
        return cast(float, foot + turn * high + above)

    def leaf_cut(self, way: float) -> Cut:
        return Cut("moving", (0, way, self.leaf_thickness / 2), "y", whole=True)

    def leaf_load(self) -> Force:
        return Force("load", (0, 0, self.leaf_thickness / 2), "z", out="y", beside="x")

    def leaf_pull(self) -> Force:
        return Force("pull", (0, 0, self.leaf_thickness / 2), "x", out="y")

    def screw_tube(self, height: float) -> Tube:
        row = ((self.length - self.screw_pitch) / 2, self.reach + self.leaf_span / 2, height / 2)
        return Tube("moving", row, "z", self.sink * self.rim, height)

    @property
    def first(self) -> float:
        """Where the middle of the moving link's first knuckle is, along the axis."""
        return self.pitch + (self.knuckle - self.length) / 2

    def bearing_at(self, way: float, share: float = 1.0, along: str = "yz") -> Force:
        """A share of the force on the bearing, at a place along the axis."""
        return pried(self.heel, (way, 0, self.axis_at), along, share)

    def tilt_on_knuckle(self) -> tuple[Force, ...]:
        """What the tilt asks of the first knuckle: alone, or beside others."""
        at = (self.first, 0.0, self.axis_at)
        if self.knuckles == 1:
            return tilting(at, "x", "yz")
        return (Force("tilt", at, "yz", 1 / (2 * (self.knuckles - 1) * self.pitch)),)

    def knuckle_carriers(self, *loads: Force) -> Iterable[Carrier]:
        """The same places of the first knuckle: what acts on it, at the axis."""
        tilt = self.tilt_on_knuckle()
        forces = (*loads, *tilt)
        at = (self.first, self.reach - self.join, self.foot_height / 2)
        corner = float(notch.factor(self.line_width, self.foot_height))
        foot = Cut("moving", at, "y")
        yield Carrier("foot of a knuckle", "both", (foot,), forces, peak=corner)
        above = (self.first, 0.0, self.foot_height + self.join)
        free = self.axis_at > self.foot_height  # else what acts at the axis acts on the foot
        turns = tilt if self.knuckles == 1 or self.walled else ()
        pushed = (force for force in loads if self.walled or force.along == "x")
        over = (*pushed, *turns) if free else ()
        peak = 1.0 if self.walled else LOOPED
        cut = Cut("moving", above, "z")
        yield Carrier("knuckle pushed over", "normal", (cut,), over, peak=peak)

    def gaps(self) -> Iterable[Gap]:
        yield from super().gaps()
        yield Gap("between the knuckles", self.side_gap, bed=(self.foot, self.foot))
        yield Gap("beside the leaf", self.reach - self.radius)

    def extents(self) -> tuple[float, float, float]:
        return self.length, 2 * self.leaf_end, self.axis_at + self.top

    def axis(self) -> tuple[Point, Point]:
        return (0, 0, self.axis_at), (1, 0, 0)

    @part
    def posed(self, shape: Shape) -> Shape:
        """What moves, turned about the axis."""
        return shape.at(z=-self.axis_at).turned(x=self.angle).at(z=self.axis_at)

    @part
    def fixed_knuckles(self, outline: Shape) -> Shape:
        """Knuckles of the fixed link, where they stand."""
        windows = each("i", self.knuckles + 1, lambda i: self.window().at(x=2 * i * self.pitch))
        return self.combed(outline, windows)

    @part
    def moving_knuckles(self, outline: Shape) -> Shape:
        """Knuckles of the moving link, where they stand."""
        windows = each("i", self.knuckles, lambda i: self.window().at(x=(2 * i + 1) * self.pitch))
        return self.combed(outline, windows)

    def combed(self, outline: Shape, windows: Shape) -> Shape:
        """The outline along the whole axis, kept where the windows are."""
        bar = along_x(outline, self.length).at(z=self.axis_at)
        return bar & standing(windows, 2 * self.leaf_end).at(x=-self.length / 2)

    @part
    def window(self) -> Shape:
        """Window for one knuckle."""
        return tooth(self.knuckle, self.axis_at + self.radius + 1, self.foot)

    @part
    def footed_outline(self) -> Shape:
        """Knuckle across the axis, with its foot to the moving leaf."""
        foot = rectangle(self.reach + self.join, self.foot_height).at(y=-self.axis_at)
        walls = rectangle(2 * self.radius, self.axis_at).at(-self.radius, -self.axis_at)
        return knuckle_outline(self.radius, self.top) + choose(self.raised, walls) + foot

    def extruded_along(self, outline: Shape) -> Shape:
        return along_x(outline, self.length).at(z=self.axis_at)

    def relieved_along(self, outline: Shape) -> Shape:
        return along_x(outline, self.taken()).at(z=self.axis_at)

    def round_hole(self, radius: float) -> Shape:
        return circle(radius * self.rim)

    def screw_pins(self) -> Shape:
        pins = extrude(self.at_screws(circle(self.hole / 2)), 2 * self.leaf_thickness)
        placed = pins.at(z=-self.leaf_thickness / 2).turned(z=90).at(x=self.length / 2)
        return placed + placed.mirrored(y=1)

    @derived
    def stop_start(self) -> float:
        """From axis to a stop's face"""
        return where(self.stop_at > 0, self.climb / (self.stop_rise - self.stop_run), self.reach)

    @derived
    def stop_end(self) -> float:
        """From axis to its far side"""
        return maximum(self.stop_start, self.reach) + maximum(self.leaf_thickness, self.thinnest)

    @derived
    def stop_corner(self) -> float:
        """From axis to its corner"""
        return self.stop_end / where(self.stop_at > 0, cos((180 - self.stop_at) / 2), 1)

    @derived
    def climb(self) -> float:
        """How far out a climb of 45 degrees over the knuckles passes the moving leaf's face"""
        return sqrt(2) * self.reach - self.face * (self.stop_rise + self.stop_run)

    def stop_room(self) -> Shape:
        climb = rectangle(2 * self.stop_end, self.reach * self.rim).turned(z=45)
        return super().stop_room() + climb

    @derived
    def least_stop(self) -> float:
        """Least turn that a stop may end, or it would reach over the knuckles"""
        return 90

    @part
    def leaf(self) -> Shape:
        """Moving leaf."""
        leaf = extrude(self.drilled(self.leaf_plan()), self.leaf_thickness)
        flat = self.sunk(leaf, self.countersinks().at(z=self.leaf_thickness))
        return flat.turned(z=90).at(x=self.length / 2)

    @part
    def leaf_plan(self) -> Shape:
        """Leaf drawn flat, its free corners rounded: x from the axis, y along it."""
        plate = rectangle(self.leaf_span - self.corner, self.length).at(x=self.reach)
        round_, x = circle(self.corner), self.leaf_end - self.corner
        corners = hull(round_.at(x, self.corner), round_.at(x, self.length - self.corner))
        return plate + choose(self.corner > 0, corners)

    def fixed_relief(self) -> Shape:
        return self.relief()

    def moving_relief(self) -> Shape:
        return self.relief().mirrored(y=1)

    @part
    def relief(self) -> Shape:
        """Room for one link on its way up: subtract it from the other side's body."""
        sector = swept(self.leaf_room(), 0, self.stride, self.sweeps)
        walls = choose(self.raised, swept(self.wall_room(), 0, self.stride, self.sweeps))
        return self.relieved_along(circle(self.reach * self.rim) + sector + walls)

    @part
    def wall_room(self) -> Shape:
        """Walls and room."""
        near = let("near", self.radius + self.room, "room beside the walls, towards the other side")
        end = where(self.backing > 0, self.reach + self.join, self.radius)
        far = let("far", end + self.room, "room beside them, over the foot")
        low = let("low", -self.axis_at - self.room, "room below them")
        return rectangle(near + far, self.room - low).at(-near, low)

    @part
    def leaf_room(self) -> Shape:
        """Leaf seen along the axis, with room around it."""
        room = rectangle(self.leaf_end + self.room, self.leaf_thickness + 2 * self.room)
        return room.at(y=-self.axis_at - self.room)

    @derived
    def end_play(self) -> float:
        """Way along the axis, each way, until the links touch"""
        return self.side_gap

    @derived
    def engaged(self) -> float:
        """From the near side of the first moving knuckle to the far side of the last"""
        return 2 * (self.knuckles - 1) * self.pitch + self.knuckle
