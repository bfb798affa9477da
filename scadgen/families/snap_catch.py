"""The snap catch: a hook on an arm that stands on the bed beside a lid, and a ledge on the box.

Box and lid print open and flat, rims up. Shut, the lip of the hook lies below the ledge.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any, ClassVar, cast

from scadgen.hinge.family import derived, family, mm, numbers, quantity
from scadgen.hinge.gaps import Gap
from scadgen.hinge.judged import Judged
from scadgen.hinge.kinds.lid_catch import SHUT, LidCatch
from scadgen.hinge.measures import Measure
from scadgen.hinge.rules import Rule, Serves, at_least, at_most
from scadgen.hinge.shapes import standing
from scadgen.hinge.steps import Steps
from scadgen.strength import anyform, catch, leaf, life, notch, temper
from scadgen.strength import arm as arms
from scadgen.strength.carried import Carrier, Cut, Force, Turn
from scadgen.strength.duty import Duty
from scadgen.strength.filling import in_bending, in_tension
from scadgen.strength.materials import Plastic, Use
from scadgen.strength.place import Strength, Told, source, stiffness, strain
from scadgen.trees.expr import let, maximum, sqrt
from scadgen.trees.solid import Shape, circle, extrude, part, polygon, rectangle

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.hinge.flexing import Flexing
    from scadgen.mechanism.catch import Arm
    from scadgen.mechanism.giving import Giving

#: What is strained as it snaps.
BENT = "arm bent as it snaps"
#: How little of a temper is not worth a word (common practice, no source).
LITTLE = 0.1


@family(
    good="holds a lid shut, and opens by a pull; the arm bends in its layers",
    weak="holds no more than its arm is stiff: a pull opens it",
)
class SnapCatch(LidCatch):
    """Snap catch: an arm beside a lid's wall hooks its lip under a ledge on the box."""

    trust = 0.75
    stretched = "arm_length"
    comes_off = "a pull on the lid bends its arm aside"

    arm: float = mm(2, 0.8, 6, 0.1, "Size", "Thickness of the arm")
    arm_length: float = mm(
        30, 6, 150, 0.5, "Size", "Length of the arm, from its post to the lip", automatic=True
    )
    post: float = mm(6, 2, 40, 0.5, "Size", "Length of the post that carries the arm")
    strain: float = quantity("%", 0.7, 0.1, 40, 0.1, "Fit", "Strain that the plastic lives with")

    @classmethod
    def free_fields(cls) -> tuple[str, ...]:
        return ("lip", "hook_width", "arm", "arm_length", "post")  # the rest is the box's

    @classmethod
    def coupon(cls) -> Steps | None:
        look = (
            "Take one hook at a time, turn it over onto its ledge, press, and pull: note how it "
            "holds and opens; a root that whitens is strained too far."
        )
        box = {"reach": 15, "keeper_height": 12, "hook_height": 6, "wall": 2}
        given = box | {"hook_width": 5, "lip": 1.2, "arm_length": 16, "post": 5, "strain": 3}
        steps = Steps("arm", 1.4, 0.2, 6, look, given=given, per_mm=10, turned=90, bed=150)
        return replace(steps, strains=True)

    def measured(self) -> dict[str, Measure]:
        return {"clearance": Measure.GAP}

    def extents(self) -> tuple[float, float, float]:
        high = anyform.maximum(self.keeper_height - self.clearance, self.tall)
        return 2 * self.reach + self.lip + self.stands_out, self.span, high

    def bulk(self) -> float:
        return self.span * (self.arm + self.lip) * (self.hook_height + self.rise)

    @derived
    def stands_out(self) -> float:
        """How far the post stands out: it is twice as thick as the arm"""
        return self.slot + 2 * self.arm

    @derived
    def span(self) -> float:
        """Length along the wall, from post to end of the ledge"""
        return self.post + self.root + self.keeper_width / 2

    @derived
    def aside(self) -> float:
        """From the lip's middle to that of the length along the wall"""
        return (self.span - self.keeper_width) / 2

    @derived
    def keeper_width(self) -> float:
        """Width of the ledge with its sideways play"""
        return self.hook_width + 2 * (self.slack + self.clearance)

    @derived
    def bent(self) -> float:
        """Farthest that the arm gives"""
        return maximum(self.deflection, self.lip - self.clearance) + self.slack

    @derived
    def sharp(self) -> float:
        """Strain at the root of an arm, at its fillets, as a share of t y/L2"""
        return cast(float, catch.ROOT * notch.factor(1, 2))

    @derived
    def fillet(self) -> float:
        """Radius of the fillets at the root of the arm: half as thick as it"""
        return self.arm / 2

    @derived
    def slim(self) -> float:
        """Least length of an arm, in thicknesses: beam theory asks for it"""
        return 4

    @derived
    def percent(self) -> float:
        """One part in a hundred"""
        return 0.01

    def rules(self) -> Iterable[Rule]:
        yield at_least(
            self.wall, self.thinnest, "or it is too thin to print solid", Serves.PRINTING
        )
        why = "or the arm is too thin to print solid"
        yield at_least(self.arm, self.thinnest, why, Serves.PRINTING)
        length = sqrt(self.sharp * self.arm * self.bent / (self.strain * self.percent))
        why = "or the arm is strained further than it bears"
        yield at_least(self.arm_length, length, why, Serves.STRENGTH)
        why = "or the arm is a block that hardly bends"
        yield at_least(self.arm_length, self.slim * self.arm, why, Serves.STRENGTH)
        why = "or the post bends with its arm"
        yield at_least(self.post, 2 * self.arm, why)
        why = "or the fillet at its root has no room beside the wall"
        yield at_most(self.arm, 2 * self.slot, why, Serves.STRENGTH)
        yield from super().rules()

    def gaps(self) -> Iterable[Gap]:
        yield Gap("between the arm and the wall", self.slot, bed=(0, 0))
        yield from super().gaps()

    @part
    def keeper(self) -> Shape:
        """Patch of the box's wall with the ledge on its outside."""
        top, low = self.keeper_height - self.clearance, let("low", -self.clearance - self.ledge)
        outline = polygon(
            (self.join, low),
            (0, low),
            (-self.lip, low + self.lip),
            (-self.lip, low + self.lip + self.land),
            (0, -self.clearance),
            (self.join, -self.clearance),
        )
        wall = rectangle(self.wall, self.span).at(-self.reach, self.aside - self.span / 2)
        ledge = standing(outline, self.keeper_width).at(-self.reach, 0, self.keeper_height)
        return extrude(wall, top) + ledge

    @derived
    def root(self) -> float:
        """From the middle of the lip to the arm's post"""
        return self.hook_width / 2 + self.arm_length

    @part
    def hook(self) -> Shape:
        """Patch of the lid's wall, the post on it, and the arm with its lip."""
        near = self.aside - self.span / 2
        wall = rectangle(self.wall, self.span).at(self.reach - self.wall, near)
        behind = let("behind", self.root + self.fillet)
        deep = let("deep", self.post - self.fillet)
        foot = rectangle(self.slot + self.join, deep).at(self.reach - self.join, behind)
        arm = rectangle(self.arm, self.span).at(self.reach + self.slot, near)
        # Over the rim it stands off the wall as the arm does, so it is thicker outside.
        post = rectangle(2 * self.arm, deep).at(self.reach + self.slot, behind)
        inner = self.corner().mirrored(x=1).at(self.reach + self.slot, self.root)
        outer = self.corner().at(self.reach + self.slot + self.arm, self.root)
        held = extrude(wall + foot + inner, self.hook_height - self.clearance)
        return held + extrude(arm + post + outer, self.tall) + self.barb_solid()

    @part
    def corner(self) -> Shape:
        """What a fillet fills, seen from above, beside the arm."""
        side = self.fillet + self.join
        return rectangle(side, side).at(-self.join) - circle(self.fillet).at(self.fillet)

    @part
    def barb_solid(self) -> Shape:
        """The lip: it leans out by 45 degrees, so that it prints without support."""
        outline = polygon(
            (self.join, 0),
            (0, 0),
            (-self.lip, self.lip),
            (-self.lip, self.lip + self.land),
            (0, self.ledge),
            (self.join, self.ledge),
        )
        at = self.hook_height + self.barb
        return standing(outline, self.hook_width).at(self.reach + self.slot, 0, at)

    def bending(self) -> Arm:
        from scadgen.mechanism.catch import Arm

        beside = self.reach + self.clearance / 2
        root, tip = (beside, self.root, 0.0), (beside, self.hook_width / 2, 0.0)
        return Arm(root, tip, (1.0, 0.0, 0.0))

    def giving(self) -> Giving:
        from scadgen.hinge.meshing import mesh
        from scadgen.mechanism.giving import Giving
        from scadgen.trees.to_mesh import to_mesh

        def bent(near: float) -> Manifold:
            """All that is farther from the wall, on the way of the arm as it bends."""
            wide = self.slot + self.arm + self.bent - near
            side = rectangle(wide, self.root + self.span / 2 - self.aside)
            side = side.at(self.reach + near, self.aside - self.span / 2)
            return to_mesh(extrude(side, self.tall), numbers(self))

        def passing() -> Manifold:
            hook = mesh(self, "moving", 0.0).trim_by_plane((1, 0, 0), float(self.reach))
            return hook + bent(self.slot)

        return Giving("arm of the hook", lambda: bent(self.clearance / 2), passing, (0, SHUT))

    def figures(self) -> dict[str, float]:
        told = {
            "arm gives way by (mm)": self.deflection,
            "hook stands out by (mm)": self.stands_out,
        }
        more = {"hook stands above the rim by (mm)": self.rise}
        shut = {"lid comes up, shut, before it is held, by (mm)": self.drop}
        return super().figures() | told | more | shut

    def practice(self, duty: Duty, plastic: Plastic) -> Judged:
        usual = super().practice(duty, plastic)
        soft, brittle = 1 - temper.stiffness(plastic), 1 - temper.toughness(plastic)
        words = usual.words
        if soft > LITTLE:
            words += "; so soft an arm holds little"
        if brittle > LITTLE:
            words += "; the arm snaps off when a brittle plastic is knocked"
        return Judged(usual.worth * (1 - soft) * (1 - brittle / 2), words)

    def fitted(self, duty: Duty, plastic: Plastic) -> dict[str, float]:
        return {"strain": life.permissible(plastic, duty.cycles).percent / duty.margin}

    @property
    def pushed_at(self) -> float:
        """From the middle of the arm's height up to where the lip is pushed (mm)."""
        return self.hook_height + self.barb + self.lip - self.tall / 2

    def pushed(self, way: float, modulus: float, poisson: float) -> float:
        """Force (N) that bends the arm aside by a way (mm)."""
        bent = catch.snap_strain(self.arm, way, self.arm_length)
        force = catch.deflection_force(bent, self.tall, self.arm, self.arm_length, modulus)
        ratio = 2 * (1 + poisson)
        return cast(float, force * catch.twisting_share(self.pushed_at, self.arm_length, ratio))

    def flexing(self) -> Iterable[Flexing]:
        from scadgen.hinge.flexing import Flexing
        from scadgen.hinge.meshing import mesh

        low, tip = self.hook_height + self.barb + self.lip, self.reach + self.clearance
        yield Flexing(
            BENT,
            "arm of the hook",
            lambda: mesh(self, "moving", 0.0).trim_by_plane((1, 0, 0), self.reach),
            held=self.reach,
            root=float(self.root),
            outside=float(self.reach + self.slot + self.arm),
            thickness=self.arm,
            pushed=(
                (tip, self.hook_width / 2, float(low)),
                (tip, self.hook_width / 2, float(low + self.land)),
            ),
            way=float(self.bent),
            force=self.pushed,
        )

    def efforts(self, plastic: Plastic) -> dict[str, Any]:
        modulus = plastic.weak_end("modulus", Use.BEND)
        force = self.pushed(self.deflection, modulus, 0.0)
        push = catch.closing_force(force, self.lead - self.slant)
        return {"push on the lid that closes it (N)": push}

    answers = ("load", "lever", "cycles", "hours", "celsius")
    not_measured: ClassVar[Mapping[str, str]] = {
        "pull that opens it": "the arm's stiffness and friction decide, no stress in a section",
    }

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        told, pull = Told(duty, plastic), self.lifted(duty)
        bent = catch.snap_strain(self.arm, self.bent, self.arm_length)
        bent = bent * notch.factor(self.fillet, self.arm)
        borne = life.permissible(plastic, duty.cycles).percent
        yield strain(BENT, bent, borne, catch, "more arm length")
        poisson = plastic.weak_end("poisson", Use.BEND)
        force = self.pushed(self.gripping, stiffness(plastic, duty), poisson)
        opens = catch.holding_force(force, 45 + self.slant)
        opens = opens * in_bending(self.arm, self.tall).share(plastic.filling)
        change = "a thicker and longer arm"
        yield Strength("pull that opens it", pull, opens, "N", source(catch), change)
        out, above = (self.arm + self.lip) / 2, self.lip / 2
        torn = catch.hook_stress(pull, self.hook_width, self.arm, out, above)
        section = in_bending(self.arm, self.hook_width)
        name, wider = "hook torn off its arm", "more hook width"
        yield told.stress(name, torn, section, catch, wider, across=True)
        edge = leaf.bending_stress(pull, self.root, self.arm, self.tall)
        section = in_bending(self.tall, self.arm)
        yield told.stress("arm lifted on edge", edge, section, leaf, "a thicker arm")
        yield self.post_strength(pull, told)
        shorn = catch.ledge_shear(pull, self.keeper_width, self.ledge)
        section = in_tension(self.ledge, self.keeper_width)
        name = "ledge sheared off"
        yield told.stress(name, shorn, section, catch, wider, across=True, shear=True)
        yield from super().strengths(duty, plastic)

    def post_strength(self, pull: float, told: Told) -> Strength:
        """The post where it meets the wall, twisted and bent by a pull on the hook (N)."""
        high = self.hook_height - self.clearance
        bent = leaf.root_stress(pull * self.from_post, self.post, high)
        torque = pull * (self.root + self.post / 2)
        shorn = arms.twisting(torque, self.post, high)
        both = arms.together(bent, shorn, 1 / told.plastic.layer_share)
        section = in_bending(self.post, high)
        return told.stress("post twisted off the wall", both, section, arms, "a longer post")

    @property
    def from_post(self) -> float:
        """From where the post meets the wall to the middle of the arm (mm)."""
        return self.slot + self.arm / 2

    def carriers(self) -> Iterable[Carrier]:
        middle = self.reach + self.slot + self.arm / 2
        root = Cut("moving", (middle, self.root - self.join, self.tall / 2), "y")
        turn = math.degrees(catch.end_slope(self.bent, self.arm_length))
        yield Carrier(BENT, "bend", (root,), turn=Turn(turn, self.arm_length))
        foot = self.hook_height + self.barb
        at = (self.reach + self.slot - self.lip / 2, 0.0, foot + self.lip / 2)
        lift, aside = (Force("load", at, along, over=self.pries) for along in "zx")
        window = (2 * self.arm, self.hook_width, math.inf)
        hook = Cut("moving", (middle, 0, foot), "z", window)
        yield Carrier("hook torn off its arm", "normal", (hook,), (lift, aside))
        yield Carrier("arm lifted on edge", "normal", (root,), (lift,))
        across = self.reach + self.clearance / 2
        beside = (across, self.root + self.post / 2, (self.hook_height - self.clearance) / 2)
        yield Carrier("post twisted off the wall", "both", (Cut("moving", beside, "x"),), (lift,))
        bottom = self.keeper_height - self.clearance - self.ledge
        ledge = Cut("fixed", (-self.reach - self.join, 0, bottom + self.ledge / 2), "x")
        yield Carrier(
            "ledge sheared off", "shear", (ledge,), (Force("load", ledge.at, "z", over=self.pries),)
        )
        yield from super().carriers()
