"""The break-away link: small webs that hold parts together on the plate until they are snapped off.

Each web is scored where it enters a recess in either part, so that what is left of it after
snapping stays below the surface.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, ClassVar

from scadgen.hinge.family import count, deg, derived, family, mm, quantity
from scadgen.hinge.gaps import Gap, Web
from scadgen.hinge.judged import Judged
from scadgen.hinge.kinds.flexure import Flexure
from scadgen.hinge.measures import Measure
from scadgen.hinge.rules import Rule, Serves, at_least, at_most
from scadgen.hinge.shapes import along_x
from scadgen.hinge.steps import Steps
from scadgen.strength import break_away, temper
from scadgen.strength.carried import Carrier, Cut, Turn
from scadgen.strength.duty import Duty
from scadgen.strength.materials import Plastic, Use
from scadgen.strength.place import Strength, source
from scadgen.trees.expr import atan, sqrt
from scadgen.trees.solid import Shape, each, extrude, part, polygon, rectangle

if TYPE_CHECKING:
    from scadgen.mechanism.fold import Fold


@family(
    good="several parts print as one plate, stick better, and come apart by hand",
    weak="made to break: holds nothing, and never moves twice",
)
class BreakAwayLink(Flexure):
    """Flat webs with score lines between two parts that print together and are snapped apart."""

    swing: float = deg(15, 5, 60, 1, "Part", "Bend, either way, by which the webs have snapped")
    edge: float = mm(60, 4, 300, 0.5, "Size", "Length of the edge along which the webs stand")
    thickness: float = mm(3, 0.8, 20, 0.1, "Size", "Thickness of the parts")
    gap: float = mm(1.5, 0.5, 10, 0.1, "Size", "Gap between the parts")
    webs: int = count(3, 1, 40, "Size", "Webs along the edge")
    web_width: float = mm(1.6, 0.6, 10, 0.1, "Size", "Width of a web")
    web: float = mm(0.9, 0.3, 5, 0.05, "Size", "Thickness of a web")
    left: float = mm(0.5, 0.2, 3, 0.05, "Size", "Thickness that a score line leaves of a web")
    recess: float = mm(
        1.2, 0.4, 6, 0.1, "Size", "Depth of the recess around the root of a web", automatic=True
    )
    strength: float = quantity("MPa", 60, 5, 120, 5, "Fit", "Strength of the plastic, strong end")
    effort: float = quantity(
        "N", 20, 2, 60, 1, "Fit", "Push at the far edge of a part that snaps it"
    )

    def measured(self) -> dict[str, Measure]:
        return super().measured() | {"left": Measure.THINNEST}

    @classmethod
    def heading(cls) -> str:
        return "Break-away link"

    @classmethod
    def coupon(cls) -> Steps | None:
        look = "Bend each piece until its webs snap: take the thickest that snaps clean by hand."
        given = {"edge": 12, "thickness": 2.4, "webs": 2, "web": 0.9, "web_width": 1.6, "border": 8}
        return Steps("left", 0.2, 0.1, 5, look, given=given | {"recess": 1.5, "gap": 1.5})

    @derived
    def width(self) -> float:
        """Width of the parts along the edge"""
        return self.edge

    @derived
    def span(self) -> float:
        """Gap between the parts"""
        return self.gap

    @derived
    def links(self) -> float:
        """The webs bend as one"""
        return 1

    @derived
    def link_length(self) -> float:
        """Length between the parts"""
        return self.span

    @derived
    def core(self) -> float:
        """Height of the middle of a web, from the middle of the parts"""
        return (self.web - self.thickness) / 2

    @derived
    def score(self) -> float:
        """From a web's middle to its score line, half-way down the recess"""
        return (self.gap + self.recess) / 2

    @derived
    def notch(self) -> float:
        """Depth of a score line"""
        return self.web - self.left

    @derived
    def pitch(self) -> float:
        """From one web to the next"""
        return self.edge / self.webs

    @derived
    def slot(self) -> float:
        """Width of a recess"""
        return self.web_width + 2 * self.clearance

    joins_once = True

    def fold_type(self) -> type[Fold]:
        from scadgen.mechanism.snap import Snap

        return Snap

    comes_off = "it is made to break"

    def practice(self, duty: Duty, plastic: Plastic) -> Judged:
        if duty.cycles > 1:
            return Judged(0.0, "it never moves twice")
        worth = temper.snapping(plastic)
        words = "parted by hand when the plate is off the bed"
        if worth < 0.5:
            words = "it stretches and tears: it wants a knife"
        return Judged(worth, words)

    def fitted(self, duty: Duty, plastic: Plastic) -> dict[str, float]:
        return {"strength": plastic.weak_end("strength", Use.SNAP)}

    #: It answers no load: its webs are made to snap under a push by hand.
    answers = ("cycles",)

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        where_from = source(break_away)
        strong = plastic.weak_end("strength", Use.SNAP)
        push = break_away.snap_push(strong, self.webs, self.web_width, self.left, self.border)
        yield Strength(
            "push that snaps it", push, self.effort, "N", where_from, "thinner webs", limit=True
        )
        yield Strength(
            "it moves once", duty.cycles, 1, "turns", where_from, "another family", limit=True
        )
        yield from super().strengths(duty, plastic)

    not_measured: ClassVar[Mapping[str, str]] = {
        "it moves once": "it counts turns: no section bears them."
    }

    def carriers(self) -> Iterable[Carrier]:
        web = Cut("both", (self.place(0), self.score, self.left / 2), "y")
        yield Carrier("push that snaps it", "snap", (web,), turn=Turn(0, self.border, self.webs))

    def rules(self) -> Iterable[Rule]:
        yield at_least(
            self.web_width,
            2 * self.line_width,
            "or a web is less than two lines wide",
            Serves.PRINTING,
        )
        yield at_least(self.web, self.left + self.line_width / 2, "or there is no score line")
        yield at_least(self.thickness, self.web, "or the webs stand out of the parts")
        deep = 2 * self.notch + 2 * self.join
        yield at_least(self.recess, deep, "or the score line reaches out of the recess")
        solid = 2 * self.line_width
        yield at_least(
            self.border, self.recess + solid, "or the recess cuts through the part", Serves.PRINTING
        )
        room = self.webs * (self.slot + 2 * solid)
        yield at_least(
            self.edge,
            room,
            "or a wall beside a recess is less than two lines thick",
            Serves.PRINTING,
        )
        yield at_most(self.left, self.snapped(), "or it takes more than that push to snap the webs")
        bend = atan((self.gap - self.clearance) / (2 * self.thickness - self.web))
        yield at_most(self.swing, 2 * bend, "or the edges of the parts meet before")
        yield from super().rules()

    def snapped(self) -> float:
        """Thickest web that the push snaps (mm)."""
        moment = self.effort * self.border
        return 2 * sqrt(moment / (self.strength * self.webs * self.web_width))

    def gaps(self) -> Iterable[Gap]:
        yield Gap("between the parts", self.gap, bed=(0, 0))
        # A first layer that closes a recess is a skin; it tears when the web beside it snaps.
        yield Gap("beside a web in its recess", self.clearance)

    def layered(self) -> Iterable[Web]:
        yield Web("what a score line leaves", self.left, self.snapped(), cut_from=self.web)

    def link_at(self, outline: Shape, i: float, bend: float) -> Shape:
        return outline.at(y=self.core).turned(z=bend / 2)

    @part
    def border_at(self, outline: Shape, bend: float) -> Shape:
        """An outline drawn from the edge of the moving part, carried along by a bend."""
        drawn_back = outline.at(self.span / 2, -self.core)
        return drawn_back.turned(z=bend).at(y=self.core)

    def whole(self) -> Shape:
        halves = self.half_webs()
        return self.fixed_border() + halves.mirrored(y=1) + self.moving_border() + self.bent(halves)

    def bent(self, solid: Shape) -> Shape:
        """A solid of the moving side, bent about the middle of the webs."""
        return solid.at(z=-self.web / 2).turned(x=self.angle).at(z=self.web / 2)

    @part
    def part_with_recesses(self) -> Shape:
        """Part of the moving side, with a recess for each web."""
        plate = rectangle(self.edge, self.border).at(-self.edge / 2, self.span / 2)
        return extrude(plate - self.slots(), self.thickness)

    def place(self, i: float) -> float:
        """Where web ``i`` stands along the edge."""
        return (i + 1) * self.pitch - (self.edge + self.pitch) / 2

    @part
    def slots(self) -> Shape:
        """Recesses of the moving side, seen from above."""
        slot = rectangle(self.slot, self.gap / 2 + self.recess).at(-self.slot / 2)
        return each("i", self.webs, lambda i: slot.at(x=self.place(i)))

    @part
    def fixed_relief(self) -> Shape:
        """Recesses and the moving part's sweep: subtract it from the fixed body."""
        recesses = extrude(self.slots().mirrored(y=1), self.thickness + 2).at(z=-1)
        return recesses + self.sheet_of(self.relief_outline(), self.clearance)

    @part
    def moving_relief(self) -> Shape:
        """Likewise for the moving part's body."""
        return self.bent(self.fixed_relief().mirrored(y=1))

    @part
    def fixed_border(self) -> Shape:
        """Part that stays where it is."""
        return self.part_with_recesses().mirrored(y=1)

    @part
    def moving_border(self) -> Shape:
        """Part at the other side, as it is bent."""
        return self.bent(self.part_with_recesses())

    @part
    def half_webs(self) -> Shape:
        """Moving half of each web, with its score line."""
        root = self.gap / 2 + self.recess + self.join
        outline = polygon(
            (-self.join, 0),
            (root, 0),
            (root, self.web),
            (self.score + self.notch, self.web),
            (self.score, self.left),
            (self.score - self.notch, self.web),
            (-self.join, self.web),
        )
        return each("i", self.webs, lambda i: along_x(outline, self.web_width).at(x=self.place(i)))
