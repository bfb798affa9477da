"""The fields of a family: a value with its bounds, its unit and its sentence."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Any, TypeGuard

from scadgen.tables.limits import Limits, is_finite
from scadgen.text.numbers import exact

GROUPS = ("Part", "Size", "Fit", "Leaves", "Quality")


@dataclass(frozen=True, kw_only=True)
class Bounds(Limits):
    """The limits of a field, and what its slider needs: always a default, a ``step``, a ``group``.

    A field with ``labels`` is a choice: its values count the labels from ``low`` on. For one that
    is ``automatic``, 0 is accepted too: it stands for the default, or for as much more as the
    rules of the family ask of it.
    """

    default: float
    step: float
    group: str
    sentence: str
    labels: tuple[str, ...] = ()
    automatic: bool = False

    @property
    def initial(self) -> float:
        """What the field is where nothing is said of it: 0 for one that is automatic."""
        return 0 if self.automatic else self.default

    @property
    def meaning(self) -> str:
        """The sentence, and what 0 stands for if the field is automatic."""
        if not self.automatic:
            return self.sentence
        return f"{self.sentence}; 0: {exact(self.default)} or as needed"

    @property
    def notes(self) -> str:
        """What follows the range in words: labels or steps, and that 0 is accepted too."""
        if self.labels:
            return f" ({', '.join(self.labels)})"
        return super().notes + (", or 0" if self.automatic else "")

    def accepts(self, value: object) -> TypeGuard[float]:
        return (self.automatic and is_finite(value) and value == 0) or super().accepts(value)

    def nearest(self, value: object) -> float:
        return 0 if self.automatic and is_finite(value) and value == 0 else super().nearest(value)

    def on_step(self, value: float) -> float:
        """The accepted value on the slider's steps closest to ``value``."""
        return self.nearest(round(value / self.step) * self.step)


def mm(
    default: float,
    low: float,
    high: float,
    step: float,
    group: str,
    sentence: str,
    *,
    automatic: bool = False,
) -> Any:
    """A length in millimetres; if ``automatic``, 0 stands for as much as is needed."""
    return _field("mm", default, low, high, step, group, sentence, automatic=automatic)


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


def count(
    default: int,
    low: int,
    high: int,
    group: str,
    sentence: str,
    *,
    step: int = 1,
    automatic: bool = False,
) -> Any:
    """A whole number, a multiple of ``step``; if ``automatic``, 0 stands for as many as needed."""
    return _field("", default, low, high, step, group, sentence, whole=True, automatic=automatic)


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
    automatic: bool = False,
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
        automatic=automatic,
    )
    return dataclasses.field(default=bounds.initial, metadata={"bounds": bounds})
