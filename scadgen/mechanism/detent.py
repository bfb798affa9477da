"""A detent of a turning joint: noses on arms that give way as they pass bumps of the other body.

Bumps in a row may be a ridge, on which noses ride: friction then holds the turn anywhere on it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from manifold3d import Manifold

    from scadgen.findings.finding import Finding
    from scadgen.mechanism.joint import Vector
    from scadgen.motion.axis import Axis
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic

#: What gives a finding the number of its spring.
Told = Callable[[int], "Finding"]
#: How slim the nose is, as a share of a whole one, that looks for the least that an arm gives way.
SLIM = 0.7
#: Least radius of a nose's faceted end, as a share of that to its corners: four sides or more.
INSIDE = 0.7
#: Lengths that differ by less, mm, are alike.
GRAIN = 2e-3
#: A gap beside bumps is looked for up to so many times what must be left: more takes long.
AMPLE = 2.0


@dataclass(frozen=True, eq=False)
class Spring:
    """An arm of a detent: ``bumps`` of the fixed body and the ``nose`` of the moving one, each as
    it prints, drawn when asked for (mm); ``way``: unit vector along which the arm gives way;
    ``room``: the arm, with all that it bends through."""

    bumps: Callable[[], Manifold]
    nose: Callable[[], Manifold]
    way: Vector
    room: Callable[[], Manifold]

    def drawn(self) -> Spring:
        """The same, its solids drawn once."""
        bumps, nose = self.bumps(), self.nose()
        return Spring(lambda: bumps, lambda: nose, self.way, self.room)

    def mirrors(self, other: Spring, axis: Axis) -> bool:
        """Whether a mirror square to the axis takes it to the other, to the last digit.

        As both turn about that axis, what is found of one then holds for the other.
        """
        from scadgen.motion.mirrored import across, mirrored

        pairs = [(self.bumps(), other.bumps()), (self.nose(), other.nose())]
        return across(self.way, axis) == other.way and mirrored(pairs, axis)


@dataclass(frozen=True, eq=False)
class Detent:
    """Where a turn clicks.

    at: the turns, degrees, rising. step: from there to a bump at either side, degrees; a nose meets
    no bump that is further away than that. way: how far each arm is reckoned to give, mm. moments:
    what it holds at the least and asks at the most to be passed, in a plastic, N mm. to: the turn
    up to which noses ride a ridge that begins at the first of ``at``, degrees; 0 where it clicks.
    """

    at: tuple[float, ...]
    step: float
    way: float
    springs: tuple[Spring, ...]
    moments: Callable[[Plastic], tuple[float, float]] | None = None
    to: float = 0.0

    def carried(self, carry: Callable[[Manifold], Manifold]) -> Detent:
        """The detent elsewhere: ``carry`` moves a solid there."""
        springs = tuple(
            Spring(
                lambda one=one: carry(one.bumps()),  # type: ignore[misc]
                lambda one=one: carry(one.nose()),  # type: ignore[misc]
                _way(carry, one.way),
                lambda one=one: carry(one.room()),  # type: ignore[misc]
            )
            for one in self.springs
        )
        return replace(self, springs=springs)

    def without_bumps(self, fixed: Manifold) -> Manifold:
        """The fixed body less its bumps, past which arms give way (mm)."""
        return _without(fixed, (spring.bumps() for spring in self.springs))

    @property
    def meets(self) -> float:
        """The turn at which a nose meets its first bump, as reckoned, degrees."""
        return self.at[0] - (1 if self.to else 2) * self.step

    @property
    def last(self) -> float:
        """The last turn at which it clicks, or noses ride, degrees."""
        return max(self.to, self.at[-1])

    def felt(self, plastic: Plastic | None, duty: Duty | None = None) -> Iterator[Finding]:
        """What it takes to pass it, where a plastic is named; this tells, and never fails.

        Friction of an arm that is held bent is less in time: of that nothing is proven without a
        duty that says how long.
        """
        from scadgen.findings import on_detent
        from scadgen.strength.lasting import modulus_left

        moments = self.moments(plastic) if plastic is not None and self.moments else None
        if self.to:
            lasts = plastic is not None and duty is not None and duty.hours > 0
            left = modulus_left(plastic, duty) if lasts else 0.0  # type: ignore[arg-type]
            yield on_detent.rubs(self.at[0], self.to, plastic, moments, duty, left)
        elif plastic is not None and moments is not None:
            yield on_detent.felt(plastic.name, *moments)

    def found(
        self, moving: Manifold, axis: Axis, asked: tuple[float, float] | None, gap: float
    ) -> Iterator[Finding]:
        """Findings on its noses and bumps. ``gap``: what must be left elsewhere, mm."""
        from scadgen.findings import on_detent
        from scadgen.motion.contact import gap_between, overlap
        from scadgen.motion.rest import Apart
        from scadgen.motion.swing import swing

        end = asked[1] if asked else self.last
        springs = [spring.drawn() for spring in self.springs]
        rest = _without(moving, (spring.nose() for spring in springs))
        known: list[tuple[Spring, list[Told]]] = []
        for number, spring in enumerate(springs, 1):
            bumps = spring.bumps()
            passing = _near(rest, bumps, axis)
            near = gap_between(bumps, passing, AMPLE * gap, gap)
            beside = Apart(overlap=overlap(bumps, passing), gap=near)
            past = swing(bumps, passing, axis, within=asked or (0.0, end), aim=gap, still=beside)
            yield on_detent.clear(number, past, (0.0, end), gap)
            alike = (told for other, told in known if other.mirrors(spring, axis))
            told = next(alike, None) or [*self._of_nose(spring, axis, gap)]
            known.append((spring, told))
            for tell in told:
                yield tell(number)

    def _of_nose(self, spring: Spring, axis: Axis, gap: float) -> Iterator[Told]:
        """What is found of a nose and its bumps, which holds for any spring that mirrors them."""
        from scadgen.findings import on_detent
        from scadgen.motion.contact import gap_between, overlap
        from scadgen.motion.rest import Apart
        from scadgen.motion.swing import swing

        bumps, nose = spring.bumps(), spring.nose()
        near = gap_between(bumps, nose, on_detent.SEARCHED, gap)
        still = Apart(overlap=overlap(bumps, nose), gap=near)
        first = swing(bumps, nose, axis, within=(0.0, 0.0), still=still, back=0.0)
        yield lambda number: on_detent.free_before(number, first, near, self.meets, gap)
        if self.to:
            least, most = ridden(spring, axis, self)
            yield lambda number: on_detent.rides(number, least, most, self)
        else:
            yield from self._clicks(spring, axis)

    def _clicks(self, spring: Spring, axis: Axis) -> Iterator[Told]:
        from scadgen.findings import on_detent
        from scadgen.motion.contact import gap_between, overlap

        bumps, nose = spring.bumps(), spring.nose()
        for at in self.at:
            seat = axis.turn(nose, at)
            near = gap_between(bumps, seat, on_detent.SEARCHED, on_detent.ALIKE)
            yield partial(on_detent.seated, shared=overlap(bumps, seat), gap=near, at=at)
        there = [axis.turn(nose, at + side * self.step) for at in self.at for side in (-1, 1)]
        given: list[float] = []
        for one in there:
            given.append(gives_way(bumps, one, spring.way, 2 * self.way, given[-1:]))
        yield lambda number: on_detent.passes(number, given, self.way)


def ridden(spring: Spring, axis: Axis, detent: Detent) -> tuple[float, float]:
    """Between what an arm gives way while its nose rides the ridge, for certain, mm.

    At the most by as much as ridge and nose overlap along its way. At the least by what a nose
    gives that is so much slimmer that the whole nose has it inside from one look to the next.
    """
    import numpy as np

    from scadgen.motion.contact import meet

    bumps, nose, way = spring.bumps(), spring.nose(), np.array(spring.way)
    corners = np.array(nose.to_mesh().vert_properties)[:, :3]
    middle = corners.mean(axis=0)
    slim = SLIM * np.eye(3) + (1 - SLIM) * np.outer(way, way)
    inner = nose.transform(np.column_stack([slim, middle - slim @ middle]))
    ends = [np.array(one.to_mesh().vert_properties)[:, :3] @ way for one in (bumps, nose)]
    most = float(ends[0].max() - ends[1].min())
    # As far as its blunt end is slimmer, each way, a nose may turn from a look.
    end = corners[corners @ way <= ends[1].min() + GRAIN]
    across = end - middle
    blunt = np.linalg.norm(across - np.outer(across @ way, way), axis=1).max()
    turn = 2 * math.degrees((1 - SLIM) * float(blunt) * INSIDE / axis.reach(nose)[0])
    looks = max(1, math.ceil((detent.to - detent.at[0]) / turn))
    turns = np.linspace(detent.at[0], detent.to, looks + 1)
    least = most
    for at in turns:
        there = axis.turn(inner, at)
        if not meet(bumps, there.translate([k * (least - GRAIN) for k in spring.way])):
            least = gives_way(bumps, there, spring.way, least)
    return least - GRAIN, most


def gives_way(
    bumps: Manifold, nose: Manifold, way: Vector, most: float, about: Sequence[float] = ()
) -> float:
    """How far a nose must be moved along ``way`` until it is free of the bumps (mm), up to most.

    about: ways that were found of others alike, which are tried first.
    """
    from scadgen.findings.on_detent import CLOSELY
    from scadgen.motion.contact import meet

    def meets(far: float) -> bool:
        return meet(bumps, nose.translate([k * far for k in way]))

    for high in about:
        step = most / 2 ** math.ceil(math.log2(most / CLOSELY))  # it is halved down to this
        if step < high < most and not meets(high) and meets(high - step):
            return high
    low, high = 0.0, most
    while high - low > CLOSELY:
        middle = (low + high) / 2
        low, high = (middle, high) if meets(middle) else (low, middle)
    return high


def _near(solid: Manifold, bumps: Manifold, axis: Axis) -> Manifold:
    """What of a solid comes near bumps on its turn: the rest has no say, and takes long."""
    from scadgen.motion.swing import SEARCH

    room = 2 * SEARCH
    far, low, high = axis.reach(bumps)
    near = solid ^ axis.cylinder(far + room, low - room, high + room, 64)
    return solid if near.is_empty() else near


def _without(solid: Manifold, parts: Iterable[Manifold]) -> Manifold:
    """What is left of a solid, all of its parts taken off at once."""
    from manifold3d import Manifold, OpType

    from scadgen.mechanism.swollen import swollen

    return Manifold.batch_boolean([solid, *map(swollen, parts)], OpType.Subtract)


def _way(carry: Callable[[Manifold], Manifold], way: Vector) -> Vector:
    """A direction, carried as a solid is."""
    from manifold3d import Manifold

    here = Manifold.cube((1, 1, 1), True)
    one, other = (carry(each).bounding_box() for each in (here, here.translate(way)))
    return cast("Vector", tuple(other[k] - one[k] for k in range(3)))
