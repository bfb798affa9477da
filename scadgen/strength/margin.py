"""One way in which a hinge can give way, held against what its plastic bears."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Strength:
    """What one place of a hinge bears under its duty, and what it may bear.

    name: what would give way and how, in words: "neck in bending". where the load crosses layers,
        the words say so.
    actual, permissible: in ``unit`` ("MPa", "%" or "N"), floats or arrays that broadcast.
    source: of the formula: a publication, or "common practice, no source".
    change: what to change when it is too little, in words: "a thicker shaft".
    """

    name: str
    actual: Any
    permissible: Any
    unit: str
    source: str
    change: str

    @property
    def factor(self) -> Any:
        """How many times the duty it bears; infinite where nothing is asked."""
        import numpy as np

        with np.errstate(divide="ignore", invalid="ignore"):
            ratio = np.divide(self.permissible, self.actual)
        return np.where(np.asarray(self.actual) <= 0, np.inf, ratio)
