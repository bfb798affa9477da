"""The range of a number: what it accepts, how a message tells it, and what works instead."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TypeGuard

from scadgen.text.numbers import exact
from scadgen.text.quoting import toml
from scadgen.text.units import after, meant


@dataclass(frozen=True)
class Limits:
    """A number from ``low`` to ``high`` in ``unit``; ``high`` may be infinite, the number not.

    ``default`` is the usual value, if there is one; ``sentence`` says what the value is; with
    ``whole`` only multiples of ``step`` are accepted.
    """

    unit: str
    low: float
    high: float
    default: float | None = None
    sentence: str = ""
    whole: bool = False
    step: float = 1

    @property
    def suffix(self) -> str:
        """The unit as it follows a number in a message."""
        return after(self.unit)

    @property
    def extent(self) -> str:
        """The range in words."""
        end = f" to {exact(self.high)}" if self.high < math.inf else ""
        more = "" if end else " or more"
        return f"{exact(self.low)}{end}{self.suffix}{more}{self.notes}"

    @property
    def notes(self) -> str:
        """What follows the range in words: the steps of a whole number."""
        return f" in steps of {exact(self.step)}" if self.whole else ""

    @property
    def words(self) -> str:
        """The rule that the range makes, as a message gives it."""
        return f"it must be {self.extent}."

    def accepts(self, value: object) -> TypeGuard[float]:
        """Whether ``value`` is a number in the range, and a multiple of ``step`` if ``whole``."""
        if not is_finite(value) or not self.low <= value <= self.high:
            return False
        return not self.whole or value % self.step == 0

    def nearest(self, value: object) -> float:
        """The accepted value closest to ``value``; the usual or the least where none is close."""
        if is_number(value) and not math.isnan(value):
            if self.whole and math.isfinite(value):
                value = round(value / self.step) * self.step
            near = min(max(value, self.low), self.high)
            if math.isfinite(near):
                return near
        return self.low if self.default is None else self.default

    def meant(self, value: float) -> str:
        """A sentence on the units in which ``value`` would be in the range; or ""."""
        return meant(self.unit, value, self.low, self.high)

    def refusal(self, key: str, value: object) -> str:
        """What to say of a value that is not accepted: the rule, and what would work."""
        works = f"This works: {exact(self.nearest(value))}."
        if not is_number(value):
            works = "" if self.default is None else works
            return f"{key} = {toml(value)}; it must be a number, {self.extent}. {works}".rstrip()
        opening = f"{key} = {exact(value)}{self.suffix}; {self.words} {works}"
        return f"{opening} {self.meant(value)}".rstrip()


def is_number(value: object) -> TypeGuard[float]:
    """Whether ``value`` is a number, be it infinite or none at all (nan)."""
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def is_finite(value: object) -> TypeGuard[float]:
    """Whether ``value`` is a finite number."""
    try:
        return is_number(value) and math.isfinite(value)
    except OverflowError:  # an int that no float can hold
        return False
