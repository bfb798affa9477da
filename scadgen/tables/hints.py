"""What was meant by a word that is not known: the one place that guesses."""

from __future__ import annotations

import difflib
from collections.abc import Iterable


def closest(word: str, options: Iterable[str]) -> str | None:
    """The option most like a word, capitals aside, if any is."""
    lower = {option.lower(): option for option in options}
    found = difflib.get_close_matches(word.lower(), lower, 1)
    return lower[found[0]] if found else None


def did_you_mean(option: str | None) -> str:
    """The question that offers an option; "" without one."""
    return f"did you mean {option}?" if option else ""


def instead(option: str | None, options: Iterable[str]) -> str:
    """What to say in place of a word that is not known: the one that was meant, or else all."""
    return did_you_mean(option) or f"there are {', '.join(options)}."
