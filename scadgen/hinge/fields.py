"""The fields of a family: a value with its bounds, its unit and its sentence."""

from __future__ import annotations

import dataclasses
import math
from dataclasses import dataclass
from typing import Any

GROUPS = ("Part", "Size", "Fit", "Leaves", "Quality")


@dataclass(frozen=True)
class Bounds:
    """What a field accepts: ``low`` to ``high`` in ``unit``, on a slider by ``step``.

    ``whole`` fields take multiples of ``step`` only. ``sentence`` says what the value is. A field
    with ``labels`` is a choice: its values count the labels from ``low`` on.
    """

    unit: str
    default: float
    low: float
    high: float
    step: float
    group: str
    sentence: str
    whole: bool = False
    labels: tuple[str, ...] = ()

    @property
    def suffix(self) -> str:
        """The unit as it follows a number in a message."""
        return f" {self.unit}" if self.unit else ""

    @property
    def words(self) -> str:
        """The rule that the bounds make, as a message gives it."""
        if self.labels:
            named = ", ".join(f"{self.low + k:g} ({label})" for k, label in enumerate(self.labels))
            return f"it must be {named}."
        multiple = f" in steps of {self.step:g}" if self.whole else ""
        return f"it must be {self.low:g} to {self.high:g}{self.suffix}{multiple}."

    def accepts(self, value: Any) -> bool:
        """Whether ``value`` is a number in the range, and a multiple of ``step`` if ``whole``."""
        if not is_real(value) or not self.low <= value <= self.high:
            return False
        return not self.whole or value % self.step == 0

    def nearest(self, value: float) -> float:
        """The accepted value closest to ``value``; the default for one that is no number."""
        if math.isnan(value):
            return self.default
        if self.whole and math.isfinite(value):
            value = round(value / self.step) * self.step
        return min(max(value, self.low), self.high)

    def on_step(self, value: float) -> float:
        """The accepted value on the slider's steps closest to ``value``."""
        return self.nearest(round(value / self.step) * self.step)


def is_real(value: object) -> bool:
    """Whether ``value`` is a finite number."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return False
    try:
        return math.isfinite(value)
    except OverflowError:  # an int that no float can hold
        return False


def mm(default: float, low: float, high: float, step: float, group: str, sentence: str) -> Any:
    """A length in millimetres."""
    return _field(Bounds("mm", default, low, high, step, group, sentence))


def deg(default: float, low: float, high: float, step: float, group: str, sentence: str) -> Any:
    """An angle in degrees."""
    return _field(Bounds("deg", default, low, high, step, group, sentence))


def choice(default: int, labels: tuple[str, ...], group: str, sentence: str) -> Any:
    """One of several named things, counted from 0."""
    last = len(labels) - 1
    return _field(Bounds("", default, 0, last, 1, group, sentence, whole=True, labels=labels))


def quantity(
    unit: str, default: float, low: float, high: float, step: float, group: str, sentence: str
) -> Any:
    """A quantity in a unit of its own."""
    return _field(Bounds(unit, default, low, high, step, group, sentence))


def count(default: int, low: int, high: int, group: str, sentence: str, *, step: int = 1) -> Any:
    """A whole number, a multiple of ``step``."""
    return _field(Bounds("", default, low, high, step, group, sentence, whole=True))


def _field(bounds: Bounds) -> Any:
    return dataclasses.field(default=bounds.default, metadata={"bounds": bounds})
