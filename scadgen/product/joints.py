"""The joints of a product: those of its hinges, where they are, with the bodies in place of links.

A turn is proven on the bodies themselves. A joint of any other kind is proven as its own kind has
it, on the bodies carried back to where the hinge is drawn.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache, cached_property, partial
from typing import TYPE_CHECKING, ClassVar

from scadgen.mechanism.fold import Fold, centroid
from scadgen.mechanism.joint import Case, Joint, JointProof
from scadgen.mechanism.mechanism import Body, Mechanism, Piece, titled
from scadgen.mechanism.turn import Turn
from scadgen.product.frames import Frame
from scadgen.tables.documents import JobError

if TYPE_CHECKING:
    from collections.abc import Sequence  # noqa: F401 - fields that are inherited name it

    from manifold3d import Manifold

    from scadgen.caging.certificate import Certificate, Uncertified
    from scadgen.findings.finding import Finding
    from scadgen.mechanism.detent import Detent  # noqa: F401 - as above
    from scadgen.motion.axis import Axis  # noqa: F401 - as above
    from scadgen.motion.chains import Chain
    from scadgen.product.fitting import Fitted
    from scadgen.strength.duty import Duty

#: Rims come within the clearance at this many times the turn at which an arc from the edges that
#: are nearest to the axis is as long: they close in at a slant.
SLANT = 1.2


@dataclass(frozen=True, eq=False, kw_only=True)
class MergedTurn(Turn):
    """A turn of bodies with a hinge merged into them.

    alone: the hinge by itself, where it is. Its links lie in the bodies whole, so that bodies are
    held wherever links are: what is added to a body only stands in more ways. bare: the bodies
    without what catches them, by name, where a catch is meant to bend out of the way; mm. heading:
    the way from the fixed to the moving one, degrees from x. duty: what is asked of it alone, in
    place of what is asked of all.
    """

    alone: Mechanism
    bare: Mapping[str, Callable[[], Manifold]] = field(default_factory=dict)
    heading: float = 90.0
    duty: Duty | None = None

    def prove(self, whole: Mechanism, case: Case) -> JointProof:
        case = replace(case, duty=self.duty or case.duty)
        if not set(self.pair) <= set(self.bare):
            return super().prove(whole, case)
        bodies = tuple(
            replace(body, draw=self.bare.get(body.name, body.draw)) for body in whole.bodies
        )
        without = replace(whole, bodies=bodies)
        proof = super().prove(without, case)
        found = proof.findings, self._past_catches(whole, without)
        return replace(proof, findings=tuple(itertools.chain(*found)), near=None)

    def _past_catches(self, whole: Mechanism, without: Mechanism) -> Iterator[Finding]:
        """Either body with its side of the catches, past the other without."""
        from scadgen.findings.on_motion import Pose, free_turn, sound
        from scadgen.motion.rest import body
        from scadgen.motion.swing import swing

        for fixed, moving in ((whole, without), (without, whole)):
            one, other = fixed.body(self.fixed), moving.body(self.moving)
            caught = one if fixed is whole else other
            yield sound(f"{caught.title} with its catches", body(caught.solid))
            stiff = self.stiff(one.solid, whole)
            turn = swing(stiff, other.solid, self.about, within=(0.0, 0.0))
            pose = Pose(stiff, other.solid, self.about, self.printed_at)
            free = free_turn(turn.counted(self.printed_at), self.asked_told, pose)
            yield replace(free, name=f"swing past the catch on the {caught.title}")

    def cage(self, whole: Mechanism) -> Certificate | Uncertified:
        return super().cage(self.alone)


@dataclass(frozen=True, eq=False, kw_only=True)
class Placed(Joint):
    """A joint of any other kind, merged into bodies. own: it; frame: where its hinge is."""

    own: Joint
    frame: Frame

    def moved(self, solid: Manifold, to: float) -> Manifold | None:
        there = self.own.moved(self.frame.back.carry(solid), to)
        return None if there is None else self.frame.carry(there)

    def prove(self, whole: Mechanism, case: Case) -> JointProof:
        bodies = tuple(
            Body(own, whole.body(name).title, partial(_back, whole.body(name), self.frame))
            for own, name in zip(self.own.pair, self.pair, strict=True)
        )
        found = self.own.prove(Mechanism(whole.name, bodies, (self.own,)), case)
        return JointProof(self, found.findings)


@dataclass(frozen=True, eq=False, kw_only=True)
class PlacedFold(Placed):
    """A flexure between bodies, which are one piece with it. alone: the flexure by itself."""

    fuses: ClassVar[bool] = True

    own: Fold
    alone: Mechanism

    @property
    def fold_line(self) -> tuple[float, float, float]:
        x, y = Frame(turn=self.frame.turn).point(*self.own.line[:2])
        return x, y, self.own.line[2]

    @cached_property
    def chain(self) -> Chain | None:
        own = self.own.chain
        return own and own.carried(self.frame.carry, self.frame.carry_axis)

    def moved(self, solid: Manifold, to: float) -> Manifold:
        """Carried along with the moving border: turned about the lines, then shifted as it is."""
        turned = [to * value for value in self.own.line]
        shift = self._shift(to)
        return self.frame.carry(self.frame.back.carry(solid).rotate(turned).translate(shift))

    @cached_property
    def _shift(self) -> Callable[[float], tuple[float, float, float]]:
        """How far the moving border is shifted at a bend, mm: drawn once for all on it."""
        (rest,) = self.own.border([0.0])

        @cache
        def shift(to: float) -> tuple[float, float, float]:
            (there,) = self.own.border([to])
            here = centroid(rest.rotate([to * value for value in self.own.line]))
            x, y, z = (b - a for a, b in zip(here, centroid(there), strict=True))
            return x, y, z

        return shift

    def prove(self, whole: Mechanism, case: Case) -> JointProof:
        from scadgen.findings.on_motion import sound
        from scadgen.motion.rest import body
        from scadgen.proof.sampled import passing

        (piece,) = (piece for piece in whole.pieces if set(self.pair) <= set(piece.bodies))
        alone = self.own.prove(self.alone, case).findings
        carried = whole.carried(self)
        single = [Piece(one.title, one.solid, (one.name,)) for one in whole.bodies]
        moving = [one for one in single if one.bodies[0] in carried]
        still = [one for one in single if one.bodies[0] not in carried]
        pairs = [(a, b) for a in still for b in moving]
        name = f"{titled(whole, self.pair)} bent past each other"
        return JointProof(
            self, (sound(piece.title, body(piece.solid)), *alone, passing(name, self, pairs))
        )


def joint_of(fitted: Fitted, frame: Frame, bare: Mapping[str, Callable[[], Manifold]]) -> Joint:
    """The joint of a hinge that is at ``frame`` as it prints, between the bodies.

    ``bare``: the bodies that have a side of a catch, without it, mm.
    """
    own, (fixed, moving) = fitted.own, fitted.joint.pair
    with_others = _with_others(fitted)
    if isinstance(own, Fold):
        return PlacedFold(
            fixed=fixed, moving=moving, asked=own.asked, own=own, frame=frame, alone=fitted.alone
        )
    if not isinstance(own, Turn):
        return Placed(fixed=fixed, moving=moving, asked=own.asked, own=own, frame=frame)
    closes, clearance = own.closes, own.clearance or 0.0
    if fitted.joint.closes and own.asked:
        slant = math.asin(min(1.0, clearance / fitted.off)) if fitted.off else math.pi / 2
        closes = min(closes, own.asked[1] - SLANT * math.degrees(slant))
    return MergedTurn(
        fixed=fixed,
        moving=moving,
        asked=own.asked,
        about=frame.carry_axis(own.about),
        facets=own.facets,
        clearance=own.clearance,
        stop=own.stop,
        heel=own.heel,
        parts=own.parts,
        closes=closes,
        stop_told=own.stop_told,
        with_others=with_others,
        printed_at=own.printed_at,
        openings=own.openings,
        detent=own.detent and own.detent.carried(frame.carry),
        alone=_alone(fitted, frame),
        bare=bare,
        heading=frame.turn - fitted.quarter + 90,
        duty=fitted.joint.duty,
    )


def _with_others(fitted: Fitted) -> tuple[float, float] | None:
    """How far it is turned while others are, from how it prints.

    Raises JobError for further than it turns, or for a turn without the one in which it prints.
    """
    span, own = fitted.joint.with_others, fitted.own
    if span is None:
        return None
    key = f"joints.{fitted.joint.like or fitted.name}.with_others"
    words, start = f"= [{span[0]:g}, {span[1]:g}]", own.printed_at
    if not isinstance(own, Turn):
        raise JobError(f"{key} {words}; only joints that turn about a line have it.", key)
    low, high = own.asked_told or span
    if low <= span[0] <= start <= span[1] <= high:
        return span[0] - start, span[1] - start
    works = f"This works: [{low:g}, {high:g}]."
    why = f"within the turn that is asked{f', with {start:g} in it, where it prints' * bool(start)}"
    raise JobError(f"{key} {words} deg; it must be {why}. {works}", key)


def _alone(fitted: Fitted, frame: Frame) -> Mechanism:
    """The hinge's links by themselves, where they are, under the names of the bodies."""
    names = dict(zip(fitted.own.pair, fitted.joint.pair, strict=True))
    bodies = tuple(
        Body(names[body.name], body.title, partial(_there, body, frame))
        for body in fitted.alone.bodies
        if body.name in names
    )
    return Mechanism(fitted.hinge.family, bodies)


def _there(body: Body, frame: Frame) -> Manifold:
    return frame.carry(body.solid)


def _back(body: Body, frame: Frame) -> Manifold:
    return frame.back.carry(body.solid)
