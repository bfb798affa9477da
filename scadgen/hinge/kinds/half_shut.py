"""Standing pivots that print at any turn of their swing: all their walls stay upright."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

from scadgen.hinge.family import deg, derived
from scadgen.hinge.gaps import Gap
from scadgen.hinge.kinds.setback import SetBack
from scadgen.hinge.rules import Rule, Serves, at_most
from scadgen.strength import anyform
from scadgen.trees.expr import atan, cos, maximum, minimum, sin, where
from scadgen.trees.solid import Shape

if TYPE_CHECKING:
    from scadgen.mechanism.mechanism import Mechanism


@dataclass(frozen=True, kw_only=True)
class HalfShut(SetBack):
    """A pivot about the z axis that prints with its moving side turned about it.

    Turns are counted from flat, however it prints; the angle that is drawn, from how it prints.
    """

    printed_at: float = deg(0, 0, 190, 5, "Part", "Turn at which it prints; 0 is flat")

    def as_printed(self) -> float:
        return self.printed_at

    def drawn_flat(self) -> Mechanism:
        return self.drawn_at(-self.printed_at) if self.printed_at else self.mechanism()

    @derived
    def spread_apart(self) -> float:
        """Gap on the bed of two square edges that spread"""
        return self.clearance + 2 * self.first_spread

    @derived
    def leaves_apart(self) -> float:
        """Turn up to which it may print: beyond it the leaves are too near each other on the bed"""
        far = (self.face + self.spread_apart) / self.leaf_end
        return 180 - 2 * atan(maximum(self.arms_spread / self.joins_at, far))

    @derived
    def arms_spread(self) -> float:
        """Arms' reach over the axis, with that gap"""
        return self.arm_face + self.spread_apart

    @derived
    def joins_at(self) -> float:
        """Where they would join on the bed"""
        return where(self.arms_spread > 0, self.reach, self.reach + self.leaf_thickness)

    @derived
    def short_of_stop(self) -> float:
        """Turn by which it prints short of its stop"""
        return atan(self.spread_apart / self.reach)

    def rules(self) -> Iterable[Rule]:
        why = "or it prints further than it turns"
        yield at_most(self.printed_at, self.swing, why, Serves.MOTION)
        why = "or the leaves join where a first layer spreads"
        yield at_most(self.printed_at, self.leaves_apart, why, Serves.PRINTING)
        short = where(self.stop_at > 0, self.stop_at - self.short_of_stop, self.widest)
        yield at_most(self.printed_at, short, "or it prints with its stop joined", Serves.PRINTING)
        yield from super().rules()

    def printed_gaps(self) -> Iterable[Gap]:
        """What the turn at which it prints leaves between both sides."""
        yield self.printed_gap("between the leaves", self.leaf_way)
        yield self.printed_gap("before the stop", self.stop_way)

    def printed_gap(self, place: str, way: float) -> Gap:
        """A gap of two square edges on the bed.

        The limits of the turn at which it prints leave it more than the clearance; that, which a
        search over all settings sees late, is told here.
        """
        return Gap(f"{place}, as it prints", maximum(way, self.clearance), bed=(0, 0))

    @derived
    def half_rise(self) -> float:
        """Cosine of half the turn at which it prints"""
        return cos(self.printed_at / 2)

    @derived
    def half_run(self) -> float:
        """Sine of half the turn at which it prints"""
        return sin(self.printed_at / 2)

    @derived
    def arm_way(self) -> float:
        """From the plane half-way between the leaves to the nearest corner of arms and web"""
        far = self.reach + self.leaf_thickness
        return (
            minimum(self.reach * self.half_rise, far * self.half_rise)
            - self.arm_face * self.half_run
        )

    @derived
    def leaf_way(self) -> float:
        """At least the way from leaf to leaf as it prints: to that plane and on"""
        # An arm may be nearer to the edge of the other leaf than both are to the plane: the factor.
        least = minimum(self.arm_way, self.leaf_end * self.half_rise - self.face * self.half_run)
        return 2 * maximum(self.half_run, cos(45)) * least

    @derived
    def stop_left(self) -> float:
        """Turn left to the stop as it prints, up to a right angle"""
        return minimum(self.stop_at - self.printed_at, 90)

    @derived
    def stop_way(self) -> float:
        """At least the way from the faces of a stop to the moving leaf as it prints"""
        way = self.reach * sin(self.stop_left) + minimum(self.stop_face, 0) * (
            1 - cos(self.stop_left)
        )
        return where(self.stop_at > 0, way, self.reach)

    def posed(self, shape: Shape) -> Shape:
        return shape.turned(z=self.angle + self.printed_at)

    def carried(self, solid: Shape) -> Shape | None:
        return solid.turned(z=self.angle)

    def extents(self) -> tuple[float, float, float]:
        rise, run = anyform.cos(self.printed_at), anyform.sin(self.printed_at)
        back, ends = -self.setback - self.leaf_thickness / 2, (self.reach, self.leaf_end)
        flat = [(x, y) for x in ends for y in (back, self.face)]
        turned = [(rise * x - run * y, run * x + rise * y) for x, y in flat]
        x, y = zip(*turned, *((-x, y) for x, y in flat), strict=True)
        right, front, behind = self.around()
        long = anyform.maximum(*x, right) - anyform.minimum(*x)
        deep = anyform.maximum(*y, behind) - anyform.minimum(*y, front)
        return cast(float, long), cast(float, deep), self.leaf_width

    def around(self) -> tuple[float, float, float]:
        """How far it reaches around the axis: to the right, to the front and behind (mm)."""
        return self.radius, -self.radius, self.radius

    def screw_pins(self) -> Shape:
        pins = self.pins()
        return pins.mirrored(x=1) + pins.turned(z=self.printed_at)
