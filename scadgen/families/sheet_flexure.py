"""The sheet flexure: a web of whole layers, printed flat between two leaves.

The web is at the bottom. Folded up, the leaves' faces come together and the web must be long
enough to go around them; folded down, only the web itself limits the bend.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any, ClassVar, cast

from scadgen.hinge.family import count, deg, derived, family, mm, quantity
from scadgen.hinge.gaps import Web
from scadgen.hinge.judged import Judged, WeakSpot
from scadgen.hinge.kinds.flexure import Flexure, Node, Sample
from scadgen.hinge.measures import Measure
from scadgen.hinge.rules import GRAIN, Rule, Serves, at_least
from scadgen.hinge.shapes import along_chords
from scadgen.hinge.steps import Steps
from scadgen.strength import bent_web, fold, life, plate, prying, temper, twisted_web
from scadgen.strength.asked import EVERY
from scadgen.strength.carried import Carrier, Cut, Force, Lever, Turn
from scadgen.strength.duty import Duty
from scadgen.strength.filling import in_bending
from scadgen.strength.materials import Plastic, Use
from scadgen.strength.place import Strength, Told, source, stiffness, strain
from scadgen.trees.expr import PI, ceil, cos, let, maximum, sin
from scadgen.trees.solid import Shape, each, hull, part, polygon, rectangle

#: A fold by so much lays one leaf on the other, degrees.
FLAT = 180


@family(
    good="one flat piece, quick to print, folds up or down",
    weak="a brittle plastic breaks beyond its bend limit; a crease is permanent damage",
)
class SheetFlexure(Flexure):
    """Flat sheet with a thin web of whole layers, which bends between two leaves."""

    trust = 1.0

    stretched = "web_length"

    swing: float = deg(90, 10, 180, 5, "Part", "Fold upwards that it must be free for")
    swing_down: float = deg(90, 10, 180, 5, "Part", "Fold downwards that it must be free for")
    sheet_width: float = mm(40, 3, 300, 0.5, "Size", "Width of the sheet, along the fold")
    thickness: float = mm(3, 0.8, 10, 0.1, "Size", "Thickness of the leaves")
    web: float = mm(0.6, 0.3, 2.4, 0.05, "Size", "Thickness of the web")
    web_length: float = mm(10, 1, 200, 0.5, "Size", "Length of the web that bends", automatic=True)
    fillet: float = mm(1, 0.2, 5, 0.1, "Size", "Fillet from the web into a leaf")
    strain: float = quantity("%", 5, 0.5, 40, 0.5, "Fit", "Strain that the plastic lives with")
    segments: int = count(24, 8, 120, "Quality", "Straight segments that a bend is drawn in")

    def lowest(self) -> float:
        return -self.swing_down

    def measured(self) -> dict[str, Measure]:
        return super().measured() | {"web": Measure.THINNEST}

    @classmethod
    def coupon(cls) -> Steps | None:
        look = "Fold each piece by a right angle: take the shortest web that does not crack."
        given = {"sheet_width": 12, "thickness": 1.8, "border": 8, "strain": 20, "fillet": 1}
        return Steps("web_length", 2.5, 1, 7, look, given=given | {"web": 0.6}, per_mm=10)

    @derived
    def sweeps(self) -> float:
        """Steps in which a relief follows the moving side"""
        return ceil(maximum(self.swing, self.swing_down) / 2)

    @derived
    def width(self) -> float:
        """Width of the sheet, along the lines it bends about"""
        return self.sheet_width

    @derived
    def span(self) -> float:
        """Length between the borders, which bends"""
        return self.web_length

    @derived
    def links(self) -> float:
        """Segments of the web"""
        return self.segments

    @derived
    def link_length(self) -> float:
        """Length of a segment"""
        return self.span / self.links

    @derived
    def core(self) -> float:
        """Height of the middle of the web, from the middle of the sheet"""
        return (self.web - self.thickness) / 2

    @derived
    def middle(self) -> float:
        """Usual layer, of which the web is made whole"""
        return 0.2

    @derived
    def coarse(self) -> float:
        """Thick layer, of which the web is made whole"""
        return 0.3

    @derived
    def percent(self) -> float:
        """One part in a hundred"""
        return 0.01

    @derived
    def radius_up(self) -> float:
        """Radius of the web's middle at which the upper corners of the leaves just stay apart"""
        half = self.swing / 2
        room = (self.clearance / 2 - self.fillet * cos(half)) / sin(half)
        return self.thickness - self.web / 2 + room

    @derived
    def radius_down(self) -> float:
        """Radius of the web's middle at which the lower corners of the leaves just stay apart"""
        return self.web / 2 + self.clearance / 2 / sin(self.swing_down / 2)

    @derived
    def facet(self) -> float:
        """Turn from one point of a fillet to the next"""
        return 360 / self.facets

    @property
    def most_fold(self) -> float:
        """The larger fold of both ways (degrees)"""
        import numpy as np

        return cast(float, np.maximum(self.swing, self.swing_down))

    @property
    def bend_radius(self) -> float:
        """Radius of the web's middle at the larger fold (mm)"""
        return cast(float, bent_web.bend_radius(self.web_length, self.most_fold))

    @classmethod
    def drawn_against(cls) -> dict[str, str]:
        return {"web": "web", "web_length": "bend_radius"}

    def efforts(self, plastic: Plastic) -> dict[str, Any]:
        modulus, poisson = (plastic.weak_end(of, Use.BEND) for of in ("modulus", "poisson"))
        stiffer = plate.stiffening(plate.searle(self.width, self.web, self.bend_radius), poisson)
        torque = bent_web.torque(modulus, self.web, self.width, self.bend_radius, stiffer)
        return {"torque at the larger fold (N mm)": torque}

    def fitted(self, duty: Duty, plastic: Plastic) -> dict[str, float]:
        return {"strain": life.permissible(plastic, duty.cycles).percent / duty.margin}

    @property
    def heel(self) -> float:
        """From the web to where the leaves' corners meet at the end of the fold upwards, at least.

        By the geometry of the fold it is more at any angle below 180 degrees.
        """
        return self.thickness - self.web / 2

    #: Length of a web in its thicknesses at which it folds as a hinge, and at which it is a strap
    #: (common practice, no source).
    along: ClassVar[str] = "sheet_width"
    hinge_like: ClassVar[float] = 40
    strap_like: ClassVar[float] = 150
    #: Its web, under a pull.
    weak_spot: ClassVar[WeakSpot] = WeakSpot(light=30, heavy=300, lost=0.4)

    def practice(self, duty: Duty, plastic: Plastic) -> Judged:
        borne = life.permissible(plastic, duty.cycles).strain
        length = math.radians(float(self.most_fold)) / (2 * borne)
        worth = float(temper.share(length, self.strap_like, self.hinge_like))
        words = f"the web must bend over {length:.2g} of its thicknesses"
        if temper.snapping(plastic) < 0.5:  # what stretches so far is what such folds are made of
            worth = 1
        if worth == 1:
            words += ": the plastic lives with a tight fold"
        elif worth < 0.5:
            words += ", or it breaks or keeps a crease"
        pull = prying.web_pull(duty.load, duty.lever, self.heel)
        left = self.weak_spot.left(pull, duty)
        if left < 1:
            words += f"; the load pries at it with {float(pull):.2g} N"
        return Judged(super().practice(duty, plastic).worth * worth * left, words)

    answers = EVERY
    not_measured: ClassVar[Mapping[str, str]] = {
        "web bent by a twist": "no section bears it alone: strips side by side share it",
        "web sheared by a twist": "no section bears it alone: strips side by side share it",
        "web pushed aside": "it is a limit of stability, no stress in a section",
        "web tipped by a pull": "it is a limit of stability, no stress in a section",
        "web pressed flat": "the shape of the fold decides it, no force on a section",
    }

    def pulled(self, duty: Duty) -> float:
        return cast(float, prying.web_pull(duty.load, duty.lever, self.heel))

    sampled_tilted: ClassVar[bool] = True

    def sample(self, duty: Duty) -> Sample:
        across, pull = super().sample(duty).across, duty.pull
        further = bent_web.from_root(duty.pull_lever, self.web_length) - self.web_length
        twist = duty.load * twisted_web.beyond(duty.offset, self.width)
        turns = (across * duty.offset, pull * further)
        return Sample(self, across, pull, turns=turns, twist=float(twist))

    @property
    def finest(self) -> float:
        return self.web

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        told = Told(duty, plastic)
        bent = bent_web.web_strain(self.web, self.web_length, self.most_fold)
        torn = bent_web.pull_stress(self.pulled(duty), self.width, self.web)
        torn = torn * bent_web.uneven(duty.offset, self.width)
        root = bent * bent_web.fillet_factor(self.fillet, self.web)
        pulled = root + torn / stiffness(plastic, duty)
        borne = life.permissible(plastic, duty.cycles).percent
        yield strain("web in bending, at its fillet", pulled, borne, bent_web, "more web length")
        lever = bent_web.from_root(duty.pull_lever, self.web_length)
        torn = torn + bent_web.sideways_stress(duty.pull, lever, self.width, self.web)
        torn = bent_web.at_a_leaf(torn)
        name = "web pulled apart, at a corner"
        yield told.stress(name, torn, in_bending(self.web), bent_web, "a wider sheet")
        shorn = bent_web.sideways_shear(duty.pull, self.width, self.web)
        name = "web sheared sideways"
        yield told.stress(name, shorn, in_bending(self.web), bent_web, "a wider sheet", shear=True)
        yield from self.twisted(duty, plastic, torn)
        yield from self.pushed(duty, plastic)
        yield from self.closed_flat(borne)
        moment = prying.leaf_moment(duty.load, duty.lever, 0)
        yield self.border_strength(moment, duty, plastic)
        yield from super().strengths(duty, plastic)

    @property
    def rise(self) -> float:
        """From the web's middle to a leaf's, in which a pull along the fold acts (mm)."""
        return (self.thickness - self.web) / 2

    def share_bent(self, plastic: Plastic) -> float:
        """Share of a twist that the web's strips bear by bending."""
        poisson = plastic.weak_end("poisson", Use.BEND)
        return cast(float, twisted_web.share_bent(self.width, self.web_length, poisson))

    def bent_by(self, torque: float, plastic: Plastic) -> float:
        """Stress at the edge of a web that is twisted (MPa)."""
        torque = self.share_bent(plastic) * torque
        bent = twisted_web.bending_stress(torque, self.width, self.web, self.web_length)
        return cast(float, bent)

    def twisted(self, duty: Duty, plastic: Plastic, torn: float) -> Iterable[Strength]:
        """A web whose leaf leans on the other one by its edge, and is loaded beyond that; or is
        pulled along the fold, above the web: at the web's corners ``torn`` (MPa) adds to it."""
        told = Told(duty, plastic)
        torque = duty.load * twisted_web.beyond(duty.offset, self.width) + duty.pull * self.rise
        wider, bent = "a wider sheet", self.bent_by(torque, plastic) + torn
        yield told.stress("web bent by a twist", bent, in_bending(self.web), twisted_web, wider)
        # Half-way a strip is not bent: there shear may bear nearly all of the torque.
        shorn = twisted_web.shear_stress(torque, self.width, self.web)
        name = "web sheared by a twist"
        yield told.stress(
            name, shorn, in_bending(self.web), twisted_web, wider, across=True, shear=True
        )

    def pushed(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        """A web that gives way to the side: pushed along the sheet, or pulled along the fold."""
        change, thin = "a wider sheet", (self.web, self.width, self.web_length)
        soft = stiffness(plastic, duty)
        shear = soft / plastic.weak_end("modulus", Use.CARRY)
        shear = shear * plastic.weak_end("shear_modulus", Use.CARRY)
        aside = bent_web.buckling_force(soft, *thin)
        yield Strength("web pushed aside", duty.load, aside, "N", source(bent_web), change)
        lever = bent_web.from_root(duty.pull_lever, self.web_length)
        tips = bent_web.tipping_force(soft, shear, *thin, lever)
        yield Strength("web tipped by a pull", duty.pull, tips, "N", source(bent_web), change)

    def closed_flat(self, borne: float) -> Iterable[Strength]:
        """A web whose leaves a hand presses on each other, if they close upwards as far as that.

        A caution: folded so far, the leaves stand apart, and nobody asked to press them together.
        """
        import numpy as np

        flat = np.asarray(self.swing) >= FLAT
        if np.any(flat):
            pressed = flat * fold.pressed_flat(self.web, self.heel)
            told = strain("web pressed flat", pressed, borne, fold, "more thickness")
            yield replace(told, caution=True)

    def carriers(self) -> Iterable[Carrier]:
        middle = (0.0, 0.0, self.web / 2)
        web, turn = Cut("both", middle, "y"), Turn(self.most_fold, self.web_length)
        torn = Force("load", middle, "y", over=Lever(0, self.heel, 1), beside="x")
        yield Carrier("web in bending, at its fillet", "bend", (web,), (torn,), turn)
        half = self.web_length / 2
        root = Cut("both", (0, self.join - half, self.web / 2), "y")
        aside = Force("pull", middle, "x", out="y", least=half)
        name, both = "web pulled apart, at a corner", (torn, aside)
        yield Carrier(name, "normal", (root,), both, peak=bent_web.AT_A_LEAF)
        yield Carrier("web sheared sideways", "shear", (root,), (aside,))
        border = Cut("both", (0, half + self.fillet + self.join, self.thickness / 2), "y")
        load = Force("load", (0, 0, self.thickness / 2), "z", out="y")
        yield Carrier("border in bending", "normal", (border,), (load,))
        yield from super().carriers()

    def rules(self) -> Iterable[Rule]:
        layers = {"0.2": self.middle, "0.3": self.coarse}  # layers of 0.1 mm then do as well
        for height, layer in layers.items():
            whole = ceil(self.web / layer - GRAIN) * layer
            yield at_least(
                self.web, whole, f"or layers of {height} mm cannot make it whole", Serves.PRINTING
            )
        yield at_least(self.thickness, self.web + self.fillet, "or its fillet has no room")
        yield at_least(self.border, self.fillet + 1, "or the leaf ends within its fillet")
        bent = self.bent_length(self.web)
        yield at_least(self.web_length, bent, "or the web is strained further than it bears")
        up = self.swing * PI / 180 * self.radius_up
        yield at_least(
            self.web_length, up, "or the leaves meet before it is folded up", Serves.MOTION
        )
        down = self.swing_down * PI / 180 * self.radius_down
        yield at_least(
            self.web_length, down, "or the leaves meet before it is folded down", Serves.MOTION
        )
        yield from super().rules()

    def bent_length(self, thickness: float) -> float:
        """Length in which a web so thick bends all the way at the strain that it bears (mm)."""
        bend = maximum(self.swing, self.swing_down) * PI / 180
        return bend * thickness / (2 * self.strain * self.percent)

    def layered(self) -> Iterable[Web]:
        yield Web("web", self.web, self.web_length / self.bent_length(1))

    def lines_of_links(self) -> list[Node]:
        count, long, half = int(self.links), float(self.link_length), float(self.span) / 2
        z, each = float(self.core + self.thickness / 2), 1 / count
        shares = [each / 2, *([each] * (count - 1)), each / 2]
        lines = [Node(k * long - half, z, share, share) for k, share in enumerate(shares)]
        return [*lines[:-1], replace(lines[-1], link=None)]

    def link_at(self, outline: Shape, i: float, bend: float) -> Shape:
        turn = bend / self.links
        middle = outline.at(x=self.link_length / 2, y=self.core).turned(z=(2 * i + 1) * turn / 2)
        return self.node_at(middle, i, bend)

    @part
    def border_at(self, outline: Shape, bend: float) -> Shape:
        """An outline from the moving border's near edge, carried by a bend."""
        return self.node_at(outline.at(y=-self.core).turned(z=bend), self.links, bend)

    @part
    def node_at(self, outline: Shape, i: float, bend: float) -> Shape:
        """An outline where segment i starts."""
        turn = bend / self.links
        moved = along_chords(outline, i, self.link_length, turn / 2, turn)
        return moved.at(-self.span / 2, self.core)

    @part
    def border_outline(self) -> Shape:
        """Moving leaf from the web's root on, behind a fillet."""
        low, high = -self.thickness / 2, self.thickness / 2
        root = let("root", self.web - self.thickness / 2, "top of the web")

        def on_fillet(k: float) -> tuple[float, float]:
            angle = k * self.facet
            return self.fillet * sin(angle), root + self.fillet * (1 - cos(angle))

        fillet = each("k", 90 / self.facet + 1, on_fillet)
        top = ((self.fillet, high), (self.border, high))
        return polygon((0, low), fillet, *top, (self.border, low))

    def whole(self) -> Shape:
        web = each("i", self.links, self.segment)
        fixed = self.border_outline().at(x=self.span / 2).mirrored(x=1)
        return self.sheet_of(fixed + web + self.border_at(self.border_outline(), self.angle))

    @part
    def segment(self, i: float) -> Shape:
        """Segment of the web."""
        return hull(self.section_at(i), self.section_at(i + 1))

    @part
    def section_at(self, i: float) -> Shape:
        """Sliver of the web where segment i starts."""
        sliver = rectangle(self.join, self.web).at(-self.join / 2, -self.web / 2)
        return self.node_at(sliver.turned(z=i * self.angle / self.links), i, self.angle)
