"""A detent of a lying hinge: noses on flexing arms that click in between bumps of the end knuckles.

An arm stands on the bed beside either end of the hinge, solid with the moving leaf. It is a bar in
the layers, square to the axis, and bends away along the axis. The nose at its end faces the flat
end of the outermost knuckle, which is of the fixed link; there two bumps stand, one at each side of
the nose at the turn where it clicks. Noses and bumps are cones of 45 degrees with blunt ends.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar, cast

from scadgen.hinge.exported import Export
from scadgen.hinge.family import Piece, numbers
from scadgen.hinge.kinds.detent_size import ARMS, DetentSizes
from scadgen.hinge.shapes import about_x, at_both_ends, swept
from scadgen.hinge.steps import Steps
from scadgen.mechanism.joint import DETENT
from scadgen.strength import anyform, catch, life, notch
from scadgen.strength.carried import Carrier, Cut, Turn
from scadgen.strength.duty import Duty
from scadgen.strength.filling import in_bending
from scadgen.strength.materials import Plastic, Use
from scadgen.strength.place import Strength, strain
from scadgen.text.numbers import digits
from scadgen.trees.solid import Shape, choose, each, extrude, hull, part, polygon, rectangle, union

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.hinge.flexing import Flexing
    from scadgen.mechanism.mechanism import Mechanism

#: What is strained as it clicks.
BENT = "arm of the detent as it clicks"
#: What is strained as long as friction holds it.
HELD_BENT = "arm of the detent held bent"


@dataclass(frozen=True, kw_only=True)
class Clicking(DetentSizes):
    """A lying pivot that a detent may hold at one turn."""

    #: What else a family's coupon of its detent is given.
    coupon_given: ClassVar[Mapping[str, float]] = {}

    @classmethod
    def more_coupons(cls) -> Iterable[Steps]:
        look = (
            "Turn each moving link to and fro past its bumps, a few times: note how it clicks; an "
            "arm whose root whitens is strained too far."
        )
        leaves = {"leaf_thickness": 2.4, "leaf_corner": 0, "leaf_length": 22, "facets": 32}
        arms = {"detent_at": 110, "swing": 150, "detent_arm": 16, "detent_thickness": 1.4}
        yield Steps(
            "detent_height",
            1.3,
            0.2,
            5,
            look,
            given={**leaves, **arms, **cls.coupon_given},
            per_mm=10,
            bed=150,
            of=DETENT,
            strains=True,
        )

    def pieces(self) -> Iterable[Piece]:
        apart = self.detent_also - self.detent_at
        turn = self.detent_at
        bumps = each("i", self.detents, lambda i: self.bumps_beside(turn + i * apart))
        bumps = choose(self.rubs, self.ridge(), bumps)
        arms = at_both_ends(self.detent_arms() + self.noses())
        more = {"fixed": at_both_ends(bumps), "moving": self.posed(arms)}
        for piece in super().pieces():
            added = more.get(piece.parts[-1])
            if added is None:
                yield piece
            else:
                yield replace(piece, solid=piece.solid + choose(self.clicks, added))

    @part
    def frustum(self) -> Shape:
        """Blunt 45-degree cone."""
        base, blunt = self.detent_base, self.line_width
        outline = polygon(
            (0, -self.join),
            (base, -self.join),
            (base, 0),
            (blunt, self.detent_height),
            (0, self.detent_height),
        )
        return about_x(outline).at(z=-self.detent_radius)

    @part
    def bumps_beside(self, at: float) -> Shape:
        """Bumps at either side of a turn."""
        near, far = at - self.detent_step, at + self.detent_step
        pair = self.frustum().turned(x=near) + self.frustum().turned(x=far)
        return pair.at(self.length / 2, 0, self.axis_at)

    @part
    def ridge(self) -> Shape:
        """Bumps in a row that are one, on which a nose rides from a turn to another."""

        def bump(k: float) -> Shape:
            return self.frustum().turned(x=self.detent_at + k * self.ridge_stride)

        row = each("k", self.ridge_stretches, lambda k: hull(bump(k), bump(k + 1)))
        return row.at(self.length / 2, 0, self.axis_at)

    @part
    def noses(self) -> Shape:
        """The nose of an arm, as it prints."""
        face = self.length / 2 + self.detent_gap
        return self.frustum().mirrored(x=1).at(face, 0, self.axis_at)

    @part
    def detent_arms(self) -> Shape:
        """Arm and its block."""
        side = self.length / 2
        long = self.detent_base + self.detent_arm + self.detent_block
        arm = rectangle(self.detent_thickness, long).at(side + self.detent_gap, -self.detent_base)
        wide = self.detent_gap + 2 * self.join
        block = rectangle(wide, self.detent_block).at(side - self.join, self.detent_arm)
        return extrude(arm + block, self.detent_tall)

    @part
    def arm_room(self) -> Shape:
        """Arm and block, with room."""
        behind = self.detent_base + self.room
        long = behind + self.detent_arm + self.detent_block + self.room
        high = self.detent_tall + 2 * self.room
        return rectangle(long, high).at(-behind, -self.axis_at - self.room)

    @part
    def arm_slot(self) -> Shape:
        """Room in which an arm bends, in a body on its own side."""
        behind = self.detent_base + self.clearance
        slot = rectangle(self.detent_end, behind + self.detent_arm).at(self.length / 2, -behind)
        high = self.detent_tall + self.clearance
        return extrude(slot, high + 1).at(z=-1)

    def fixed_relief(self) -> Shape:
        way = swept(self.arm_room(), 0, self.stride, self.sweeps)
        return super().fixed_relief() + choose(self.clicks, self.relieved_along(way))

    def moving_relief(self) -> Shape:
        return super().moving_relief() + choose(self.clicks, at_both_ends(self.arm_slot()))

    def leaf_cut(self, way: float) -> Cut:
        cut = super().leaf_cut(way)
        between_arms = (self.length, math.inf, math.inf)
        return replace(cut, window=between_arms) if self.clicks else cut

    def mechanism(self) -> Mechanism:
        from scadgen.mechanism.detent import Detent, Spring

        whole = super().mechanism()
        if not self.clicks:
            return whole
        springs = tuple(
            Spring(
                partial(self._bumps, way),
                partial(self._nose, way),
                (way, 0, 0),
                partial(self._bent, way),
            )
            for way in (1, -1)
        )
        way, step = float(self.detent_way), float(self.detent_step)
        to = float(self.detent_to)
        detent = Detent(self.detent_turns, step, way, springs, self.moments, to)
        (turn,) = whole.joints
        return replace(whole, joints=(replace(cast(Any, turn), detent=detent),))

    def stop_words(self) -> str:
        turns = " and ".join(digits(at) for at in self.detent_turns)
        does = f"; a detent clicks at {turns} deg" if turns else ""
        if self.rubs:
            does = f"; friction holds it from {turns} to {digits(self.detent_to)} deg"
        return super().stop_words() + does

    def _bumps(self, way: int) -> Manifold:
        """The bumps at one end of the hinge, as they print (mm)."""
        bumps = self.ridge() if self.rubs else union(*map(self.bumps_beside, self.detent_turns))
        return self._end(bumps, way)

    def _nose(self, way: int) -> Manifold:
        """The nose at one end of the hinge, as it prints (mm)."""
        return self._end(self.noses(), way)

    def _bent(self, way: int) -> Manifold:
        """The arm at one end of the hinge, with all that it bends through (mm)."""
        wide = self.detent_end - self.side_gap - self.clearance
        outline = rectangle(wide, self.detent_base + self.detent_arm)
        outline = outline.at(self.length / 2 + self.side_gap, -self.detent_base)
        return self._end(extrude(outline, self.detent_tall), way)

    def _end(self, shape: Shape, way: int) -> Manifold:
        from scadgen.trees.to_mesh import to_mesh

        return cast("Manifold", to_mesh(shape if way > 0 else shape.mirrored(x=1), numbers(self)))

    def figures(self) -> dict[str, float]:
        told = {"arms of the detent give way by (mm)": float(self.detent_way)}
        return super().figures() | (told if self.clicks else {})

    def exported(self) -> Iterable[Export]:
        words = "Room beyond each end for a detent's arms, or for the links' play (mm)"
        yield Export("detent_end", self.end_room, words)
        yield from super().exported()

    def efforts(self, plastic: Plastic) -> dict[str, Any]:
        import numpy as np

        usual = super().efforts(plastic)
        if not np.any(self.clicks):
            return usual
        return usual | {"moment that a detent asks to pass (N mm)": self.moments(plastic)[1]}

    def moments(self, plastic: Plastic) -> tuple[float, float]:
        """Moment that the detent holds at the least, and asks at the most, to be passed (N mm).

        Noses slide on flanks of 45 degrees, on a ridge on its flat top. At the least the plastic is
        as soft, and rubs as little, as it may; at the most as stiff, and as much.
        """
        solid = in_bending(self.detent_thickness, self.detent_tall).share(plastic.filling)
        soft = self.pressed(solid * plastic.weak_end("modulus", Use.CARRY))
        stiff = self.pressed(plastic.weak_end("modulus", Use.BEND))
        slope = anyform.where(self.rubs, 0, 45)
        held, asked = catch.holding_force(soft, slope), catch.closing_force(stiff, slope)
        return held * self.detent_radius, asked * self.detent_radius

    def pressed(self, modulus: float) -> float:
        """Force of both arms as their noses pass a bump (N): its sum is the same in all play."""
        return ARMS * self.pushed(self.detent_way, modulus, 0.0)

    def pushed(self, way: float, modulus: float, poisson: float) -> float:
        """Force (N) that bends an arm aside by a way (mm)."""
        thick, long = self.detent_thickness, self.detent_arm
        bent = catch.snap_strain(thick, way, long)
        force = catch.deflection_force(bent, self.detent_tall, thick, long, modulus)
        beside = self.detent_tall / 2 - self.detent_base  # a tall arm is pushed near its top
        ratio = 2 * (1 + poisson)
        return cast(float, force * catch.twisting_share(beside, long, ratio))

    def flexing(self) -> Iterable[Flexing]:
        from scadgen.hinge.flexing import Flexing
        from scadgen.hinge.meshing import mesh

        if not self.clicks:
            return
        side, blunt = self.length / 2, self.line_width
        tip, low = float(side + self.side_gap), float(self.axis_at - self.detent_radius)
        yield Flexing(
            HELD_BENT if self.rubs else BENT,
            "arm of the detent",
            lambda: mesh(self, "moving", 0.0).trim_by_plane((1, 0, 0), side),
            held=side,
            root=self.detent_arm,
            outside=float(side + self.detent_gap + self.detent_thickness),
            thickness=self.detent_thickness,
            pushed=((tip, -blunt, low - blunt), (tip, blunt, low + blunt)),
            way=self.detent_height,
            force=self.pushed,
        )

    def carriers(self) -> Iterable[Carrier]:
        if self.clicks:
            across = self.length / 2 + self.detent_gap + self.detent_thickness / 2
            root = Cut("moving", (across, self.detent_arm - self.join, self.detent_tall / 2), "y")
            turn = math.degrees(catch.end_slope(self.detent_height, self.detent_arm))
            bent = Turn(turn, self.detent_arm)
            corner = float(notch.factor(self.line_width, self.detent_thickness))
            name = HELD_BENT if self.rubs else BENT
            yield Carrier(name, "bend", (root,), turn=bent, peak=corner)
        yield from super().carriers()

    def strengths(self, duty: Duty, plastic: Plastic) -> Iterable[Strength]:
        import numpy as np

        if np.any(self.clicks):
            thick, long = self.detent_thickness, self.detent_arm
            # In the play of the links one of the arms gives way by a whole nose.
            bent = catch.snap_strain(thick, self.detent_height, long)
            bent = anyform.where(self.clicks, bent * notch.factor(self.line_width, thick), 0)
            borne = life.permissible(plastic, duty.cycles).percent
            rubs = np.any(self.rubs)
            borne = anyform.where(self.rubs, min(borne, life.held_bent(plastic).percent), borne)
            name = HELD_BENT if rubs else BENT
            arm = strain(name, bent, borne, catch, "a longer arm of the detent")
            yield replace(arm, sized=False)  # nobody knows how firmly it is to click
        yield from super().strengths(duty, plastic)
