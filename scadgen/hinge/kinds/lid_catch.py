"""What catches of lids share: two walls that come together as a lid turns, and what holds them.

Box and lid print open and flat, rims up: the box at negative x, the lid at positive x, the axis of
their hinge along y above the line x = 0. A half turn shuts the lid. The ledge of a keeper stands
out of the box's wall, a lip reaches below it from the lid's; both lean by 45 degrees where they
latch.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, ClassVar, cast

from scadgen.hinge.exported import Export
from scadgen.hinge.family import Hinge, Piece, deg, derived, mm
from scadgen.hinge.gaps import Gap, Grip
from scadgen.hinge.rules import Rule, Serves, at_least, at_most
from scadgen.hinge.shapes import standing, swept
from scadgen.mechanism.joint import CATCH
from scadgen.strength import anyform, catch
from scadgen.strength.carried import Lever
from scadgen.strength.duty import Duty
from scadgen.trees.expr import atan, cos, maximum, sqrt, tan, where
from scadgen.trees.solid import Shape, part, rectangle

if TYPE_CHECKING:
    from scadgen.mechanism.catch import Arm
    from scadgen.mechanism.giving import Giving
    from scadgen.mechanism.mechanism import Mechanism

#: Position at which the lid is shut, degrees.
SHUT = 180.0


@dataclass(frozen=True, kw_only=True)
class LidCatch(Hinge):
    """A hook on a lid, whose arm gives way aside, and a keeper on its box."""

    kind: ClassVar[str] = "catch"
    posture: ClassVar[str] = "flat on the bed, rims up: keeper and arm stand beside their walls"
    serves: ClassVar[str] = "catch"

    angle: float = deg(0, 0, 180, 1, "Part", "Angle drawn; 0 is how it prints, 180 is shut")
    swing: float = deg(160, 15, 178, 1, "Part", "Turn that must be free before it snaps")
    reach: float = mm(30, 15, 400, 0.5, "Size", "From the hinge's axis to the outside of the walls")
    keeper_height: float = mm(20, 8, 200, 0.5, "Size", "Height of the box's wall, up to its rim")
    hook_height: float = mm(10, 4, 100, 0.5, "Size", "Height of the lid's wall, up to its rim")
    wall: float = mm(2, 0.8, 8, 0.1, "Size", "Thickness of the walls that carry it")
    slack: float = mm(0.3, 0, 2, 0.05, "Fit", "Play of the hinge that the lip must outlast")
    hold: float = mm(0.6, 0.3, 4, 0.1, "Fit", "Grip of the lip that is left after all play")
    hook_width: float = mm(8, 3, 60, 0.5, "Size", "Width of the lip")
    lip: float = mm(1.6, 0.8, 6, 0.1, "Size", "How far lip and ledge stand out")
    lead: float = deg(35, 20, 45, 1, "Size", "Slope that leads the lip in, from upright")

    def lowest(self) -> float:
        return 0

    @derived
    def axis_at(self) -> float:
        """Height of the hinge's axis: half of wall plus lid"""
        return (self.keeper_height + self.hook_height) / 2

    @derived
    def land(self) -> float:
        """Height of a lip's blunt end: two layers"""
        return 2 * self.layer

    @derived
    def ramp(self) -> float:
        """Height of the slope that leads in"""
        return self.lip / tan(self.lead)

    @derived
    def ledge(self) -> float:
        """Height of the ledge at its root"""
        return self.lip + self.land + self.ramp

    @derived
    def slot(self) -> float:
        """Air between the arm and the wall: a lip, and the clearance beside it"""
        return self.lip + self.clearance

    @derived
    def drop(self) -> float:
        """How far a shut lid lifts until the latch faces meet"""
        return sqrt(2) * self.clearance + self.layer

    @derived
    def barb(self) -> float:
        """Way above the lid's rim at which the latch face begins"""
        return self.land + self.ramp + self.drop

    @derived
    def rise(self) -> float:
        """Way by which the hook stands above the lid's rim"""
        return self.barb + self.ledge

    @derived
    def rim(self) -> float:
        """Height of the shut rims over the axis, or under it"""
        return (self.keeper_height - self.hook_height) / 2

    @derived
    def ledge_at(self) -> float:
        """Height of the ledge's upper corner over the axis, when shut"""
        return self.rim - self.clearance - self.ramp

    @derived
    def lip_at(self) -> float:
        """The same of the lip"""
        return self.rim - self.barb - self.lip

    @derived
    def outer(self) -> float:
        """Farthest that the ledge's end is from the axis' height"""
        return maximum(self.ledge_at, self.land - self.ledge_at)

    @derived
    def inner(self) -> float:
        """Nearest that the lip's end comes to it"""
        return maximum(0, self.lip_at - self.land, -self.lip_at)

    @derived
    def deflection(self) -> float:
        """Way by which the arm gives as the lip passes: the ledge's end turns about the axis"""
        return self.passing - self.reach - self.clearance

    @derived
    def passing(self) -> float:
        """From the axis to the ledge's end along the lid, where it passes the lip's end"""
        far, turned = self.reach + self.lip, self.outer * self.outer - self.inner * self.inner
        return sqrt(maximum(0, far * far + turned))

    @derived
    def swerve(self) -> float:
        """Way, at most, by which the lip swings out of the ledge's way as it turns"""
        below, apart = self.land - self.lip_at - self.ledge_at, self.drop + self.lip
        return maximum(0, below) * (apart - self.clearance) / (self.reach + self.lip)

    @derived
    def play(self) -> float:
        """Way that the lip loses of its grip: the clearance, and the play of the hinge"""
        return self.clearance + self.slack

    @derived
    def locked(self) -> float:
        """Slope, from the way in, at which friction may stop the lip"""
        return cast(float, catch.locked_from(catch.MOST_FRICTION))

    @derived
    def brush(self) -> float:
        """Room beside the box's rim, as far as the rim may swing out"""
        return self.lip * (2 * self.reach + self.lip)

    @derived
    def highest_rim(self) -> float:
        """Greatest height of the shut rims above the axis at which the box's clears the arm"""
        deep = self.brush > self.rise * self.rise
        return where(deep, (self.brush / self.rise + self.rise) / 2, sqrt(self.brush))

    @derived
    def shut(self) -> float:
        """Turn from how it prints to shut"""
        return 180

    @derived
    def sweeps(self) -> float:
        """Steps in which a relief follows the other side"""
        return self.shut / 2

    @derived
    def tall(self) -> float:
        """Height of the hook, from the bed"""
        return self.hook_height + self.rise

    @derived
    def room(self) -> float:
        """Room around what a relief follows: the clearance is left between steps"""
        farthest = self.reach + self.stands_out + self.keeper_height + self.tall
        return self.clearance + farthest * (1 - cos(self.stride / 2))

    def highest(self) -> float:
        return self.shut

    def rules(self) -> Iterable[Rule]:
        grip = self.lip - self.play - self.swerve
        yield at_most(self.hold, grip, "or the lip slips past the ledge")
        why = "or the hook reaches below the box"
        yield at_least(self.keeper_height, self.rise, why, Serves.MOTION)
        high = self.hook_height + 2 * self.reach * tan(self.lead)
        why = "or the lip swings out past the slope that leads it in"
        yield at_most(self.keeper_height, high, why, Serves.MOTION)
        why = "or the box's rim strikes the arm as the lid turns"
        high = self.hook_height + 2 * self.highest_rim
        yield at_most(self.keeper_height, high, why, Serves.MOTION)
        slope = self.reach * tan(self.locked - self.lead)
        low = self.keeper_height + 2 * (slope - self.rise)
        why = "or friction may stop the lip on its way in"
        yield at_most(self.hook_height, low, why, Serves.MOTION)
        met = 180 - atan(self.rise / self.reach)
        yield at_most(self.swing, met, "or the lip meets the ledge before", Serves.MOTION)
        # Drawn it may be at any angle up to shut, past the turn that is free.
        yield from (rule for rule in super().rules() if rule.param != "angle")

    def gaps(self) -> Iterable[Gap]:
        yield Gap("between the lip and the box's wall, when shut", self.clearance)
        yield Gap("under the ledge, when shut", self.drop / sqrt(2), lean=45)

    def grips(self) -> Iterable[Grip]:
        yield Grip("the lip under its ledge", self.gripping, self.hold, of=CATCH)

    @derived
    def gripping(self) -> float:
        """Grip of the lip that is left, when the hinge has played and the lip has swung out"""
        return self.lip - self.play - self.swerve

    def exported(self) -> Iterable[Export]:
        yield Export("axis_height", self.axis_at, "Height of the axis of the lid (mm)")
        yield Export("length_taken", self.span, "Length taken along the wall (mm)")
        yield from super().exported()

    def pieces(self) -> Iterable[Piece]:
        yield Piece(("both", "fixed"), self.keeper())
        yield Piece(("both", "moving"), self.turned(self.hook()))
        yield Piece(("fixed_relief",), self.fixed_relief())
        yield Piece(("moving_relief",), self.turned(self.moving_relief()))

    def keeper(self) -> Shape:
        """The box's side."""
        raise NotImplementedError

    def hook(self) -> Shape:
        """The lid's side, as it prints."""
        raise NotImplementedError

    def turned(self, solid: Shape) -> Shape:
        """A solid on the lid, carried along by the angle."""
        return self.about_axis(solid.at(z=-self.axis_at).turned(y=-self.angle))

    def carried(self, solid: Shape) -> Shape:
        return self.turned(solid)

    def about_axis(self, solid: Shape) -> Shape:
        """A solid that is drawn around the axis, put where that is."""
        return solid.at(z=self.axis_at)

    @part
    def roomy(self, near: float, width: float, height: float) -> Shape:
        """Outline in x and z of what stands on the bed, with room."""
        sides = rectangle(width + 2 * self.room, height + 2 * self.room)
        return sides.at(near - self.room, -self.axis_at - self.room)

    @part
    def fixed_relief(self) -> Shape:
        """Room that the lid's side sweeps: subtract it from the box, then add the keeper."""
        rim = self.hook_height - self.clearance
        wall = self.roomy(self.reach - self.wall, self.wall + self.stands_out, rim)
        arm = self.roomy(self.reach + self.slot, self.stands_out - self.slot, self.tall)
        lip = self.roomy(self.reach + self.clearance, self.lip, self.tall)
        along = standing(self.swept_up(wall) + self.swept_up(arm), self.span + 2 * self.clearance)
        lips = standing(self.swept_up(lip), self.hook_width + 2 * self.clearance)
        return self.about_axis(along.at(y=self.aside) + lips)

    @part
    def moving_relief(self) -> Shape:
        """Room that the box's side sweeps, seen from the lid: subtract it, then add the hook."""
        rim = self.keeper_height - self.clearance
        wall = self.swept_up(self.roomy(self.reach - self.wall, self.wall, rim))
        ledge = self.swept_up(self.roomy(self.reach, self.lip, rim))
        along = standing(wall.mirrored(x=1), self.span + 2 * self.clearance)
        ledges = standing(ledge.mirrored(x=1), self.keeper_width + 2 * self.clearance)
        return self.about_axis(along.at(y=self.aside) + ledges)

    @part
    def swept_up(self, outline: Shape) -> Shape:
        """An outline on its way to shut."""
        return swept(outline, 0, self.stride, self.sweeps)

    @derived
    def stands_out(self) -> float:
        """Way by which it stands out of the wall"""
        raise NotImplementedError

    @derived
    def span(self) -> float:
        """Length along the wall"""
        raise NotImplementedError

    @derived
    def aside(self) -> float:
        """From the lip's middle to that of the length along the wall"""
        raise NotImplementedError

    @derived
    def keeper_width(self) -> float:
        """Width of the ledge"""
        raise NotImplementedError

    def mechanism(self) -> Mechanism:
        from scadgen.hinge.meshing import mesh
        from scadgen.mechanism.catch import Catch
        from scadgen.mechanism.contact import Contact
        from scadgen.mechanism.mechanism import Body
        from scadgen.motion.axis import Axis

        bottom = self.keeper_height - self.clearance - self.ledge
        middle = (-self.reach - self.lip / 2, 0.0, bottom + self.lip / 2)
        joint = Catch(
            fixed="fixed",
            moving="moving",
            asked=(0, self.swing),
            about=Axis((0, 0, self.axis_at), (0, -1, 0)),
            engaged=SHUT,
            arm=self.bending(),
            giving=self.giving(),
            deflection=self.deflection,
            clearance=self.clearance,
            grip=self.slack + self.hold,
            latch=((self.lip, self.keeper_width, self.lip), middle),
            openings=self.openings,
            posed=partial(mesh, self, "moving"),
        )
        radius = math.hypot(self.lip, self.keeper_width) / 2
        meant = Contact("fixed", "moving", SHUT, middle, radius)
        names = {"fixed": "keeper", "moving": "hook"}
        bodies = (Body(side, of, partial(mesh, self, side, 0.0)) for side, of in names.items())
        whole = replace(super().mechanism(), bodies=tuple(bodies), joints=(joint,))
        return replace(whole, contacts=(meant,))

    def bending(self) -> Arm:
        """What bends of the hook."""
        raise NotImplementedError

    def giving(self) -> Giving:
        """The room that it takes as it bends."""
        raise NotImplementedError

    def openings(self) -> list[tuple[float, float]]:
        """Gap between the outsides of both rims, from shut to open (mm): a lid pinches."""
        return [(0.0, 2 * float(self.reach))]

    @property
    def slant(self) -> float:
        """Way of the lip where it meets the ledge, from upright (degrees): out as it comes down."""
        return cast(float, anyform.atan(self.lip_at / self.reach))

    def lifted(self, duty: Duty) -> float:
        """Pull on the hook (N): a load beyond it pries; one nearer the axis counts in full."""
        return cast(float, duty.load * anyform.maximum(1, duty.lever / self.reach))

    @property
    def pries(self) -> Lever:
        """The lever by which a load pulls at the hook."""
        return Lever(0, self.reach, 1)
