"""The slit lattice: a sheet with staggered slits, whose strips between the slits twist.

Strip i lies between the slit rows i and i + 1. At the bridges of row j the sheet has turned by j
times the turn of a strip; on its way to the bridges of the next row a strip twists by one turn.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any, ClassVar, cast

from scadgen.hinge.family import bounds, count, deg, derived, family, mm
from scadgen.hinge.gaps import Gap
from scadgen.hinge.judged import Judged
from scadgen.hinge.kinds.flexure import Flexure, Node, Sample
from scadgen.hinge.measures import Measure
from scadgen.hinge.rules import Rule, Serves, at_least, at_most
from scadgen.hinge.shapes import along_chords, along_x
from scadgen.hinge.steps import Steps
from scadgen.strength import bent_web, lattice, life, notch
from scadgen.strength.asked import EVERY
from scadgen.strength.carried import Carrier, Cut, Force, Turn
from scadgen.strength.duty import Duty
from scadgen.strength.filling import in_bending
from scadgen.strength.materials import Plastic, Use
from scadgen.strength.place import Strength, Told, source, stiffness, strain
from scadgen.trees.expr import cos, equal, floor, let, maximum, minimum, sin
from scadgen.trees.solid import Shape, choose, each, extrude, part, rectangle

#: Rows of slits with which a lattice is still one.
FEWEST = 3


@family(
    good="one flat piece, bends tightly and often, nothing to fuse or to come apart",
    weak="soft in its own plane: a pull opens the slits, and their inner corners crack first",
)
class SlitLattice(Flexure):
    """Flat sheet with staggered slits: the strips between the slits twist as it bends."""

    trust = 1.0

    fit = "slit"
    stretched = "rows"

    swing: float = deg(90, 10, 180, 5, "Part", "Bend that the hinge must be free for, each way")
    rows: int = count(17, 3, 60, "Size", "Rows of slits, one behind the other")
    columns: int = count(2, 1, 12, "Size", "Slits in a row, side by side")
    strip: float = mm(2, 0.6, 10, 0.1, "Size", "Width of a strip between two rows")
    slit_length: float = mm(28, 5, 150, 0.5, "Size", "Length of a slit", automatic=True)
    bridge: float = mm(
        4, 1, 30, 0.5, "Size", "Solid bridge between two slits of a row", automatic=True
    )
    slit: float = mm(0.5, 0.35, 3, 0.05, "Fit", "Width of a slit")

    def measured(self) -> dict[str, Measure]:
        return super().measured() | {"slit": Measure.SLIT}

    @classmethod
    def spanning(cls, width: float, given: Mapping[str, Any]) -> Mapping[str, float]:
        """As many slits in a row as come nearest to the usual length, or as are given."""
        limits = bounds(cls)
        wanted = {
            name: given.get(name) or limits[name].default for name in ("slit_length", "bridge")
        }
        whole = math.floor if given.get("slit_length") else round
        columns = given.get("columns") or whole(width / sum(wanted.values()))
        columns = min(max(columns, 1), limits["columns"].high)
        step = limits["slit_length"].step
        fits = math.floor(round((width / columns - wanted["bridge"]) / step, 6)) * step
        return {"columns": columns, "bridge": wanted["bridge"], "slit_length": fits}

    @classmethod
    def coupon(cls) -> Steps | None:
        look = "Bend each piece: all its slits open (free), or some of them hold (fused)."
        given = {"strip": 1.4, "thickness": 1.6, "rows": 5, "border": 5, "swing": 45}
        return Steps("slit", 0.35, 0.05, 8, look, given=given)

    @derived
    def links(self) -> float:
        """Strips, one between two rows of slits"""
        return self.rows - 1

    @derived
    def link_length(self) -> float:
        """Length of a strip, with the slits at both its sides"""
        return self.strip + 2 * self.slit

    @derived
    def period(self) -> float:
        """From one slit to the next in a row"""
        return self.slit_length + self.bridge

    @derived
    def width(self) -> float:
        """Width of the sheet, along the lines it bends about"""
        return self.columns * self.period

    @derived
    def pitch(self) -> float:
        """From one row to the next"""
        return self.strip + self.slit

    @derived
    def span(self) -> float:
        """Length between the borders, which bends"""
        return self.rows * self.pitch - self.strip

    @derived
    def free_length(self) -> float:
        """Length that twists, from a bridge to the other row's"""
        return (self.slit_length - self.bridge) / 2

    @derived
    def turn(self) -> float:
        """Turn of one strip when the sheet is bent all the way"""
        return self.swing / self.links

    @derived
    def angle_each(self) -> float:
        """Turn of one strip at the angle drawn"""
        return self.angle / self.links

    @derived
    def most_turn(self) -> float:
        """Turn up to which a strip does little else than twist"""
        return 15

    @derived
    def slender(self) -> float:
        """Least free length of a strip, in thicknesses, for it to twist freely"""
        return 5

    def figures(self) -> dict[str, float]:
        from scadgen.strength.torsion import shear_strain

        strain = shear_strain(self.thickness, self.strip, self.turn, self.free_length)
        return super().figures() | {"shear strain of a strip (%)": float(strain) * 100}

    @property
    def segments(self) -> float:
        """Twisting lengths side by side across the sheet."""
        return 2 * self.columns

    def stiffness(self, modulus: float, poisson: float) -> float:
        """Torque per bend of the whole sheet (N mm/rad)."""
        cell = lattice.cell_stiffness(
            self.strip, self.thickness, self.free_length, self.bridge, self.slit, modulus, poisson
        )
        return cast(float, lattice.stiffness(cell, self.links, self.segments))

    def torque_each(self, modulus: float, poisson: float) -> float:
        """Torque in each segment when the sheet is bent all the way (N mm)."""
        whole = self.stiffness(modulus, poisson)
        return cast(float, lattice.segment_torque(whole, self.swing, self.segments))

    @classmethod
    def drawn_against(cls) -> dict[str, str]:
        return {"rows": "rows"}

    def efforts(self, plastic: Plastic) -> dict[str, Any]:
        modulus, poisson = (plastic.weak_end(of, Use.BEND) for of in ("modulus", "poisson"))
        torque = self.segments * self.torque_each(modulus, poisson)
        return {"torque at the full bend (N mm)": torque}

    def practice(self, duty: Duty, plastic: Plastic) -> Judged:
        usual = super().practice(duty, plastic)
        return Judged(usual.worth, f"its strips only twist, by {float(self.turn):.2g} degrees each")

    answers = EVERY
    not_measured: ClassVar[Mapping[str, str]] = {
        "sheet pushed aside": "it is a limit of stability, no stress in a section"
    }

    @property
    def finest(self) -> float:
        return self.slit

    sampled_tilted: ClassVar[bool] = True

    def pulled_each(self, duty: Duty) -> float:
        """Pull across the fold of the outermost segment, the most that any bears (N).

        A pull along the strips, at one border, opens the slits at one edge of the other.
        """
        moment = duty.pull * bent_web.from_root(duty.pull_lever, self.span)
        moment = moment + duty.load * duty.offset
        edge = lattice.edge_force(moment, self.width, self.segments)
        return cast(float, duty.load / self.segments + edge)

    def sample(self, duty: Duty) -> Sample:
        """Its outermost column, and as few rows as may be: all rows are pulled alike."""
        swing = bounds(type(self))["swing"].low
        rows = min(self.rows, max(FEWEST, math.ceil(swing / self.turn) + 1))
        small = replace(self, columns=1, rows=rows, swing=swing, angle=0)
        words = f"{rows} of {self.rows} rows in one of {self.columns} columns, the outermost"
        return Sample(small, 2 * self.pulled_each(duty), duty.pull / self.columns, words)

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        told = Told(duty, plastic)
        borne = life.permissible(plastic, duty.cycles).percent
        twisted = lattice.shear_strain(self.strip, self.thickness, self.turn, self.free_length)
        sheared = life.shear_between_layers(plastic, duty.cycles)
        change = "more rows or longer slits"
        yield strain("strip in torsion, between layers", twisted, sheared, lattice, change)
        stiff, poisson = (plastic.weak_end(of, Use.BEND) for of in ("modulus", "poisson"))
        torque = self.torque_each(stiff, poisson)
        ended = notch.factor(self.line_width, self.bridge)  # two slits end at a bridge
        bent = ended * lattice.bridge_stress(torque, self.bridge, self.thickness) / stiff
        yield strain("bridge in bending", bent, borne, lattice, "longer slits")
        pulled = self.pulled_each(duty)
        opened = lattice.opening_stress(pulled, self.free_length, self.thickness, self.strip)
        opened = opened * notch.factor(self.line_width, self.strip)
        yield told.stress(
            "strips pulled open",
            opened,
            in_bending(self.strip, self.thickness),
            lattice,
            "more thickness or wider strips",
        )
        # It has no stop: what the bend does not hold, in a soft plastic, bends it past its proof.
        soft = stiffness(plastic, duty)
        whole, change = self.stiffness(soft, poisson), "more thickness or columns"
        pushed = lattice.buckling_force(whole, self.span)
        yield Strength("sheet pushed aside", duty.load, pushed, "N", source(lattice), change)
        held = self.segments * self.torque_each(soft, poisson)
        asked = lattice.moment_of_load(duty.load, duty.lever, self.span)
        name, change = "load held by the bend, with no stop", "more columns, or a stop in your part"
        yield Strength(name, asked, held, "N mm", source(lattice), change, limit=True)
        yield from super().strengths(duty, plastic)

    def carriers(self) -> Iterable[Carrier]:
        left, middle = -self.width / 2, self.thickness / 2
        first = self.slit + (self.strip - self.span) / 2
        strip = Cut("both", (left + self.period / 4, first, middle), "x")
        row = first + self.pitch / 2
        bridge = Cut("both", (left + self.period / 2, row, middle), "y")
        turn = Turn(self.turn, self.free_length, self.segments, self.span / 2)
        yield Carrier("strip in torsion, between layers", "twist", (strip,), turn=turn)
        ended, corner = (float(notch.factor(self.line_width, w)) for w in (self.bridge, self.strip))
        yield Carrier("bridge in bending", "wound", (strip, bridge), turn=turn, peak=ended)
        # Built in at both ends, a strip is straight half-way: there the force bends it, from l/2.
        over = (strip.at[0] + self.free_length / 2, first, middle)
        opened = Force("load", over, "y", 1 / self.segments)
        half = self.span / 2
        edge = Force("pull", over, "y", self.at_edge, least=half, times="pull_lever")
        beside = Force("load", over, "y", self.at_edge, times="offset")
        yield Carrier("strips pulled open", "normal", (strip,), (opened, edge, beside), peak=corner)
        yield Carrier("load held by the bend, with no stop", "held", (strip,), turn=turn)
        yield from super().carriers()

    @property
    def at_edge(self) -> float:
        """Pull on the outermost segment by a moment in the plane (1/mm): springs in a row."""
        places = [k - (self.segments - 1) / 2 for k in range(int(self.segments))]
        apart = self.width / self.segments
        return places[-1] / (apart * sum(place * place for place in places))

    def rules(self) -> Iterable[Rule]:
        yield at_most(
            self.strip, self.thickness, "or the strips bend instead of twisting", Serves.STRENGTH
        )
        yield at_least(
            self.strip, self.thinnest, "or a strip is too thin to print solid", Serves.PRINTING
        )
        why = "or the bridges break before the strips have twisted"
        yield at_least(self.bridge, self.thickness + self.thickness / 2, why, Serves.STRENGTH)
        shortest = self.bridge + 2 * self.slender * self.thickness
        yield at_least(self.slit_length, shortest, "or the strips are too short to twist")
        yield at_least(
            self.rows, self.swing / self.most_turn + 1, "or a strip twists too far", Serves.STRENGTH
        )
        corner = self.thickness * sin(self.turn) - self.strip * (1 - cos(self.turn))
        yield at_least(
            self.slit, corner, "or the strips meet before the sheet is bent", Serves.MOTION
        )
        yield from super().rules()

    def gaps(self) -> Iterable[Gap]:
        yield Gap("the slits", self.slit, bed=(0, 0))

    def lines_of_links(self) -> list[Node]:
        first = float(self.slit + self.strip / 2 - self.span / 2)
        count, pitch, z = int(self.links), float(self.pitch), float(self.thickness) / 2
        return [Node(first + k * pitch, z, 1 / count, 1 / (2 * count)) for k in range(count)]

    def link_at(self, outline: Shape, i: float, bend: float) -> Shape:
        turn = bend / self.links
        return self.strip_at(outline.turned(z=(2 * i + 1) * turn / 2), i, turn)

    @part
    def border_at(self, outline: Shape, bend: float) -> Shape:
        """An outline from the moving border's near edge, carried by a bend."""
        at_edge = outline.at(x=-self.strip / 2).turned(z=bend)
        return self.strip_at(at_edge, self.links, bend / self.links)

    @part
    def strip_at(self, outline: Shape, i: float, turn: float) -> Shape:
        """An outline at strip i."""
        first = self.slit + self.strip / 2 - self.span / 2
        return along_chords(outline, i, self.pitch, turn, turn).at(x=first)

    def whole(self) -> Shape:
        return choose(equal(self.angle, 0), self.flat(), self.bent())

    @part
    def flat(self) -> Shape:
        """As it prints."""
        whole = rectangle(self.width, self.span + 2 * self.border)
        sheet = whole.at(-self.width / 2, -self.span / 2 - self.border)
        return extrude(sheet - each("row", self.rows, self.slit_row), self.thickness)

    @part
    def slit_row(self, row: float) -> Shape:
        """Slits of one row; every other row is moved by half a period."""
        shift = let("shift", (row + 1) % 2 * self.period / 2)
        slit = rectangle(self.slit_length, self.slit)
        left = shift - (self.slit_length + self.width) / 2
        slits = each("i", self.columns + 1, lambda i: slit.at(left + i * self.period))
        return slits.at(y=row * self.pitch - self.span / 2)

    @part
    def bent(self) -> Shape:
        """The sheet, bent: cut across into slices in which each strip has one angle."""
        even = each("i", self.columns + 1, lambda i: self.slice(0, 2 * i))
        odd = each("i", self.columns, lambda i: self.slice(1, 2 * i + 1))
        between = each("i", 2 * self.columns, self.twisted)
        return self.fixed_border() + self.moving_border() + even + odd + between

    @part
    def slice(self, parity: float, i: float) -> Shape:
        """Slice of bridges in even (0) or odd (1) rows, i half periods in."""
        middle = i * self.period / 2
        left = let("left", maximum(middle - self.bridge / 2, 0))
        right = let("right", minimum(middle + self.bridge / 2, self.width))
        strips = each("k", self.links, lambda k: self.strip_outline(k, 2 * (k + (k + parity) % 2)))
        rows = floor((self.rows + 1 - parity) / 2)
        bridges = each("k", rows, lambda k: self.bridge_outline(2 * k + parity))
        solid = along_x(strips + bridges, right - left).at(z=self.thickness / 2)
        return solid.at(x=(left + right - self.width) / 2)

    @part
    def twisted(self, i: float) -> Shape:
        """Slice through free strips, each drawn with the mean of its twist."""
        strips = each("k", self.links, lambda k: self.strip_outline(k, 2 * k + 1))
        solid = along_x(strips, self.free_length + 2 * self.join).at(z=self.thickness / 2)
        return solid.at(x=((2 * i + 1) * self.period / 2 - self.width) / 2)

    @part
    def strip_outline(self, i: float, half_turns: float) -> Shape:
        """Strip i, turned by so many halves of a strip's turn."""
        turn = self.angle_each
        outline = rectangle(self.strip, self.thickness).at(-self.strip / 2, -self.thickness / 2)
        return self.strip_at(outline.turned(z=half_turns * turn / 2), i, turn)

    @part
    def bridge_outline(self, row: float) -> Shape:
        """Bridge between two strips."""
        turn = self.angle_each
        length = self.slit + 2 * self.join
        outline = rectangle(length, self.thickness).at(-length / 2, -self.thickness / 2)
        return self.strip_at(outline.at(x=-self.pitch / 2).turned(z=row * turn), row, turn)
