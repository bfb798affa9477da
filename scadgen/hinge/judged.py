"""What a family says of how well its form does something: a share, and the reason in words."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Judged:
    """``worth``: 0, not at all, to 1, as well as any form does. ``words``: why, without a stop."""

    worth: float
    words: str
