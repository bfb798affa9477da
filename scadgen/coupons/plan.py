"""The plan of a coupon: the values of its pieces, and the room that they need on the bed."""

from __future__ import annotations

import functools
import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.hinge.family import Hinge, bounds, definition, numbers
from scadgen.hinge.steps import Steps
from scadgen.text.numbers import shown
from scadgen.trees.expr import as_expr, free

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.mechanism.joint import Joint
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.trees.to_numpy import Numbers

#: Overlap of the plate with the fixed sides, and air between neighbours, mm.
GRIP, APART = 3.0, 1.0
#: Places on which the room is rounded up, mm.
STEP = 0.1
#: Positions at which the room for a motion is measured: at least one every so many of its unit,
#: and of a turn no farther than to a right angle, degrees.
LOOKS, RIGHT_ANGLE = 15, 90.0


@dataclass(frozen=True)
class Room:
    """What a piece takes up, mm, in its own frame: fixed side at -y, the axis at the origin.

    side: largest way of a piece at rest from its middle plane, along x. swung: the same for its
    moving side on its way. front, back: the farthest way of any piece to +y and to -y. root: from
    the axis to the near edge of the plate, which lies under the end of every fixed side.
    """

    side: float
    swung: float
    front: float
    back: float
    root: float

    @property
    def pitch(self) -> float:
        """From one piece to the next: room for one to swing beside another at rest."""
        return self.side + max(self.side, self.swung) + APART


@dataclass(frozen=True, eq=False)
class Plan:
    """A coupon of ``family``: a piece for each step, its other values as small as is sound."""

    family: type[Hinge]
    steps: Steps

    @property
    def name(self) -> str:
        """Stem of its files, and name of its module."""
        of = f"_{self.steps.of}" if self.steps.of else ""
        return f"{self.family.family}{of}_coupon"

    @functools.cached_property
    def values(self) -> tuple[float, ...]:
        """The stepped value of each piece, mm."""
        steps = self.steps
        return tuple(round(steps.first + k * steps.step, 6) for k in range(steps.count))

    @functools.cached_property
    def others(self) -> Mapping[str, Any]:
        """The values of all other fields, the same for every piece."""
        return _smallest(self.family, self.steps, (self.values[-1], self.values[0]))

    @property
    def calibrates(self) -> bool:
        """Whether it steps a gap, so that the growth of a printer's lines can be fitted to it."""
        return self.steps.field == self.family.fit and bool(definition(self.family).gaps)

    @property
    def leans(self) -> bool:
        """Whether a gap leans, so that thick layers close it sooner."""
        own = numbers(self.hinge(self.values[-1]))
        return any(float(own(gap.lean)) > 0 for gap in definition(self.family).gaps)

    def hinge(self, value: float) -> Hinge:
        """The piece with that stepped value. Raises HingeError where it makes no sound hinge."""
        return self.family(**{**self.others, self.steps.field: value})

    def number(self, value: float) -> int:
        """The number that the piece shows."""
        return math.floor(value * self.steps.per_mm + 0.5)

    def numbers(self, value: float, layer: float) -> Numbers:
        """The values of the piece with that stepped value, printed in such layers (mm)."""
        return numbers(self.hinge(value)).replaced(layer=layer)

    def claimed(self, value: float, layer: float) -> bool:
        """Whether the family's rules hold for the piece when printed in such layers (mm)."""
        own = self.numbers(value, layer)
        return all(bool(own(rule.holds)) for rule in definition(self.family).rules)

    @functools.cached_property
    def room(self) -> Room:
        """The room that the pieces need, from the solids of the widest and the narrowest."""
        found = [_room(self.hinge(value), self.steps.turned) for value in (*_ends(self.values),)]
        side, swung, front, back = (_up(max(column)) for column in zip(*found, strict=True))
        root = math.floor((min(row[3] for row in found) - GRIP) / STEP) * STEP
        return Room(side, swung, front, back, round(root, 6))


def plan(cls: type[Hinge], of: str = "") -> Plan | None:
    """The coupon of a family, or of what of it is named; None for a family that has none."""
    return next((found for found in plans(cls) if found.steps.of == of), None)


def plans(cls: type[Hinge]) -> Iterator[Plan]:
    """All coupons of a family, the usual one first."""
    usual = cls.coupon()
    yield from (Plan(cls, steps) for steps in (*([usual] if usual else []), *cls.more_coupons()))


def _ends(values: tuple[float, ...]) -> Iterator[float]:
    yield from dict.fromkeys((values[0], values[-1]))


def _up(value: float) -> float:
    return round(math.ceil(value / STEP - 1e-6) * STEP, 6)


def _smallest(cls: type[Hinge], steps: Steps, needed: tuple[float, ...]) -> dict[str, Any]:
    """Every other field: as given, as small as is sound at all needed steps, or at its default."""
    from scadgen.hinge.validate import nearest_sound

    fields, held = bounds(cls), _held(cls)
    values: dict[str, Any] = {
        name: limits.low if limits.group == "Size" or name in held else limits.default
        for name, limits in fields.items()
    }
    values |= {"layer": fields["layer"].low, **steps.given}
    for value in needed:
        changes = nearest_sound(definition(cls), values | {steps.field: value})
        if steps.field in changes:
            words = f"{cls.family}: no small hinge has {steps.field} = {shown(value)} mm"
            raise ValueError(f"{words}; nearest: {changes}")
        values |= changes
    del values[steps.field]
    return values


def _held(cls: type[Hinge]) -> set[str]:
    """The fields that say how much of a grip is needed: a small hinge needs little.

    Those that say how it prints are no choice of the hinge's.
    """
    needed = {name for grip in definition(cls).grips for name in free(as_expr(grip.needed))}
    return {name for name in needed if bounds(cls)[name].group != "Quality"}


def _room(hinge: Hinge, turned: float) -> tuple[float, float, float, float]:
    """Side, swung, front and back of one piece."""
    whole = hinge.mechanism()
    rest = fixed = _box([piece.solid for piece in whole.pieces], turned)
    swung = [rest]
    for joint in whole.joints[:1]:
        fixed = _box([whole.body(joint.fixed).solid], turned)
        swung = [_box(_moved(whole, joint, position), turned) for position in _positions(joint)]
    across = max(max(-box[0], box[3]) for box in swung)
    return max(-rest[0], rest[3]), across, rest[4], -fixed[1]


def _positions(joint: Joint) -> Iterator[float]:
    """Where a joint is looked at on its way."""
    low, high = joint.asked or (0.0, 0.0)
    if joint.unit == "deg":
        low, high = max(low, -RIGHT_ANGLE), min(high, RIGHT_ANGLE)
    steps = max(1, math.ceil((high - low) / LOOKS))
    yield from (low + (high - low) * k / steps for k in range(steps + 1))


def _moved(whole: Mechanism, joint: Joint, position: float) -> list[Manifold]:
    """What of a piece moves, at a position of its joint."""
    if joint.posed:
        return [joint.posed(position)]
    at = list(whole.at(position, joint))
    return [solid for piece, solid in at if joint.fuses or whole.moves(piece, joint)]


def _box(solids: Iterable[Manifold], turned: float) -> tuple[float, ...]:
    """The box around solids that are turned about z: its low and its high ends."""
    boxes = [solid.rotate((0, 0, turned)).bounding_box() for solid in solids]
    low, high = ([ends(box[k] for box in boxes) for k in ks] for ends, ks in _ENDS)
    return (*low, *high)


_ENDS = ((min, range(3)), (max, range(3, 6)))
