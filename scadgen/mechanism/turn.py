"""The turning joint: one body turns about a line in the other."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

from scadgen.mechanism.giving import Giving
from scadgen.mechanism.joint import DETENT, HEEL, STOP, Case, Joint, JointProof

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.caging.certificate import Certificate, Uncertified
    from scadgen.findings.finding import Finding
    from scadgen.mechanism.detent import Detent
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.motion.axis import Axis
    from scadgen.motion.rest import Rest
    from scadgen.motion.swing import Swing
    from scadgen.printing.nearness import Nearness

#: This near the end of the swing, degrees, the faces that stop it close in.
CLOSING = 5.0
#: Pose in which the hold is tried, too, where nothing stops the turn and none is asked, degrees.
OPEN = 90.0


@dataclass(frozen=True, eq=False, kw_only=True)
class Turn(Joint):
    """A turning joint.

    about: the axis. facets: sides of the bearing to a full turn. clearance: gap that must stay open
    (mm); None for as much as does not fuse. stop: where flat faces are meant to meet, degrees as
    they are told; 0 for no such stop. closes: the turn from which on they come nearer than the
    clearance, degrees. heel: where a heel is meant to stop the way back, degrees as they are told;
    0 for none. parts: the turn up to which its faces are nearer than the clearance, degrees.
    stop_told: what ends the turn, in words. grain: how far rounding of coordinates may have moved
    each of two faces together, mm. rests: whether it is told how the bodies lie on each other where
    the turn is stopped. detent: bumps of the fixed body past or over which arms of the moving one
    give way.
    """

    about: Axis
    facets: int = 64
    clearance: float | None = None
    stop: float = 0.0
    heel: float = 0.0
    closes: float = math.inf
    parts: float = -math.inf
    stop_told: str = ""
    grain: float = 0.0
    rests: bool = False
    detent: Detent | None = None

    @property
    def axis(self) -> Axis:
        return self.about

    @property
    def stop_words(self) -> str:
        return self.stop_told or super().stop_words

    @property
    def meets(self) -> tuple[str, ...]:
        stops = (STOP,) * (self.stop > 0) + (HEEL,) * (self.heel > 0)
        return stops + (DETENT,) * (self.detent is not None)

    @property
    def gives(self) -> tuple[Giving, ...]:
        if self.detent is None:
            return ()
        span = self.asked or (0.0, self.detent.last)
        return tuple(
            Giving(f"{DETENT} {number}", one.room, one.room, span)
            for number, one in enumerate(self.detent.springs, 1)
        )

    @property
    def phases(self) -> int:
        return self.facets

    def moved(self, solid: Manifold, to: float) -> Manifold:
        return self.about.turn(solid, to)

    def within(self) -> tuple[float, float] | None:
        """Where the gap is measured: away from the stops, whose faces close in (degrees)."""
        if self.asked is None:
            return None
        (low, high), flat = self.asked, 0.0 - self.printed_at
        start = min(low + CLOSING, flat) if flat >= low else low + CLOSING
        start = max(start, self.parts)
        return min(start, 0.0), min(max(high - CLOSING, 0.0), self.closes)

    def poses(self, turn: Swing) -> tuple[float, ...]:
        """Where the hold is tried: as it prints, and opened, a little before the end (degrees)."""
        if self.asked:
            low, high = self.asked
            end = high if high >= -low else low
            opened = end - math.copysign(min(CLOSING, abs(end)), end)
        else:
            far_low, far_high = (
                far if stopped else math.copysign(OPEN + CLOSING, far)
                for far, stopped in ((turn.low, turn.stopped_low), (turn.high, turn.stopped_high))
            )
            end = far_high if far_high >= -far_low else far_low
            opened = float(round(end - math.copysign(min(CLOSING, abs(end)), end)))
        return (0.0, opened) if opened else (0.0,)

    def cage(self, whole: Mechanism) -> Certificate | Uncertified:
        from scadgen.caging.certificate import certified

        known = vars(self).get("_cage")
        if known is None or known[0] is not whole:
            fixed, moving = (whole.body(name).solid for name in self.pair)
            stiff = self.stiff(fixed, whole)
            known = vars(self)["_cage"] = whole, certified(stiff, moving, self.about)
        return cast("Certificate | Uncertified", known[1])

    def stiff(self, fixed: Manifold, whole: Mechanism) -> Manifold:
        """The fixed body (mm) without bumps, which hold nothing: arms give way past them.

        Those of other turns between the same two bodies are left out, too.
        """
        known = vars(self).get("_stiff")
        if known is None or known[0] is not fixed or known[1] is not whole:
            others = (
                one for one in whole.joints if isinstance(one, Turn) and one.pair == self.pair
            )
            stiff = fixed
            for turn in {self: None} | dict.fromkeys(others):
                stiff = turn.detent.without_bumps(stiff) if turn.detent else stiff
            known = vars(self)["_stiff"] = fixed, whole, stiff
        return cast("Manifold", known[2])

    def prove(self, whole: Mechanism, case: Case) -> JointProof:
        from scadgen.findings.on_motion import least_allowed
        from scadgen.motion.rest import rest
        from scadgen.motion.swing import swing
        from scadgen.printing.nearness import Nearness

        fixed, moving = (whole.body(name).solid for name in self.pair)
        beside = self.stiff(fixed, whole)
        for contact in whole.meant(self.pair):
            beside = beside - contact.room()
        case.tell("swing")
        aim = least_allowed(self.clearance, self.grain)
        still = rest(beside, moving, about=aim)
        turn = swing(beside, moving, self.about, within=self.within(), aim=aim, still=still)
        known = beside is fixed and still.gap > 0
        near = Nearness(fixed, moving, still.gap) if known else None
        findings = tuple(self._findings(whole, beside, (still, near), turn, case))
        return JointProof(self, findings, turn, near)

    def _findings(
        self,
        whole: Mechanism,
        beside: Manifold,
        known: tuple[Rest, Nearness | None],
        turn: Swing,
        case: Case,
    ) -> Iterator[Finding]:
        """``beside``: the fixed body without the places in which the two are meant to touch.

        Measured from how they print, and told as turns are counted.
        """
        from scadgen.findings import on_motion
        from scadgen.findings.on_hold import holding
        from scadgen.mechanism.contact import touches
        from scadgen.motion.rest import body

        fixed, moving = (whole.body(name) for name in self.pair)
        still, near = known
        yield on_motion.sound(
            fixed.title, still.fixed if beside is fixed.solid else body(fixed.solid)
        )
        yield on_motion.sound(moving.title, still.moving)
        pose = on_motion.Pose(beside, moving.solid, self.about, self.printed_at)
        told = turn.counted(self.printed_at)
        yield on_motion.gap_at_rest(still, self.clearance, self.grain, pose)
        yield on_motion.free_turn(told, self.asked_told, pose)
        if self.stop:
            yield on_motion.stopped(told, self.stop)
        if self.heel:
            yield on_motion.opened(told, self.heel)
        yield on_motion.gap_on_the_way(told, self.clearance, self.grain, pose)
        for contact in whole.meant(self.pair):
            turned = self.moved(moving.solid, contact.at)
            yield touches(contact, fixed.solid, turned, self.grain)
        if self.detent:
            least = on_motion.least_allowed(self.clearance, self.grain)
            yield from self.detent.found(moving.solid, self.about, self.asked, least)
            yield from self.detent.felt(case.plastic, case.duty)
        if self.rests:
            yield from on_motion.at_rest(told, pose)
        case.tell("hold")
        cage = self.cage(whole)
        held = self.stiff(fixed.solid, whole)
        gap = still.gap if beside is held else None
        angles, start = self.poses(turn), self.printed_at
        level = near if beside is held and self.about.upright else None
        yield from holding(held, moving.solid, self.about, cage, angles, gap, start, level)
