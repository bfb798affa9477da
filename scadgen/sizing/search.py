"""The search for the hinges that serve, and what stood in the way where none does."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import Any, cast

import numpy as np

from scadgen.hinge.batch import batch, count, picked, sound
from scadgen.hinge.family import Hinge, bounds, definition
from scadgen.hinge.rules import HingeError
from scadgen.sizing.descent import Columns, neighbours, smallest
from scadgen.sizing.wanted import Refused, Wanted
from scadgen.strength.bearing import borne, needed
from scadgen.strength.place import Strength
from scadgen.text.numbers import shown

Array = np.ndarray[Any, Any]

#: Hinges that nearly serve, from which the last resort starts.
NEAREST = 24


def serving(hinges: Hinge, wanted: Wanted) -> Array:
    """Which hinges of a batch are sound, fit, and bear the duty."""
    good = sound(hinges) & wanted.envelope.room(hinges)
    left = np.flatnonzero(good)
    for strength in _strengths(picked(hinges, left), wanted) if len(left) else ():
        good[left] &= borne(strength, wanted.duty)
    return good


def lack(hinges: Hinge, wanted: Wanted) -> Array:
    """How far each hinge of a batch is from what is wanted: 1 or less where it fits and bears.

    The largest of its sides as a share of the room, and of what is asked as a share of what it
    bears.
    """
    worst = wanted.envelope.excess(hinges)
    for strength in _strengths(hinges, wanted):
        worst = np.maximum(worst, _asked(strength, wanted))
    return worst


def _asked(strength: Strength, wanted: Wanted) -> Array:
    """What is asked of a place, as a share of what it bears."""
    with np.errstate(all="ignore"):
        return cast(Array, needed(strength, wanted.duty) / np.asarray(strength.factor))


def _strengths(hinges: Hinge, wanted: Wanted) -> list[Strength]:
    """All that is decided on; what is not sound may have no size at all."""
    with np.errstate(all="ignore"):
        strengths = list(hinges.strengths(wanted.duty, wanted.plastic))
    return [strength for strength in strengths if not strength.caution]


class Search:
    """Looks at one batch after the other, from small to large, and remembers what it saw.

    ``tried`` counts the sound hinges.
    """

    def __init__(self, cls: type[Hinge], wanted: Wanted, free: Sequence[str]) -> None:
        self.cls, self.wanted, self.free, self.tried = cls, wanted, tuple(free), 0
        #: Of the hinges that are not sound those that break the fewest rules, and how many; of the
        #: sound ones those that fit best, and that lack least.
        self.sound, self.fitting, self.lacking = _Nearest(), _Nearest(), _Nearest()
        #: By the strength's name: it, on the hinge in the room that bears it best; its factor
        #: there; and whether that is enough.
        self.best: dict[str, tuple[Strength, float, bool]] = {}

    def good(self, columns: Columns, whole: Array) -> Array:
        """Where the hinges of a batch stand that fit and bear the duty, the smallest first.

        ``whole``: where those stand that are sound.
        """
        every = batch(self.cls, columns)
        self.tried += len(whole)
        if not len(whole):
            self.sound.add(self._broken(every), columns)
            return whole
        hinges = picked(every, whole)
        worst = excess = self.wanted.envelope.excess(hinges)
        fits = excess <= 1
        good = fits.copy()
        for strength in _strengths(hinges, self.wanted):
            good &= self._borne(strength, fits)
            worst = np.maximum(worst, _asked(strength, self.wanted))
        if not good.any():
            kept = {name: column[whole] for name, column in columns.items()}
            self.fitting.add(excess, kept)
            self.lacking.add(worst, kept)
        return whole[good]

    def last_resort(self, free: Sequence[str]) -> Columns | None:
        """A hinge that serves, a few steps of free fields from those that lack least; or None."""
        if not self.tried:
            return None
        start = self.lacking.columns
        found = smallest(self.cls, free, start, lambda near: lack(near, self.wanted), sound)
        columns = {name: np.array([value]) for name, value in found.items()}
        self.lacking = _Nearest(columns)
        return columns if serving(batch(self.cls, columns), self.wanted)[0] else None

    def _borne(self, strength: Strength, fits: Array) -> Array:
        factors = np.broadcast_to(strength.factor, fits.shape)
        enough = cast(Array, np.broadcast_to(borne(strength, self.wanted.duty), fits.shape))
        kept, best, ever = self.best.get(strength.name, (strength, -np.inf, False))
        index = int(np.argmax(np.where(fits, factors, -np.inf)))
        if fits[index] and factors[index] > best:
            kept, best = _alone(strength, fits.shape, index), float(factors[index])
        self.best[strength.name] = (kept, best, ever or bool(enough[fits].any()))
        return enough

    def _broken(self, hinges: Hinge) -> Array:
        """How many rules each hinge of a batch breaks."""
        numbers, many = vars(hinges)["_numbers"], count(hinges)
        rules = definition(self.cls).rules
        broken = [~np.broadcast_to(numbers(rule.holds), many) for rule in rules]
        return cast(Array, np.sum(broken, axis=0))

    def refusal(self) -> Refused:
        """Why nothing served: a rule, the room, or what nothing bears."""
        if not self.tried:
            return self._against_rules()
        least = self._fitting()
        too_large = self.wanted.envelope.excess(batch(self.cls, least))[0] > 1
        return self._too_large(least) if too_large else self._too_weak()

    def _fitting(self) -> Columns:
        """The hinge that comes nearest to the room, whatever it bears."""
        excess = self.wanted.envelope.excess
        found = smallest(self.cls, self.free, self.fitting.columns, excess, sound)
        return {name: np.array([value]) for name, value in found.items()}

    def _against_rules(self) -> Refused:
        """Names the rule that is left of the hinge that breaks the fewest."""
        error = _error(self.cls, self.sound.columns, 0)
        why = "no values keep the family's rules together with what is given"
        if not error:
            return Refused(self.cls.family, f"{why}.")
        limits = bounds(self.cls)[error.param]
        broken = f"{error.param} = {shown(error.value)}{limits.suffix}; {error.rule}"
        given = {n: v for n, v in error.works.items() if n not in self.free}
        changes = ", ".join(f"{name} = {shown(value)}" for name, value in given.items())
        return Refused(self.cls.family, f"{why}: {broken}", changes and f"This works: {changes}.")

    def _too_large(self, least: Columns) -> Refused:
        """Names the sides of the hinge that comes nearest to the room, and the rule it rests on."""
        room = self.wanted.envelope
        ends = batch(self.cls, least).extents()
        sides = " x ".join(f"{float(np.ravel(side)[0]):.1f}" for side in ends)
        there = " x ".join(
            "any" if np.isinf(side) else f"{side:g}" for side in dataclasses.astuple(room)
        )
        why = f"it needs {sides} mm at least, along x, y and z; there is room for {there} mm."
        help = "Shorter leaves, or more room."
        return Refused(self.cls.family, f"{why}{self._rests_on(least)}", help)

    def _rests_on(self, least: Columns) -> str:
        """The rule that stands in the way of a hinge that fits better, as a sentence."""
        if not self.free:
            return ""
        excess = self.wanted.envelope.excess
        near = neighbours(self.cls, self.free, least)
        near.pop("")
        gained = excess(batch(self.cls, near))
        better = np.flatnonzero(gained < excess(batch(self.cls, least))[0])
        error = _error(self.cls, near, int(better[0])) if len(better) else None
        return f" A smaller one breaks a rule: {error.param}; {error.rule}" if error else ""

    def _too_weak(self) -> Refused:
        """Names what no candidate in the room bears; else what the best of them bears least."""
        family, duty = self.cls.family, self.wanted.duty
        never = [row for row in self.best.values() if not row[2]]
        if not never:
            strength, where = self._hardest(), self._where()
            why = f"nothing bears all of it{where}; hardest is {strength.name}."
            return Refused(family, why, f"It would take {strength.change}, or another plastic.")
        strength, best, _ = min(never, key=lambda row: row[1] / needed(row[0], duty))
        if strength.limit:
            asked, most = float(strength.actual), float(strength.permissible)
            words = f"{strength.name}: {asked:.6g} asked, at most {most:.6g} {strength.unit}"
            return Refused(family, f"{words}{self._where()}.", f"It would take {strength.change}.")
        why = f"{strength.name}: {best:.3g} times the duty at best{self._where()}; "
        why += f"{duty.margin:g} times are asked."
        return Refused(family, why, f"It would take {strength.change}, or another plastic.")

    def _where(self) -> str:
        return " within the room" if self.wanted.envelope.given else ""

    def _hardest(self) -> Strength:
        """What gives way first in the hinge that lacks least."""
        nearest = batch(self.cls, {n: column[:1] for n, column in self.lacking.columns.items()})
        strengths = _strengths(nearest, self.wanted)
        return max(strengths, key=lambda one: float(np.ravel(_asked(one, self.wanted))[0]))


class _Nearest:
    """Of all that is shown the hinges that have least of something, the least first."""

    def __init__(self, columns: Columns | None = None) -> None:
        self.columns: Columns = columns or {}
        self.have = np.zeros(0)

    def add(self, have: Array, columns: Columns) -> None:
        """Look at a batch as well; ``have`` is what each hinge of it has."""
        few = _least(have)
        every = np.concatenate([self.have, have[few]])
        kept = np.argsort(every, kind="stable")[:NEAREST]
        kept = kept[np.isfinite(every[kept])]
        self.have = every[kept]
        for name, column in columns.items():
            known = self.columns.get(name, np.zeros(0))
            self.columns[name] = np.concatenate([known, column[few]])[kept]


def _least(have: Array) -> Array:
    """Where the few least stand, in their order: most need not be sorted for that."""
    few = np.arange(len(have))
    if len(have) > NEAREST:
        few = np.flatnonzero(~(have > np.partition(have, NEAREST - 1)[NEAREST - 1]))
    return few[np.argsort(have[few], kind="stable")][:NEAREST]


def _error(cls: type[Hinge], columns: Columns, index: int) -> HingeError | None:
    """What the family says against the values of one hinge of a batch."""
    try:
        cls(**cast(Any, {name: float(column[index]) for name, column in columns.items()}))
    except HingeError as error:
        return error
    return None


def _alone(strength: Strength, shape: tuple[int, ...], index: int) -> Strength:
    """What one hinge of a batch bears at a place."""
    actual, permissible = (
        np.broadcast_to(value, shape)[index] for value in (strength.actual, strength.permissible)
    )
    return dataclasses.replace(strength, actual=actual, permissible=permissible)
