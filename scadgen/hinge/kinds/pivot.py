"""What all pivots share: two links, a leaf on each, and room for each to swing."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, cast

from scadgen.hinge.exported import Export
from scadgen.hinge.family import Piece, deg, derived, mm
from scadgen.hinge.gaps import Gap
from scadgen.hinge.judged import Judged
from scadgen.hinge.kinds.leaf import Leaves
from scadgen.hinge.measures import Measure
from scadgen.hinge.meets import Click, Stop
from scadgen.hinge.rules import Rule, Serves, at_least, at_most
from scadgen.hinge.shapes import swept
from scadgen.hinge.steps import Steps
from scadgen.mechanism.joint import STOP
from scadgen.motion.openings import edge_gap
from scadgen.printing.bed import FIRST_LAYER_SPREAD
from scadgen.strength import anyform, prying, temper
from scadgen.strength.duty import Duty
from scadgen.strength.materials import Plastic
from scadgen.text.numbers import digits
from scadgen.trees.expr import ceil, cos, let, maximum, sin, where
from scadgen.trees.solid import Shape, choose, circle, each, hull, part, polygon

if TYPE_CHECKING:
    from scadgen.mechanism.mechanism import Mechanism

Point = tuple[float, float, float]

#: Stop faces have come within the clearance at this many times the turn at which an arc from the
#: leaves' reach is as long: they do not face the axis squarely.
SLANT = 1.2
#: What a bearing loses of its trust in a plastic as soft as rubber, and in one that snaps (common
#: practice, no source); and how little of either is not worth a word.
SOFTENED, SNAPPED, LITTLE = 0.6, 0.45, 0.1
#: Turns at which the leaves' edges are looked at.
TURNS = 361


@dataclass(frozen=True, kw_only=True)
class Pivot(Leaves):
    """Two links that turn about an axis; a leaf on each joins it to the maker's part."""

    kind: ClassVar[str] = "pivot"
    #: The field that says how long it is along its axis.
    along: ClassVar[str]
    stop_in_layers: ClassVar[bool] = False  # whether its faces are of whole layers, not upright
    #: What is wrong with a turn up to which its leaves would meet.
    meeting: ClassVar[str] = "or the leaves meet before"

    foot: float = mm(0.4, 0, 1, 0.1, "Fit", "Chamfer along the bed, for the first layer's spread")
    stop_at: float = deg(0, 0, 175, 5, "Part", "Turn that flat faces stop; 0 for no such stop")

    @classmethod
    def coupon(cls) -> Steps | None:
        look = "Turn each moving link by hand: it turns freely, wobbles, or is fused."
        leaves = {"leaf_length": 5, "leaf_thickness": 2.4, "leaf_corner": 0}
        given = leaves | {"swing": 90, "facets": 32}
        return Steps("clearance", 0.15, 0.05, 10, look, given=given)

    def figures(self) -> dict[str, float]:
        return super().figures() | {"play along the axis, each way (mm)": self.play}

    def measured(self) -> dict[str, Measure]:
        sizes = {self.along: Measure.LENGTH, "leaf_thickness": Measure.LEAF}
        bearing = {"clearance": Measure.GAP, "swing": Measure.MOTION}
        return bearing | sizes | {"radius": Measure.RADIUS}

    def mechanism(self) -> Mechanism:
        return self.drawn_at(0.0)

    def drawn_at(self, drawn: float) -> Mechanism:
        """Its links with the moving one turned so far from how it prints, degrees."""
        from scadgen.hinge.kinds.links import turning

        return turning(self, drawn)

    def practice(self, duty: Duty, plastic: Plastic) -> Judged:
        usual = super().practice(duty, plastic)
        soft, brittle = 1 - temper.stiffness(plastic), 1 - temper.toughness(plastic)
        words = usual.words
        if soft > LITTLE:
            words += "; so soft a bearing rubs, and gives way under a side load"
        if brittle > LITTLE:
            words += "; its necks and tips snap when a brittle plastic is knocked or pried"
        worth = usual.worth * (1 - SOFTENED * soft) * (1 - SNAPPED * brittle)
        return Judged(worth, words)

    def strays(self) -> tuple[float, str] | None:
        play = float(max(self.side_play, self.end_play))
        return play, f"{digits(play)} mm of play"

    def closes_from(self) -> float:
        """The turn from which on the faces of a stop come nearer than the clearance (degrees)."""
        if not self.stop_at:
            return math.inf
        return self.stop_at - self.slanted()

    def slanted(self) -> float:
        """So far from a stop its faces come nearer than the clearance (degrees)."""
        return math.degrees(SLANT * self.clearance / self.reach)

    def heel_meets(self) -> float:
        """The turn at which a heel stops its opening (degrees); 0 for no such stop."""
        return 0

    def stop_words(self) -> str:
        """What ends its turn."""
        if self.stop_at:
            return f"flat faces meet at {digits(self.stop_at)} deg"
        return f"none; the leaves would meet at {digits(self.stop, 0)} deg"

    def openings(self) -> list[tuple[float, float]]:
        """Gaps between the near edges of the leaves, least and most over the turn (mm).

        Knuckles stand in a part of them; that is left out, on the safe side.
        """
        import numpy as np

        turns = np.linspace(self.lowest(), self.swing, TURNS)
        faces = (self.stop_face, self.face - self.leaf_thickness)
        gaps = [edge_gap(self.reach, face, turns) for face in faces]
        return [(float(np.min(gap)), float(np.max(gap))) for gap in gaps]

    def axis(self) -> tuple[Point, Point]:
        """A point on the axis (mm) and its direction."""
        raise NotImplementedError

    def fixed(self) -> Shape:
        """The fixed link, as printed."""
        raise NotImplementedError

    def moving(self) -> Shape:
        """The moving link, as printed."""
        raise NotImplementedError

    def fixed_relief(self) -> Shape:
        """Room that the moving link sweeps: to subtract from a body on the fixed side."""
        raise NotImplementedError

    def moving_relief(self) -> Shape:
        """Room that the fixed link sweeps, seen from the moving one: to subtract from its body."""
        raise NotImplementedError

    def posed(self, shape: Shape) -> Shape:
        """``shape``, drawn as printed, turned with the moving link."""
        raise NotImplementedError

    def carried(self, solid: Shape) -> Shape | None:
        return self.posed(solid)

    def exported(self) -> Iterable[Export]:
        taken = "Length along the axis, with the room at its ends (mm)"
        yield Export("length_taken", self.taken(), taken)
        yield Export("reach", self.radius, "How far the knuckles reach from the axis (mm)")
        start = "From the axis to the leaves: what stands nearer the reliefs take away (mm)"
        yield Export("leaf_start", self.reach, start)
        yield from super().exported()

    def taken(self) -> float:
        """Length along the axis that the other side's body leaves to it."""
        return cast(float, getattr(self, self.along))

    def pieces(self) -> Iterable[Piece]:
        yield Piece(("both", "fixed"), self.fixed() + self.stops())
        yield Piece(("both", "moving"), self.posed(self.moving()))
        yield Piece(("fixed_relief",), self.fixed_relief())
        yield Piece(("moving_relief",), self.posed(self.moving_relief() + self.stops_pass()))

    def stops(self) -> Shape:
        """What stops it, on the fixed link."""
        return choose(self.stop_at > 0, self.extruded_along(self.stop_outline()))

    def stops_pass(self) -> Shape:
        """Room that this sweeps, seen from the moving link."""
        return choose(self.stop_at > 0, self.relieved_along(self.stop_sweep()))

    def rules(self) -> Iterable[Rule]:
        row = self.screws * self.seat
        yield at_least(getattr(self, self.along), row, "or the screws are too near each other")
        yield from super().rules()
        yield at_least(
            self.clearance,
            self.landing,
            "or a layer of one link lands on the other",
            Serves.PRINTING,
        )
        chamfer = 2 * self.first_spread - self.clearance + self.layer / 2
        yield at_least(
            self.foot, chamfer, "or the links join where a first layer spreads", Serves.PRINTING
        )
        yield at_most(self.swing, self.stop, self.meeting, Serves.MOTION)
        yield at_most(self.stop_at, self.stop, "or the leaves meet before the stop", Serves.MOTION)
        stops = self.stop_at > 0
        steep = where(stops, self.least_stop, 0)
        yield at_least(self.stop_at, steep, "or the stop hangs over the knuckles", Serves.PRINTING)
        apart = where(stops, self.stop_at - 1, self.swing) - self.as_printed()
        yield at_most(
            self.angle, apart, "or it is drawn with its links touching at the stop", Serves.MOTION
        )
        end = where(stops, self.stop_at, self.widest)
        yield at_most(self.swing, end, "or it is stopped before", Serves.MOTION)
        room = where(stops, self.stop_end - self.reach + self.leaf_corner, 0)
        yield at_least(self.leaf_length, room, "or the stop has no leaf to stand on")
        screwed = stops & (self.screw > 0)
        beyond = where(screwed, 2 * (self.stop_end - self.reach) + self.seat, 0)
        yield at_least(self.leaf_length, beyond, "or the stop covers the screws")

    def bulk(self) -> float:
        return super().bulk() + 4 * self.radius * self.radius * self.leaf_width

    def pried(self, duty: Duty) -> float:
        """Force on the bearing, square to the axis, when the moving part leans on its end (N)."""
        return cast(float, prying.bearing_force(duty.load, duty.lever, self.heel))

    @property
    def heel(self) -> float:
        """Where the leaves meet, or the near end of the stop."""
        return cast(float, anyform.maximum(self.stop_start, self.reach))

    def gaps(self) -> Iterable[Gap]:
        yield Gap("the bearing", self.clearance, lean=45, curved=True)

    def meets(self) -> Iterable[Click | Stop]:
        yield Stop(STOP, self.stop_at > 0, self.heel, self.stop_in_layers)

    def highest(self) -> float:
        return self.furthest

    @derived
    def furthest(self) -> float:
        """Turn that reliefs make room for: up to a stop"""
        return where(self.stop_at > 0, self.stop_at, self.swing)

    @derived
    def sweeps(self) -> float:
        """Steps in which a relief follows the moving side"""
        return ceil(self.furthest / 2)

    @derived
    def bow(self) -> float:
        """Most by which a way runs off its straight course from one step of a relief to the next"""
        return self.farthest * (1 - cos(self.stride / 2))

    @property
    def farthest(self) -> float:
        """From the axis to all that turns, at the most."""
        return self.leaf_end + self.radius + self.clearance

    @derived
    def room(self) -> float:
        """Room around what a relief follows: the clearance is left between steps"""
        return self.clearance + self.bow

    def extruded_along(self, outline: Shape) -> Shape:
        """An outline drawn across the axis, as long as the knuckles are together."""
        raise NotImplementedError

    def relieved_along(self, outline: Shape) -> Shape:
        """An outline drawn across the axis, with room beyond both ends of the knuckles."""
        raise NotImplementedError

    @derived
    def landing(self) -> float:
        """Clearance that keeps a layer of a 45-degree wall off the link below it"""
        return self.layer * cos(45)

    @derived
    def first_spread(self) -> float:
        """First layer's spread to a side: 0.1 to 0.3 mm (common practice, no source)"""
        return FIRST_LAYER_SPREAD

    @derived
    def face(self) -> float:
        """From the axis to the plane of a leaf's inner face"""
        raise NotImplementedError

    @property
    def widest(self) -> float:
        """The widest turn that may be asked of it (degrees)."""
        return 180

    @property
    def stop_face(self) -> float:
        """From the axis to the plane in which a stop meets the moving leaf."""
        return self.face

    @derived
    def least_stop(self) -> float:
        """Least turn that a stop may end, or it would reach over the knuckles"""
        return 60

    @derived
    def stop_end(self) -> float:
        """From the axis to the far end of a stop"""
        return maximum(self.stop_start, self.reach) + self.leaf_thickness

    @derived
    def stop_start(self) -> float:
        """From the axis to where a stop meets the moving leaf's face"""
        raise NotImplementedError

    @derived
    def stop_corner(self) -> float:
        """From the axis to a stop's corner half-way between the leaves"""
        return self.stop_end

    @derived
    def stop_rise(self) -> float:
        """Sine of the turn at the stop"""
        return sin(self.stop_at)

    @derived
    def stop_run(self) -> float:
        """Cosine of the turn at the stop"""
        return cos(self.stop_at)

    @part
    def stop_fan(self) -> Shape:
        """Between the fixed and the stopped moving leaf, across the axis."""
        inner, outer, face = self.reach, self.stop_end, self.stop_face
        half = let("half", (180 + self.stop_at) / 2, "direction half-way between the leaves")
        shift = (face * self.stop_rise, face * self.stop_run)
        root = face - self.leaf_thickness / 2
        return polygon(
            (inner * self.stop_run - shift[0], inner * self.stop_rise + shift[1]),
            (outer * self.stop_run - shift[0], outer * self.stop_rise + shift[1]),
            (self.stop_corner * cos(half), self.stop_corner * sin(half)),
            (-outer, root),
            (-inner, root),
        )

    @part
    def stop_outline(self) -> Shape:
        """Stop on the fixed leaf, clear of the knuckles: what the moving leaf's face meets."""
        return self.stop_fan() - self.stop_room()

    def stop_sweep(self) -> Shape:
        """Room that the stop sweeps, seen from the moving leaf."""
        return swept(self.stop_passed(), -self.lowest(), -self.stride, self.sweeps)

    @part
    def stop_passed(self) -> Shape:
        """Stop with room around it."""

        def moved(i: float, j: float) -> Shape:
            return self.stop_fan().at((2 * i - 1) * self.room, (2 * j - 1) * self.room)

        return hull(each("i", 2, lambda i: each("j", 2, lambda j: moved(i, j))))

    def stop_room(self) -> Shape:
        """Room around the axis that a stop leaves to the knuckles."""
        return circle(self.reach * self.rim)

    @derived
    def play(self) -> float:
        """Way along the axis until two 45-degree walls touch"""
        return self.clearance / cos(45)

    @derived
    def lead(self) -> float:
        """Shift of a corner of 45 degrees between walls that keep the gap"""
        return self.play - self.clearance

    @derived
    def rim(self) -> float:
        """Bores are drawn around their circle, so that facets take no gap"""
        return 1 / cos(180 / self.facets)

    @derived
    def radius(self) -> float:
        """Outer radius of the knuckles"""
        raise NotImplementedError

    @derived
    def stop(self) -> float:
        """Turn at which the leaves would meet, less the gap"""
        raise NotImplementedError

    @derived
    def end_play(self) -> float:
        """Way along the axis, each way, until the links touch"""
        return self.play

    @derived
    def side_play(self) -> float:
        """Least way square to the axis until the links touch: in a straight bore, the clearance"""
        return self.clearance
