"""The snap catch: a hook that turns towards a keeper, bends aside past its ledge and holds.

Bodies are rigid here but for the arm of the hook, which bends as a bar that its post holds, as
little as lets it pass.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from scadgen.mechanism.joint import CATCH, Case, Joint, JointProof, Look, Vector

if TYPE_CHECKING:
    import numpy
    from manifold3d import Manifold

    from scadgen.findings.finding import Finding
    from scadgen.mechanism.giving import Giving
    from scadgen.mechanism.hook import Hook, Passing
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.motion.axis import Axis
    from scadgen.motion.rest import Rest
    from scadgen.motion.swing import Swing

    Array = numpy.ndarray[Any, Any]

#: Looks along the way past the ledge, and halvings by which the worst of them is closed in.
LOOKS, CLOSER = 48, 8
#: How closely a way is measured, mm, and an angle, degrees.
FINE, FINELY = 0.002, 0.002
#: Slices of an arm that is bent.
SLICES = 8
#: So much further, mm, the lid is lifted to see what meets.
PRESSED = 0.1
#: How far the way that the arm gives on the solids may be from the one that is told, mm.
ALIKE = 0.02


@dataclass(frozen=True)
class Arm:
    """A bar that is held at ``root`` and pushed at ``tip``, ``aside`` (a unit vector); as printed,
    mm. What of a body lies aside of the root bends with it, all else stays.
    """

    root: Vector
    tip: Vector
    aside: Vector

    def slices(self, solid: Manifold) -> Hook:
        """A body, what of it bends cut into slices side by side along the arm."""
        import numpy as np

        from scadgen.mechanism.hook import Hook

        along = np.array(self.tip) - self.root
        length = float(np.linalg.norm(along))
        normal, start = along / length, float(along @ self.root) / length
        x, y, z = normal.tolist()
        places = [start + length * k / SLICES for k in range(SLICES, -1, -1)]
        aside = float(np.array(self.root) @ self.aside)
        return Hook.of(solid, (x, y, z), places, (self.aside, aside))

    def bent(self, sliced: Manifold, by: float) -> Manifold:
        """What bends, the tip of the arm bent aside by so much (mm): the ends of slices move.

        v = y (3 s2 - s3)/2 along the arm, s from 0 to 1, and straight on beyond: a bar that is
        pushed at its end. Source: beam theory.
        """
        import numpy as np

        if not by:
            return sliced
        along, aside = np.array(self.tip) - self.root, np.array(self.aside)

        def moved(corners: Any) -> Any:
            way = corners - np.array(self.root)
            share = np.maximum(way @ along / (along @ along), 0)
            curve = np.where(share < 1, (3 - share) * share * share / 2, (3 * share - 1) / 2)
            return corners + np.outer(by * curve * (way @ aside > 0), aside)

        return sliced.warp_batch(moved)


@dataclass(frozen=True, eq=False, kw_only=True)
class Catch(Joint):
    """A hook on a lid that turns about an axis, and a keeper on the box.

    about: the axis of the lid's hinge, which is not in the model. engaged: position at which the
    lid is shut, degrees. arm: what bends; giving: the room that it takes. deflection: the way (mm)
    by which its tip has to give, as its strain is reckoned. clearance: gap when shut, mm. grip: the
    overlap (mm) that must hold the lid against a straight pull; up: the way of that pull. latch:
    sides of the box around the ledge's latch face, and its middle, mm.
    """

    about: Axis
    engaged: float
    arm: Arm
    deflection: float
    clearance: float
    grip: float
    latch: tuple[Vector, Vector]
    giving: Giving
    up: Vector = (0.0, 0.0, 1.0)

    @property
    def ends(self) -> tuple[float, float]:
        return 0.0, self.engaged

    @property
    def meets(self) -> tuple[str, ...]:
        return (CATCH,)

    @property
    def gives(self) -> tuple[Giving, ...]:
        return (self.giving,)

    @property
    def look(self) -> Look:
        return Look(self.engaged, self.latch[1])

    @property
    def axis(self) -> Axis:
        return self.about

    @property
    def stop_words(self) -> str:
        return f"the lid rests on the box at {self.engaged:g} deg, and the hook holds it there"

    def moved(self, solid: Manifold, to: float) -> Manifold:
        return self.about.turn(solid, to)

    def yields(self, passing: Passing, pose: Array, about: float, enough: float) -> float:
        """The least way (mm) by which the arm must give where its hook is carried to a pose.

        about: where it is looked for first, mm. enough: a way that is told where less would do, mm.
        """
        from scadgen.motion.contact import meet

        if meet(passing.fixed, passing.hook.stays.transform(pose)):
            return self.most
        bends = passing.near(pose)

        def free(by: float) -> bool:
            return not meet(passing.fixed, self.arm.bent(bends, by).transform(pose))

        way = _least(free, self.most, about, enough)
        return self.most if way is None else way

    def passing(self, fixed: Manifold, moving: Manifold) -> Passing:
        """The hook of a body past another, bent up to the farthest way that is looked for."""
        from scadgen.mechanism.hook import Passing

        hook = self.arm.slices(moving)
        return Passing(fixed, hook, lambda part: self.arm.bent(part, self.most))

    def prove(self, whole: Mechanism, case: Case) -> JointProof:
        from scadgen.motion.rest import rest
        from scadgen.motion.swing import swing

        fixed, moving = (whole.body(name).solid for name in self.pair)
        case.tell("swing")
        still = rest(fixed, moving)
        turn = swing(fixed, moving, self.about, limit=self.engaged, within=(0.0, 0.0), still=still)
        findings = [*self._apart(whole, still, turn), *self._caught(whole, turn, case)]
        return JointProof(self, tuple(findings), turn)

    def _apart(self, whole: Mechanism, still: Rest, turn: Swing) -> Iterator[Finding]:
        """As they print, and on the way until the hook meets the keeper."""
        from scadgen.findings import on_motion

        fixed, moving = (whole.body(name) for name in self.pair)
        pose = on_motion.Pose(fixed.solid, moving.solid, self.about)
        yield on_motion.sound(fixed.title, still.fixed)
        yield on_motion.sound(moving.title, still.moving)
        yield on_motion.gap_at_rest(still, self.clearance, 0.0, pose)
        yield on_motion.free_turn(turn, self.asked, pose)

    def _caught(self, whole: Mechanism, turn: Swing, case: Case) -> Iterator[Finding]:
        """Past the ledge, shut, lifted and pulled."""
        from scadgen.findings import on_catch

        fixed, moving = (whole.body(name).solid for name in self.pair)
        shut, passing = self.moved(moving, self.engaged), self.passing(fixed, moving)
        case.tell("catch")
        yield on_catch.snaps(*self.worst(passing, turn.high), self.deflection, ALIKE)
        yield on_catch.shut(fixed, shut, self.clearance, self.engaged)
        yield from self._lifted(whole, fixed, moving, turn)
        yield on_catch.held(*self.pulled(passing), self.grip, FINE)

    @property
    def most(self) -> float:
        """The farthest way that is looked for, mm."""
        return 2 * self.deflection + self.grip + 1

    def worst(self, passing: Passing, start: float) -> tuple[float, float]:
        """Greatest way (mm) that the arm must give from a position on until shut, and where."""

        def gives(at: float, about: float, enough: float) -> float:
            return self.yields(passing, self.about.matrix(at), about, enough)

        return _greatest(gives, start, self.engaged)

    def _lifted(
        self, whole: Mechanism, fixed: Manifold, moving: Manifold, turn: Swing
    ) -> Iterator[Finding]:
        """Where the latch faces meet as the lid is lifted, and that nothing else does."""
        from scadgen.findings import on_catch
        from scadgen.mechanism.contact import touches
        from scadgen.motion.contact import last_free, meet

        def meets(by: float) -> bool:
            return meet(fixed, self.moved(moving, self.engaged - by))

        way = self.engaged - turn.high
        lift = last_free(meets, 0.0, way, way / LOOKS, FINELY) if way > 0 else None
        if lift is None:
            yield on_catch.nothing_holds()
            return
        at = self.engaged - lift
        turned = self.moved(moving, at)
        for contact in whole.meant(self.pair):
            met = touches(replace(contact, at=at), fixed, turned)
            yield replace(met, name="latch faces meet")
        further = self.moved(moving, at - math.degrees(PRESSED / self.about.reach(moving)[0]))
        yield on_catch.alone(self.latch, fixed ^ further, at, PRESSED)

    def pulled(self, passing: Passing) -> tuple[float, float]:
        """The greatest way (mm) that the arm must give to come out straight, and the lift there."""
        import numpy as np

        shut = self.about.matrix(self.engaged)

        def gives(lift: float, about: float, enough: float) -> float:
            pose = shut + np.outer(lift * np.array(self.up), (0, 0, 0, 1))
            return self.yields(passing, pose, about, enough)

        box = passing.fixed.bounding_box()
        return _greatest(gives, 0.0, math.dist(box[:3], box[3:]))


def _greatest(
    value: Callable[[float, float, float], float], start: float, end: float
) -> tuple[float, float]:
    """The greatest value between two places, and where: looked for evenly, then closer about it.

    A value is asked for with another that it may be near, and the greatest so far, which is enough.
    """
    step = (end - start) / LOOKS
    looked: dict[float, float] = {}
    before = last = 0.0
    for at in (start + k * step for k in range(LOOKS + 1)):
        on = 2 * last - before  # as it went on from the one before
        most = max(looked.values(), default=0.0)
        before, last = last, value(at, on if on > 0 else last, most)
        looked[at] = last
    for _ in range(CLOSER):
        step /= 2
        at = max(looked, key=looked.__getitem__)
        for near in (at - step, at + step):
            looked[near] = value(near, looked[at], looked[at])
    at = max(looked, key=looked.__getitem__)
    return looked[at], at


def _least(
    holds: Callable[[float], bool], most: float, about: float, enough: float
) -> float | None:
    """The least value up to ``most``, finely, from which on something holds; None if never.

    It must hold for all greater ones. It is looked for about a value first, then farther and
    farther from it, on a grid that does not depend on that. ``enough``, which is on the grid, is
    told where it holds there already.
    """
    high = 1 << max(0, math.ceil(math.log2(most / FINE)))
    fine, step = most / high, 1
    low = round(enough / fine) - 1
    near = max(round(about / fine), low + 1)
    while high - low > 1 and low < near < high:
        if holds(near * fine):
            high, near = near, near - step
        else:
            low, near = near, near + step
        step *= 4
    if high * fine == most and not holds(most):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if holds(middle * fine) else (middle, high)
    return high * fine
