"""What a hinge has to do and to bear, beyond turning."""

from __future__ import annotations

from dataclasses import dataclass, fields
from numbers import Real

from scadgen.text.numbers import shown
from scadgen.text.units import meant


@dataclass(frozen=True)
class Quantity:
    """What a value of a duty may be: from ``low`` to ``high`` in ``unit``.

    ``sentence`` says what the value is.
    """

    unit: str
    low: float
    high: float
    sentence: str

    @property
    def words(self) -> str:
        """The rule that the range makes, as a message gives it."""
        unit = f" {self.unit}" if self.unit else ""
        return f"it must be {self.low:.0f} to {self.high:.0f}{unit}"

    def nearest(self, value: float) -> float:
        """The value in the range closest to ``value``; the least for one that is no number."""
        return min(max(value, self.low), self.high) if value == value else self.low


#: What a printed hinge may be asked for; beyond it a value is in another unit, or no task for one.
QUANTITIES = {
    "load": Quantity(
        "N", 0, 2000, "Force on the moving part, square to the axis, in any direction (N)"
    ),
    "lever": Quantity("mm", 0, 1000, "From the axis to where that force acts (mm)"),
    "pull": Quantity("N", 0, 2000, "Force along the axis, either way (N)"),
    "cycles": Quantity("", 1, 10_000_000, "Times that it is opened and closed in its life"),
    "margin": Quantity("", 1, 10, "Times stronger than this that it has to be"),
}
#: A lever between 0 and this (mm) is shorter than any hinge is wide: it was meant in metres.
LEAST_LEVER = 1.0


class DutyError(ValueError):
    """A value that no duty can have.

    Attributes: ``key``, ``value`` and ``unit`` of what was refused; ``rule``, in words; ``works``,
    the nearest value that a duty may have; ``hint``, the unit that was perhaps meant, or "".
    """

    def __init__(self, key: str, value: object, rule: str, works: float, hint: str = "") -> None:
        self.key, self.value, self.unit = key, value, QUANTITIES[key].unit
        self.rule, self.works, self.hint = rule, works, hint
        super().__init__(f"duty: {self.words}")

    @property
    def words(self) -> str:
        """The message without what it is about, for a reader that names the place itself."""
        unit = f" {self.unit}" if self.unit else ""
        opening = f"{self.key} = {shown(self.value)}{unit}; {self.rule}."
        return f"{opening} This works: {shown(self.works)}.{self.hint and ' '}{self.hint}"


@dataclass(frozen=True)
class Duty:
    """What the moving part asks of a hinge. The turn is the hinge's own ``swing``.

    load: force on the moving part, square to the axis, in any direction, N, 0 to 2000. It acts
        level with the middle of the bearing (assumed); what would tilt the moving part about other
        lines is held by a second hinge or by the part itself.
    lever: from the axis to where that force acts, mm, 0, or 1 to 1000. At the end of its turn the
        moving part leans on a stop, or on the other leaf, and pries at the axis with this lever.
    pull: force along the axis, either way, N, 0 to 2000; at the axis of a pivot, at the moving
        border of a flexure.
    cycles: how often it is opened and closed in its life, 1 to 10 million.
    margin: how many times stronger it has to be than the duty asks, 1 to 10.

    The usual values: a light lid that a hand opens (assumed). Raises DutyError for other values.
    """

    load: float = 3.0
    lever: float = 20.0
    pull: float = 5.0
    cycles: float = 1000.0
    margin: float = 1.5

    def __post_init__(self) -> None:
        for field in fields(self):
            _check(field.name, getattr(self, field.name))


def _check(key: str, value: object) -> None:
    allowed = QUANTITIES[key]
    if isinstance(value, bool) or not isinstance(value, Real):
        default = {field.name: field.default for field in fields(Duty)}[key]
        raise DutyError(key, value, "it must be a number", float(str(default)))
    value = float(value)
    if not allowed.low <= value <= allowed.high:
        hint = meant(allowed.unit, value, allowed.low, allowed.high)
        if key == "margin":
            hint = meant("times", value, allowed.low, allowed.high)
        raise DutyError(key, value, allowed.words, allowed.nearest(value), hint)
    if key == "lever" and 0 < value < LEAST_LEVER:
        hint = meant(allowed.unit, value, LEAST_LEVER, allowed.high)
        raise DutyError(
            key, value, f"it must be 0, or {LEAST_LEVER:g} mm or more", LEAST_LEVER, hint
        )
