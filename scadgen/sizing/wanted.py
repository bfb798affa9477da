"""What a hinge is wanted for, and the answer that there is none."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, cast

import numpy as np

from scadgen.hinge.batch import count
from scadgen.hinge.family import Hinge
from scadgen.proof.fleet.population import ROUGH
from scadgen.proof.heights import LINE
from scadgen.strength.duty import Duty
from scadgen.strength.materials import Plastic

Array = np.ndarray[Any, Any]
Aim = Literal["smallest", "strongest", "quickest"]


@dataclass(frozen=True)
class Refused:
    """Why no hinge of a family serves: a sentence, and what would help, if anything does."""

    family: str
    why: str
    help: str = ""

    def __str__(self) -> str:
        return f"{self.why}{f' {self.help}' if self.help else ''}"


@dataclass(frozen=True)
class Envelope:
    """The room that there is for a hinge as it prints, along x, y and z (mm); inf for no limit."""

    x: float = float("inf")
    y: float = float("inf")
    z: float = float("inf")

    @property
    def given(self) -> bool:
        """Whether any side has a limit."""
        return any(np.isfinite(side) for side in dataclasses.astuple(self))

    def excess(self, hinges: Hinge) -> Array:
        """The side of each hinge of a batch that is largest for the room, as a share of it."""
        sides = dataclasses.astuple(self)
        shares = [np.asarray(s) / room for s, room in zip(hinges.extents(), sides, strict=True)]
        widest = np.maximum.reduce(np.broadcast_arrays(*shares))
        return cast(Array, np.broadcast_to(widest, count(hinges)))

    def room(self, hinges: Hinge) -> Array:
        """Which hinges of a batch fit as they print: no side is turned into another's place."""
        return cast(Array, self.excess(hinges) <= 1)


@dataclass(frozen=True)
class Prefers:
    """What else is wanted of the form.

    one_piece: one flat piece, nothing to come apart. must_not_come_off: the moving side stays on
    when somebody forces it. aim: what counts most; None for a bit of everything.
    """

    one_piece: bool = False
    must_not_come_off: bool = False
    aim: Aim | None = None


@dataclass(frozen=True)
class Wanted:
    """What a hinge is wanted for.

    plastic: where it says nothing of walls and infill, those of the weakest printers of the rough
    fleet count. fixed: fields of the family that are given, by name; ``swing`` nearly always is.
    """

    duty: Duty
    plastic: Plastic
    envelope: Envelope = Envelope()
    fixed: Mapping[str, float] = field(default_factory=dict)
    prefers: Prefers = Prefers()

    def __post_init__(self) -> None:
        line = self.fixed.get("line_width", LINE.default)
        object.__setattr__(self, "plastic", ROUGH.printed(self.plastic, line))
