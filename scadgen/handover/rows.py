"""Lines of the sheet's tables."""

from __future__ import annotations

from dataclasses import dataclass

from scadgen.text.numbers import digits


@dataclass(frozen=True)
class Row:
    """A ``label`` and what it says."""

    label: str
    words: str


def significant(value: float) -> str:
    """A number to three digits, in full."""
    text = f"{float(value):.3g}"
    return f"{float(text):.0f}" if "e+" in text else text


def span(low: float, high: float, places: int = 0) -> str:
    """``low`` to ``high``, or one number where both read the same."""
    first, last = digits(low, places), digits(high, places)
    return first if first == last else f"{first} to {last}"


def listed(words: list[str]) -> str:
    """Words in a row."""
    return ", ".join(words)
