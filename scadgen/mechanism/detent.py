"""A detent of a turning joint: noses on arms that give way as they pass bumps of the other body."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from manifold3d import Manifold

    from scadgen.findings.finding import Finding
    from scadgen.mechanism.joint import Vector
    from scadgen.motion.axis import Axis
    from scadgen.strength.materials import Plastic

#: A gap beside bumps is looked for up to so many times what must be left: more takes long.
AMPLE = 2.0


@dataclass(frozen=True, eq=False)
class Spring:
    """An arm of a detent: ``bumps`` of the fixed body and the ``nose`` of the moving one, each as
    it prints, drawn when asked for (mm); ``way``: unit vector along which the arm gives way."""

    bumps: Callable[[], Manifold]
    nose: Callable[[], Manifold]
    way: Vector


@dataclass(frozen=True, eq=False)
class Detent:
    """Where a turn clicks.

    at: the turns, degrees, rising. step: from there to a bump at either side, degrees; a nose meets
    no bump that is further away than that. way: how far each arm is reckoned to give, mm. moments:
    what it holds at the least and asks at the most to be passed, in a plastic, N mm.
    """

    at: tuple[float, ...]
    step: float
    way: float
    springs: tuple[Spring, ...]
    moments: Callable[[Plastic], tuple[float, float]] | None = None

    def carried(self, carry: Callable[[Manifold], Manifold]) -> Detent:
        """The detent elsewhere: ``carry`` moves a solid there."""
        springs = tuple(
            Spring(
                lambda one=one: carry(one.bumps()),  # type: ignore[misc]
                lambda one=one: carry(one.nose()),  # type: ignore[misc]
                _way(carry, one.way),
            )
            for one in self.springs
        )
        return replace(self, springs=springs)

    def without_bumps(self, fixed: Manifold) -> Manifold:
        """The fixed body less its bumps, past which arms give way (mm)."""
        return _without(fixed, (spring.bumps() for spring in self.springs))

    def felt(self, plastic: Plastic | None) -> Iterator[Finding]:
        """What it takes to pass it, where a plastic is named; this tells, and never fails."""
        from scadgen.findings import on_detent

        if plastic is not None and self.moments is not None:
            yield on_detent.felt(plastic.name, *self.moments(plastic))

    def found(
        self, moving: Manifold, axis: Axis, asked: tuple[float, float] | None, gap: float
    ) -> Iterator[Finding]:
        """Findings on its noses and bumps. ``gap``: what must be left elsewhere, mm."""
        from scadgen.findings import on_detent
        from scadgen.motion.contact import gap_between, overlap
        from scadgen.motion.rest import rest as rest_of
        from scadgen.motion.swing import swing

        end = asked[1] if asked else self.at[-1]
        rest = _without(moving, (spring.nose() for spring in self.springs))
        for number, spring in enumerate(self.springs, 1):
            bumps, nose = spring.bumps(), spring.nose()
            passing = _near(rest, bumps, axis)
            beside = rest_of(bumps, passing, search=AMPLE * gap)
            past = swing(bumps, passing, axis, within=asked or (0.0, end), aim=gap, still=beside)
            yield on_detent.clear(number, past, (0.0, end), gap)
            still = rest_of(bumps, nose, search=on_detent.SEARCHED)
            first = swing(bumps, nose, axis, within=(0.0, 0.0), still=still)
            yield on_detent.free_before(number, first, still.gap, self.at[0] - 2 * self.step, gap)
            for at in self.at:
                seat = axis.turn(nose, at)
                near = gap_between(bumps, seat, on_detent.SEARCHED)
                yield on_detent.seated(number, overlap(bumps, seat), near, at)
            there = [axis.turn(nose, at + side * self.step) for at in self.at for side in (-1, 1)]
            given = [gives_way(bumps, one, spring.way, 2 * self.way) for one in there]
            yield on_detent.passes(number, given, self.way)


def gives_way(bumps: Manifold, nose: Manifold, way: Vector, most: float) -> float:
    """How far a nose must be moved along ``way`` until it is free of the bumps (mm), up to most."""
    from scadgen.findings.on_detent import CLOSELY
    from scadgen.motion.contact import meet

    low, high = 0.0, most
    while high - low > CLOSELY:
        middle = (low + high) / 2
        if meet(bumps, nose.translate([k * middle for k in way])):
            low = middle
        else:
            high = middle
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
