"""The fields of a family: a value with its bounds, its unit and its sentence."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Any

from scadgen.tables.limits import Limits

GROUPS = ("Part", "Size", "Fit", "Leaves", "Quality")


@dataclass(frozen=True, kw_only=True)
class Bounds(Limits):
    """The limits of a field, and what its slider needs: always a default, a ``step``, a ``group``.

    A field with ``labels`` is a choice: its values count the labels from ``low`` on.
    """

    default: float
    step: float
    group: str
    sentence: str
    labels: tuple[str, ...] = ()

    @property
    def extent(self) -> str:
        """The range in words; the labels of a choice."""
        if not self.labels:
            return super().extent
        return ", ".join(f"{self.low + k:g} ({label})" for k, label in enumerate(self.labels))

    def on_step(self, value: float) -> float:
        """The accepted value on the slider's steps closest to ``value``."""
        return self.nearest(round(value / self.step) * self.step)


def mm(default: float, low: float, high: float, step: float, group: str, sentence: str) -> Any:
    """A length in millimetres."""
    return _field("mm", default, low, high, step, group, sentence)


def deg(default: float, low: float, high: float, step: float, group: str, sentence: str) -> Any:
    """An angle in degrees."""
    return _field("deg", default, low, high, step, group, sentence)


def choice(default: int, labels: tuple[str, ...], group: str, sentence: str) -> Any:
    """One of several named things, counted from 0."""
    last = len(labels) - 1
    return _field("", default, 0, last, 1, group, sentence, whole=True, labels=labels)


def quantity(
    unit: str, default: float, low: float, high: float, step: float, group: str, sentence: str
) -> Any:
    """A quantity in a unit of its own."""
    return _field(unit, default, low, high, step, group, sentence)


def count(default: int, low: int, high: int, group: str, sentence: str, *, step: int = 1) -> Any:
    """A whole number, a multiple of ``step``."""
    return _field("", default, low, high, step, group, sentence, whole=True)


def _field(
    unit: str,
    default: float,
    low: float,
    high: float,
    step: float,
    group: str,
    sentence: str,
    *,
    whole: bool = False,
    labels: tuple[str, ...] = (),
) -> Any:
    bounds = Bounds(
        unit,
        low,
        high,
        default=default,
        step=step,
        group=group,
        sentence=sentence,
        whole=whole,
        labels=labels,
    )
    return dataclasses.field(default=default, metadata={"bounds": bounds})
