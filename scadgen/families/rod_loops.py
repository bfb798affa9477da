"""The rod in loops: a lying pivot whose rod is printed in place, along the layers."""

from __future__ import annotations

from collections.abc import Iterable

from scadgen.expr import cos, sqrt
from scadgen.family import count, derived, family, mm
from scadgen.kinds import LyingPivot
from scadgen.rules import Rule, at_least, at_most
from scadgen.shapes import (
    OCTANT,
    along_x,
    bore_outline,
    knuckle_outline,
    rod_outline,
    standing,
    tooth,
)
from scadgen.solid import Shape, each, part, rectangle


@family(
    good="strong in every direction square to the rod, whose lines run along it",
    weak="the rod bridges from loop to loop; pulled across its layers a loop or the rod splits",
)
class RodLoops(LyingPivot):
    """Lying hinge: loops of both links take turns on a rod that is printed in place."""

    loops: int = count(2, 1, 12, "Size", "Loops of the moving link; the fixed one has one more")
    rod: float = mm(5, 3, 16, 0.5, "Size", "Diameter of the rod")
    wall: float = mm(2.4, 0.8, 8, 0.1, "Size", "Wall of a loop above the roof of its bore")
    bridge: float = mm(10, 4, 25, 1, "Quality", "Longest bridge that the printers manage")

    @derived
    def bore(self) -> float:
        """Radius of the bore in a loop"""
        return self.rod / 2 + self.clearance

    @derived
    def radius(self) -> float:
        """Outer radius of a loop"""
        return sqrt(2) * self.bore + self.wall

    @derived
    def axis_height(self) -> float:
        """Height of the axis above the bed"""
        return self.radius

    @derived
    def reach(self) -> float:
        """From the axis to the leaves, clear of the corners of all knuckles"""
        return self.radius / cos(OCTANT) + self.clearance + self.play

    @derived
    def loop(self) -> float:
        """Width of a loop"""
        return (self.length - 2 * self.loops * self.side_gap) / (2 * self.loops + 1)

    @derived
    def pitch(self) -> float:
        """From one loop to the next, of the other link"""
        return self.loop + self.side_gap

    def longest_bridge(self) -> float:
        return self.bridge

    def rules(self) -> Iterable[Rule]:
        gaps = 2 * self.loops * self.side_gap
        count = 2 * self.loops + 1
        yield at_least(self.wall, 3 * self.line_width, "or the loop is too thin to print solid")
        shortest = count * (self.rod / 2 + 2 * self.foot) + gaps
        yield at_least(self.length, shortest, "or the loops are too slender beside the rod")
        longest = count * (self.bridge - 2 * self.side_gap) + gaps
        yield at_most(self.length, longest, "or the rod bridges too far: more loops help")
        why = "or the leaf is thicker than the knuckle is high"
        yield at_most(self.leaf_thickness, 2 * self.radius, why)
        yield from super().rules()

    def fixed(self) -> Shape:
        return self.fixed_loops() + self.rod_solid() + self.leaf().mirrored(y=1)

    def moving(self) -> Shape:
        return self.moving_loops() + self.leaf()

    @part
    def fixed_loops(self) -> Shape:
        """Loops that hold the rod, with the feet that join them to the leaf."""
        outline = knuckle_outline(self.radius) + self.foot_outline().mirrored(x=1)
        loops = each("i", self.loops + 1, lambda i: self.window().at(x=2 * i * self.pitch))
        return self.combed(outline, loops)

    @part
    def moving_loops(self) -> Shape:
        """Loops that turn on the rod, with the feet that join them to the leaf."""
        outline = knuckle_outline(self.radius) + self.foot_outline()
        loops = each("i", self.loops, lambda i: self.window().at(x=(2 * i + 1) * self.pitch))
        return self.combed(outline - bore_outline(self.bore, self.rim), loops)

    def combed(self, outline: Shape, windows: Shape) -> Shape:
        """The outline along the whole axis, kept where the windows are."""
        bar = along_x(outline, self.length).at(z=self.axis_height)
        return bar & standing(windows, 2 * self.leaf_end).at(x=-self.length / 2)

    @part
    def window(self) -> Shape:
        """Window for one loop."""
        return tooth(self.loop, 2 * self.radius + 1, self.foot)

    @part
    def foot_outline(self) -> Shape:
        """Foot from below the knuckle to the leaf, around the axis."""
        foot = rectangle(self.reach + self.join, self.leaf_thickness)
        return foot.at(y=-self.axis_height)

    @part
    def rod_solid(self) -> Shape:
        """Rod, solid with the loops of the fixed link."""
        return along_x(rod_outline(self.rod / 2), self.length).at(z=self.axis_height)
