"""Ring pivots whose shaft has a waist: it narrows and widens again at 45 degrees."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import ClassVar

from scadgen.hinge.family import derived, mm
from scadgen.hinge.gaps import Grip
from scadgen.hinge.kinds.ring import RingPivot
from scadgen.hinge.rules import Rule, at_least
from scadgen.strength import cones, giving, loop, prying
from scadgen.strength import rod as rods
from scadgen.strength.carried import Carrier, Cut, Force, Tube, pried, ring_side, split
from scadgen.strength.duty import Duty
from scadgen.strength.filling import IN_WALLS, in_bending, in_tension, round_bar
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength, Told, gives, stiffness
from scadgen.trees.solid import Shape, part, polygon


@dataclass(frozen=True, kw_only=True)
class WaistPivot(RingPivot):
    """A ring pivot held along the axis by the waist of its shaft.

    From the shaft up: it narrows to the neck, runs straight through the ring's throat, and flares
    out to the knuckle above, which ends the storey.
    """

    waist: float = mm(1.8, 0.8, 8, 0.1, "Size", "Depth of the waist in the shaft")
    hold: float = mm(0.9, 0.4, 4, 0.1, "Fit", "Grip of the waist that is left after all play")

    @derived
    def neck(self) -> float:
        """Radius of the waist at its narrowest"""
        return self.shaft / 2 - self.waist

    @derived
    def throat(self) -> float:
        """Length of the waist at its narrowest, for a land of 1 mm in the ring"""
        return 1 + 2 * self.lead

    @derived
    def flare(self) -> float:
        """Height in which the waist widens to the knuckle above"""
        return self.radius - self.neck

    @derived
    def pinch(self) -> float:
        """Height at which the waist is down to the neck"""
        return self.storey - self.knuckle - self.flare - self.throat

    @derived
    def ring_top(self) -> float:
        """Height of the flat rim on top of a ring"""
        return self.storey - self.knuckle - self.rind - self.play

    not_measured: ClassVar[Mapping[str, str]] = {
        "grip of the waist under load": "it is a way that parts give, no stress in a section"
    }

    def ring_strengths(
        self, force: float, tilt: float, duty: Duty, plastic: Plastic
    ) -> Iterable[Strength]:
        """Waist and ring where one ring bears a force square to the axis (N) and the pull.

        ``tilt``: moment that the ring holds alone (N mm), by its throat and bore or, where these
        leave it room, by the shoulders of the waist: each may have to hold all of it.
        """
        told = Told(duty, plastic)
        neck, bore, outer = 2 * self.neck, 2 * self.bore, 2 * self.radius
        force = force + prying.tilting_force(tilt, self.engaged)
        pull = duty.pull + prying.tilting_pull(tilt, neck)
        change, wall = "a thicker shaft", "a thicker wall"
        cut = rods.ROUND_PEAK * cones.tip_shear(force, neck)
        yield told.stress(
            "neck in shear", cut, round_bar(neck), cones, change, across=True, shear=True
        )
        pressed = rods.bearing(force, neck, self.throat)
        yield told.stress("throat under pressure", pressed, IN_WALLS, rods, change)
        shorn = cones.rim_shear(pull, neck, self.waist)
        name = "shoulder of the waist sheared off"
        yield told.stress(name, shorn, IN_WALLS, cones, change, shear=True)
        hoop = cones.socket_hoop(pull, 45, outer, bore, self.waist)
        yield told.stress("ring split by a pull", hoop, in_tension(self.wall), cones, wall)
        high = self.ring_top - self.ring_bottom
        bent = loop.thick_ring_stress(force, outer, bore, high)
        yield told.stress("ring in bending", bent, in_bending(self.wall), loop, wall)
        soft = stiffness(plastic, duty)
        opened = giving.bore_opens(pull, outer, bore, self.waist, soft)
        wider = opened + giving.ring_stretches(force, outer, bore, high, soft)
        left = self.waist - self.sideways
        yield gives("grip of the waist under load", wider, left, giving, wall)

    def ring_carriers(
        self, shaft: str, ring: str, root: float, share: float = 1.0, apart: float = 0.0
    ) -> Iterable[Carrier]:
        """The same places: parts with the shaft and with the ring, and the height of its root.

        ``apart``: of the rings that hold what tilts (mm); 0 where one holds it alone.
        """
        neck, throat = 2 * self.neck, root + self.bearing_height
        tilt = 1 / (apart or self.engaged)
        force = (self.bearing_at(throat, share), self.beside_at(throat, tilt))
        at = (0.0, 0.0, throat)
        yield Carrier("neck in shear", "shear", (Cut(shaft, at, "z"),), force)
        land = Cut(shaft, at, "y", (neck, neck, self.throat))
        pressed = (pried(self.heel, at, "y", share), Force("tilt", at, "y", tilt))
        yield Carrier("throat under pressure", "normal", (land,), pressed)
        shoulder = root + self.pinch - self.waist / 2
        around = 0 if apart else 4 / neck  # the cosine of a tilt around a rim, as an even pull
        pull = (Force("pull", at, "z"), Force("tilt", at, "z", around))
        shorn = Tube(shaft, (0, 0, shoulder), "z", neck, self.waist)
        yield Carrier("shoulder of the waist sheared off", "shear", (shorn,), pull)
        middle, wall = (self.bore + self.radius) / 2, self.radius - self.bore
        socket = Cut(ring, (0, middle, shoulder), "x", (wall, wall, self.waist))
        yield split("ring split by a pull", socket, self.bore, "y", *pull)
        high = self.ring_top - self.ring_bottom
        height = root + (self.ring_top + self.ring_bottom) / 2
        side = Cut(ring, (0, middle, height), "x", (wall, wall, high))
        yield ring_side("ring in bending", side, middle, "y", *force)

    @property
    def engaged(self) -> float:
        """From the lower end of a ring's bore to the middle of its throat: what holds a tilt."""
        return self.bearing_height - self.ring_bottom

    @property
    def bearing_height(self) -> float:
        """Height of the middle of the throat above the root of the shaft."""
        return self.pinch + self.throat / 2

    @derived
    def ring_bottom(self) -> float:
        """Height at which a ring is closed around the shaft"""
        return self.closed

    def rules(self) -> Iterable[Rule]:
        yield at_least(self.waist, self.sideways + self.hold, "or a ring slips off its waist")
        yield at_least(
            self.shaft, 2 * (self.waist + 2 * self.line_width), "or the neck is too thin"
        )
        yield from super().rules()

    @property
    def sideways(self) -> float:
        """Way of a ring across its waist, from one side to the other."""
        return 2 * self.clearance

    def grips(self) -> Iterable[Grip]:
        yield Grip("the grip of the waist", self.waist - self.sideways, self.hold, bore=True)

    @part
    def socket_outline(self, bottom: float) -> Shape:
        """Half section of a ring: bore, throat, and a funnel."""
        throat = (self.neck + self.clearance) * self.rim
        return polygon(
            (self.bore * self.rim, bottom),
            (self.radius, bottom),
            (self.radius, self.ring_top),
            ((self.radius - self.rind) * self.rim, self.ring_top),
            (throat, self.pinch + self.throat - self.lead),
            (throat, self.pinch + self.lead),
            (self.bore * self.rim, self.pinch - self.waist + self.lead),
        )

    @part
    def waist_outline(self) -> Shape:
        """Half section from the waist up: neck, flare, knuckle above."""
        return polygon(
            (0, self.pinch - self.waist - self.join),
            (self.shaft / 2, self.pinch - self.waist - self.join),
            (self.shaft / 2, self.pinch - self.waist),
            (self.neck, self.pinch),
            (self.neck, self.pinch + self.throat),
            (self.radius, self.storey - self.knuckle),
            (self.radius, self.storey),
            (0, self.storey),
        )
