"""What a hinge has to do and to bear, beyond turning."""

from __future__ import annotations

from dataclasses import dataclass, fields
from numbers import Real

from scadgen.tables.limits import Limits
from scadgen.text.numbers import exact
from scadgen.text.units import meant

#: A lever between 0 and this (mm) is shorter than any hinge is wide: it was meant in metres.
LEAST_LEVER = 1.0
#: At what temperature (deg C) the figures of plastics hold.
ROOM = 23.0


class DutyError(ValueError):
    """A value that no duty can have.

    Attributes: ``key`` and ``value`` of what was refused; ``works``, the nearest value that a duty
    may have; ``words``, the message without "duty: ", for a reader that names the place itself.
    """

    def __init__(self, key: str, value: object, works: float, words: str) -> None:
        self.key, self.value, self.works, self.words = key, value, works, words
        super().__init__(f"duty: {words}")


@dataclass(frozen=True)
class Duty:
    """What the moving part asks of a hinge. The turn is the hinge's own ``swing``.

    load: force on the moving part, square to the axis, in any direction, N, 0 to 2000.
    lever: from the axis to where that force acts, mm, 0, or 1 to 1000. At the end of its turn the
        moving part leans on a stop, or on the other leaf, and pries at the axis with this lever.
    pull: force along the axis, either way, N, 0 to 2000: the weight of a door, for one.
    cycles: how often it is opened and closed in its life, 1 to 10 million.
    margin: how many times stronger it has to be than the duty asks, 1 to 10.
    hours: how long the load lasts at a stretch, h, 0 (for a moment) to 100,000.
    celsius: the warmest at which it bears it, deg C, 23 to 150.
    offset: how far beside the middle of the hinge, along the axis, the load acts, mm, 0 to 1000.
    pull_lever: from the axis to where the pull acts, mm, 0, or 1 to 1000; a flexure's axis is the
        middle of what bends, and it is pulled at its moving border at least.

    One hinge holds all that these two tilt; of two on one lid each holds a part that you tell.

    The usual values: a light lid that a hand opens (assumed). Raises DutyError for other values.
    """

    load: float = 3.0
    lever: float = 20.0
    pull: float = 5.0
    cycles: float = 1000.0
    margin: float = 1.5
    hours: float = 0.0
    celsius: float = ROOM
    offset: float = 0.0
    pull_lever: float = 0.0

    def __post_init__(self) -> None:
        for field in fields(self):
            _check(field.name, getattr(self, field.name))

    @property
    def tilt(self) -> float:
        """Moment (N mm) about lines square to the axis. Source: statics."""
        return self.load * self.offset + self.pull * self.pull_lever


#: What a printed hinge may be asked for; beyond it a value is in another unit, or no task for one.
QUANTITIES = {
    "load": Limits(
        "N",
        0,
        2000,
        Duty.load,
        "Force on the moving part, square to the axis, in any direction (N)",
    ),
    "lever": Limits("mm", 0, 1000, Duty.lever, "From the axis to where that force acts (mm)"),
    "offset": Limits(
        "mm", 0, 1000, Duty.offset, "Along the axis, from the middle to where that force acts (mm)"
    ),
    "pull": Limits("N", 0, 2000, Duty.pull, "Force along the axis, either way (N)"),
    "pull_lever": Limits(
        "mm", 0, 1000, Duty.pull_lever, "From the axis to where the pull acts (mm)"
    ),
    "cycles": Limits(
        "", 1, 10_000_000, Duty.cycles, "Times that it is opened and closed in its life"
    ),
    "margin": Limits("times", 1, 10, Duty.margin, "Times stronger than this that it has to be"),
    "hours": Limits(
        "h", 0, 100_000, Duty.hours, "How long the load lasts at a stretch (h); 0: for a moment"
    ),
    "celsius": Limits(
        "deg C", ROOM, 150, Duty.celsius, "The warmest at which it bears the load (deg C)"
    ),
}


def _check(key: str, value: object) -> None:
    limits = QUANTITIES[key]
    if isinstance(value, Real) and not isinstance(value, bool):
        value = float(value)
    if not limits.accepts(value):
        raise DutyError(key, value, limits.nearest(value), limits.refusal(key, value))
    if key.endswith("lever") and 0 < value < LEAST_LEVER:
        rule = f"it must be 0, or {LEAST_LEVER:g} mm or more. This works: {LEAST_LEVER:g}."
        hint = meant(limits.unit, value, LEAST_LEVER, limits.high)
        words = f"{key} = {exact(value)} mm; {rule} {hint}".rstrip()
        raise DutyError(key, value, LEAST_LEVER, words)
