"""The search for the first hinge that serves, and what stood in the way where none does."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, cast

import numpy as np

from scadgen.hinge.batch import sound
from scadgen.hinge.family import Hinge
from scadgen.strength.bearing import borne, needed
from scadgen.strength.duty import Duty
from scadgen.strength.materials import Plastic
from scadgen.strength.place import Strength

Array = np.ndarray[Any, Any]


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

    def room(self, hinges: Hinge) -> Array:
        """Which hinges of a batch fit; standing ones may be turned about z."""
        sides = [np.broadcast_to(side, np.shape(hinges.clearance)) for side in hinges.extents()]
        flat = ((sides[0] <= self.x) & (sides[1] <= self.y)) | (
            (sides[0] <= self.y) & (sides[1] <= self.x)
        )
        return cast(Array, flat & (sides[2] <= self.z))


@dataclass(frozen=True)
class Wanted:
    """What a hinge is wanted for.

    fixed: fields of the family that are given, by name; ``swing`` is nearly always one.
    """

    duty: Duty
    plastic: Plastic
    envelope: Envelope = Envelope()
    fixed: Mapping[str, float] = field(default_factory=dict)


class Search:
    """Looks at one batch after the other, from small to large, and remembers what it saw.

    ``tried`` counts the sound hinges.
    """

    def __init__(self, wanted: Wanted) -> None:
        self.wanted, self.tried = wanted, 0
        self.least = np.full(3, np.inf)  # sides of the sound hinges, each the least of any
        self.fits = False
        #: By the strength's name: it, on the hinge in the room that bears it best; its factor
        #: there; and whether that is enough.
        self.best: dict[str, tuple[Strength, float, bool]] = {}

    def first_good(self, hinges: Hinge) -> int | None:
        """The first hinge of a batch that fits and bears the duty; None where none does."""
        whole = sound(hinges)
        self.tried += int(np.sum(whole))
        if not whole.any():
            return None
        sides = [np.broadcast_to(side, whole.shape)[whole] for side in hinges.extents()]
        self.least = np.minimum(self.least, [np.min(side) for side in sides])
        fits = whole & self.wanted.envelope.room(hinges)
        if not fits.any():
            return None
        self.fits = True
        good = fits.copy()
        with np.errstate(all="ignore"):  # what is not sound may have no size at all
            strengths = list(hinges.strengths(self.wanted.duty, self.wanted.plastic))
        for strength in strengths:
            if not strength.caution:
                good &= self._borne(strength, fits)
        return int(np.argmax(good)) if good.any() else None

    def _borne(self, strength: Strength, fits: Array) -> Array:
        factors = np.broadcast_to(strength.factor, fits.shape)
        enough = cast(Array, np.broadcast_to(borne(strength, self.wanted.duty), fits.shape))
        kept, best, ever = self.best.get(strength.name, (strength, -np.inf, False))
        index = int(np.argmax(np.where(fits, factors, -np.inf)))
        if factors[index] > best:
            kept, best = _alone(strength, fits.shape, index), float(factors[index])
        self.best[strength.name] = (kept, best, ever or bool(enough[fits].any()))
        return enough

    def refusal(self, cls: type[Hinge]) -> Refused:
        """Why nothing served: the rules, the room, or what nothing in the room bears."""
        if not self.tried:
            why = "no values keep the family's rules together with what is given."
            return Refused(cls.family, why)
        return self._too_weak(cls) if self.fits else self._too_large(cls)

    def _too_large(self, cls: type[Hinge]) -> Refused:
        least = " x ".join(f"{side:.1f}" for side in self.least)
        sides = dataclasses.astuple(self.wanted.envelope)
        room = " x ".join("any" if np.isinf(side) else f"{side:g}" for side in sides)
        why = f"it needs {least} mm at least, along x, y and z; there is room for {room} mm."
        return Refused(cls.family, why, "Shorter leaves, or more room.")

    def _too_weak(self, cls: type[Hinge]) -> Refused:
        """Names what no candidate in the room bears; else what is nearest to too little."""
        never = [row for row in self.best.values() if not row[2]]
        duty = self.wanted.duty
        strength, best, _ = min(
            never or self.best.values(), key=lambda row: row[1] / needed(row[0], duty)
        )
        if never and strength.limit:
            asked, most = float(strength.actual), float(strength.permissible)
            words = f"{strength.name}: {asked:.6g} asked, at most {most:.6g} {strength.unit}."
            return Refused(cls.family, words, f"It would take {strength.change}.")
        why = (
            f"{strength.name}: {best:.2g} times the duty at best; {duty.margin:g} times are asked."
        )
        if not never:
            why = f"nothing bears all of it within the room; hardest is {strength.name}."
        return Refused(cls.family, why, f"It would take {strength.change}, or another plastic.")


def _alone(strength: Strength, shape: tuple[int, ...], index: int) -> Strength:
    """What one hinge of a batch bears at a place."""
    actual, permissible = (
        np.broadcast_to(value, shape)[index] for value in (strength.actual, strength.permissible)
    )
    return dataclasses.replace(strength, actual=actual, permissible=permissible)
