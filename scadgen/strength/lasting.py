"""What is left of strength and stiffness under a load that lasts, and in warmth.

A plastic's file tabulates shares of what it bears for a moment at 23 C. Nothing is read between
the points: what is asked takes a point that is as long and as warm, or worse. Where there is none,
nothing is known, and the duty is refused. The source of each share is in the file. That shares of
moulded parts hold for printed ones is assumed. The strain that a bend may have stays as it is: a
web that is held bent relaxes (assumed).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.strength.duty import ROOM, Duty
from scadgen.text.numbers import exact

if TYPE_CHECKING:
    from scadgen.strength.materials import Plastic

#: So far below the temperature at which its plastic softens a hinge stays stiff, K (assumed).
BELOW_SOFTENING = 15.0


@dataclass(frozen=True)
class Lasting:
    """Shares of the strength and of the modulus that are left after ``hours`` at ``celsius``.

    Each is a low and a high end, or None where it is not known. 0 hours: a load for a moment.
    ``of``, ``mark`` and ``source`` as those of an entry.
    """

    hours: float
    celsius: float
    strength: tuple[float, float] | None
    modulus: tuple[float, float] | None
    mark: str
    source: str = ""
    of: str = ""

    def covers(self, hours: float, celsius: float) -> bool:
        """Whether it is as long and as warm as that, or worse."""
        return self.hours >= hours and self.celsius >= celsius

    def beyond(self, other: Lasting) -> bool:
        """Whether it is longer or warmer, and neither shorter nor cooler."""
        same = (self.hours, self.celsius) == (other.hours, other.celsius)
        return self.covers(other.hours, other.celsius) and not same


@dataclass(frozen=True)
class Untold:
    """What a duty asks and nobody knows of a plastic: ``value`` of ``name``, in ``unit``.

    ``works``: the nearest value that is known. ``words`` say why that is no answer.
    """

    name: str
    value: float
    idle: float
    unit: str
    words: str

    def __str__(self) -> str:
        return f"{self.name}: {self.words}"


def strength_left(plastic: Plastic, duty: Duty) -> float:
    """Share of the strength that is left as long and as warm as the duty asks; 0 if not known."""
    return _left(plastic, "strength", duty.hours, duty.celsius) or 0.0


def modulus_left(plastic: Plastic, duty: Duty) -> float:
    """The same share of the modulus: a load that lasts bends it further."""
    return _left(plastic, "modulus", duty.hours, duty.celsius) or 0.0


def warmest(plastic: Plastic) -> float:
    """The warmest (deg C) that a plastic may get under a load: well below where it softens."""
    return max(plastic.softening.low - BELOW_SOFTENING, ROOM)


def untold(plastic: Plastic, duty: Duty) -> Iterator[Untold]:
    """Why nothing can be said of the plastic as long and as warm as the duty asks; at most one."""
    hours, celsius = duty.hours, duty.celsius
    under = f"for {exact(hours)} h" if hours else "for a moment"
    why = f"nobody here knows what {plastic.name} bears {under} at {exact(celsius)} deg C"
    if celsius > warmest(plastic):
        softens = f"{plastic.name} softens from {exact(plastic.softening.low)} deg C on"
        why = f"{softens}, and under a load it must stay {BELOW_SOFTENING:g} K below"
    elif _known(plastic, hours, celsius):
        return
    elif _known(plastic, 0, celsius):
        times = (point.hours for point in plastic.lasting)
        most = max((h for h in times if _known(plastic, h, celsius)), default=0.0)
        yield Untold("hours", hours, most, "h", f"{why}; ask {exact(most)} h, {_OTHER}.")
        return
    cool = [c for point in plastic.lasting if (c := point.celsius) <= warmest(plastic)]
    most = max((c for c in cool if _known(plastic, hours, c)), default=ROOM)
    brief = "" if _known(plastic, hours, most) else " for a moment"
    words = f"{why}: {exact(celsius)} deg C are asked; ask {exact(most)} deg C{brief}, {_OTHER}."
    yield Untold("celsius", celsius, most, "deg C", words)


_OTHER = "or take another plastic"


def _known(plastic: Plastic, hours: float, celsius: float) -> bool:
    """Whether both shares are known of a load as long and as warm as that."""
    shares = (_left(plastic, of, hours, celsius) for of in ("strength", "modulus"))
    return None not in shares


def _left(plastic: Plastic, of: str, hours: float, celsius: float) -> float | None:
    """The weak end of the mildest point that is as long and as warm; None without one."""
    if hours <= 0 and celsius <= ROOM:
        return 1.0
    shares: dict[tuple[float, float], float] = {}
    for point in plastic.lasting:
        ends = getattr(point, of)
        if ends is not None and point.covers(hours, celsius):
            at = point.hours, point.celsius
            shares[at] = min(ends[0], shares.get(at, 1.0))
    return max(shares.values(), default=None)
