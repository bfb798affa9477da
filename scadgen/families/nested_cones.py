"""The nested cones: an upright stack of links, each with a cone in the socket of the next."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import ClassVar

from scadgen.hinge.family import count, derived, family, mm
from scadgen.hinge.gaps import Grip
from scadgen.hinge.kinds.ring import RingPivot
from scadgen.hinge.kinds.upright import Arm
from scadgen.hinge.rules import Rule, at_least
from scadgen.strength import anyform, cones, giving, loop, prying
from scadgen.strength import rod as rods
from scadgen.strength.asked import EVERY
from scadgen.strength.carried import Carrier, Cut, Force, between, ring_side
from scadgen.strength.duty import Duty
from scadgen.strength.filling import in_bending, round_bar
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength, Told, gives
from scadgen.trees.expr import floor
from scadgen.trees.solid import Shape, each, part, polygon, rectangle, revolve


@family(
    good="stands without supports, no flat ceiling anywhere, as many links as wanted",
    weak="tallest of all; a link is held down only by the one above it",
)
class NestedCones(RingPivot):
    """Upright hinge: links of both sides take turns in a stack, all cones pointing up."""

    trust = 0.8
    closes = True

    comes_off = "the topmost link is held down by no other"

    height: float = mm(56, 10, 300, 0.5, "Size", "Height of the hinge", automatic=True)
    shaft: float = mm(6, 4, 30, 0.5, "Size", "Diameter of the post that carries a cone")
    links: int = count(3, 3, 9, "Size", "Links of the stack; those of the two sides take turns")

    @derived
    def storey(self) -> float:
        """Height from the root of one post to the next one's"""
        return (self.height - self.knuckle) / (self.links - 1)

    @derived
    def eaves(self) -> float:
        """Height at which the post ends and its cone begins"""
        return self.storey - self.wall - self.play - self.shaft / 2

    @derived
    def tip(self) -> float:
        """Radius at which a cone ends, where a line still fits"""
        return self.line_width / 2

    @derived
    def peak(self) -> float:
        """Height at which the post's cone ends"""
        return self.eaves + self.shaft / 2 - self.tip

    def grips(self) -> Iterable[Grip]:
        name, needed = "the hold of a socket on its post", self.shaft / 2 - self.tip
        yield Grip(name, self.peak - self.closed - self.play, needed, lean=45, bore=True)

    answers = EVERY
    not_measured: ClassVar[Mapping[str, str]] = {
        "hold of a socket under load": "it is a way that parts give, no stress in a section"
    }

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        told = Told(duty, plastic)
        apart = (self.links - 2) * self.storey
        force = self.pried(duty) / prying.bearing_places(self.links - 1)
        force = force + prying.tilting_force(duty.tilt, apart)
        above = (self.closed + self.peak) / 2  # middle of the bearing
        taper = self.radius - self.shaft / 2
        change = "a thicker shaft"
        bent = cones.neck_bending(force, self.shaft, 45, above - taper, taper)
        yield told.stress(
            "post in bending", bent, in_bending(self.shaft, self.shaft), cones, change, across=True
        )
        cut = rods.ROUND_PEAK * cones.tip_shear(force, self.shaft)
        yield told.stress(
            "post in shear", cut, round_bar(self.shaft), cones, change, across=True, shear=True
        )
        outer, bore = 2 * self.radius, 2 * self.bore
        ring = loop.thick_ring_stress(force, outer, bore, self.storey - self.closed)
        yield told.stress("socket in bending", ring, in_bending(self.wall), loop, "a thicker wall")
        # A link in the middle is loaded at its socket and at its post; lifted, the one above holds.
        deep, beside = self.storey - self.corbel, above - self.corbel / 2
        middle = Arm("arm of a link", deep, beside)
        # Of three links the moving one hangs on one arm, which holds all of a tilt.
        alone = anyform.where(self.links > 3, 0, duty.tilt)
        both = 2 * (force - prying.tilting_force(alone, apart))
        yield self.arm_strength(middle, both, duty.pull, duty, plastic, alone)
        base = Arm("arm of the base", self.knuckle, self.knuckle / 2 + above)
        yield self.arm_strength(base, force, duty.pull, duty, plastic)
        # A pull lifts the moving links' arms, and leans on those of the fixed one.
        arms = self.arm_gives(duty.pull, deep, told) + self.arm_gives(duty.pull, self.knuckle, told)
        grip = self.peak - self.closed - self.play
        yield gives("hold of a socket under load", arms, grip, giving, "a thicker leaf")
        yield from super().strengths(duty, plastic)

    def carriers(self) -> Iterable[Carrier]:
        share, root = 1 / min(self.links - 1, prying.RESTS_ON), self.knuckle
        load = root + (self.closed + self.peak) / 2
        apart = (self.links - 2) * self.storey
        force = (self.bearing_at(load, share), self.beside_at(load, 1 / apart))
        pull = Force("pull", (0, 0, load), "z")
        post = tuple(Cut("fixed", (0, 0, z), "z") for z in between(root, root + self.eaves))
        below = tuple(cut for cut in post if cut.at[2] < load)
        yield Carrier("post in bending", "normal", below, force)
        yield Carrier("post in shear", "shear", post[-1:], force)
        middle, wall = (self.bore + self.radius) / 2, self.radius - self.bore
        high = self.storey - self.closed
        side = Cut("moving", (0, middle, root + self.closed + high / 2), "x", (wall, wall, high))
        yield ring_side("socket in bending", side, middle, "y", *force)
        both = (force[0], self.bearing_at(load + self.storey, share), pull)
        tilt = (force[1], force[1]) if self.links > 3 else self.tilt_at(load)
        ends = (root + self.corbel, root + self.storey)
        yield self.arm_carrier("arm of a link", "moving", *ends, *both, *tilt)
        yield self.arm_carrier("arm of the base", "fixed", 0, root, *force, pull)
        yield from super().carriers()

    def rules(self) -> Iterable[Rule]:
        storey = self.closed + self.shaft / 2 + 2 * self.play + self.wall
        why = "or a cone, less its play, starts before its socket has closed around the post"
        yield at_least(self.height, self.knuckle + (self.links - 1) * storey, why)
        yield from super().rules()

    def fixed(self) -> Shape:
        links = floor((self.links - 1) / 2)
        sockets = each("i", links, lambda i: self.link().at(z=self.level(2 * i + 1)))
        arms = each("i", links, lambda i: self.link_arm().at(y=self.level(2 * i + 1)))
        posts = each("i", floor(self.links / 2), lambda i: self.post().at(z=self.level(2 * i)))
        leaf = self.leaf_with(self.foot_arm(self.knuckle) + arms)
        return self.base() + posts + (sockets + leaf).mirrored(x=1)

    def moving(self) -> Shape:
        links = floor(self.links / 2)
        sockets = each("i", links, lambda i: self.link().at(z=self.level(2 * i)))
        arms = each("i", links, lambda i: self.link_arm().at(y=self.level(2 * i)))
        posts = floor((self.links - 1) / 2)
        carried = each("i", posts, lambda i: self.post().at(z=self.level(2 * i + 1)))
        return sockets + carried + self.leaf_with(arms)

    def level(self, storeys: float) -> float:
        """Height of the root of a post above the bed."""
        return self.knuckle + storeys * self.storey

    @part
    def base(self) -> Shape:
        """Knuckle on the bed."""
        return revolve(self.footing(self.radius, self.knuckle))

    @part
    def post(self) -> Shape:
        """Root, post and cone."""
        point = rectangle(self.shaft, self.tip).at(0, self.peak)
        return revolve(self.shaft_outline(self.eaves, self.peak + self.tip) - point)

    @part
    def link(self) -> Shape:
        """Link over the cone below: a socket under a pointed roof."""
        outline = polygon(
            (self.bore * self.rim, self.corbel),
            (self.radius, self.corbel),
            (self.radius, self.storey),
            (0, self.storey),
            (0, self.eaves + self.lead + self.bore),
            (self.bore * self.rim, self.eaves + self.lead),
        )
        return self.corbelled(outline)

    @part
    def link_arm(self) -> Shape:
        """Arm to a link, in side view."""
        return self.arm(self.corbel, self.storey)
