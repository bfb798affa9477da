"""What a sized hinge is worth for a wish, part by part, each with its reason in words.

Every part is a share, 0 to 1, of as many points as it weighs. What families know of themselves they
say; what can be measured is measured. Weights and scales are judgements (common practice, no
source).
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from scadgen.hinge.family import Hinge
from scadgen.hinge.judged import Judged
from scadgen.proof.fleet.population import Population
from scadgen.sizing.size import Sized
from scadgen.sizing.wanted import Aim, Prefers, Wanted
from scadgen.strength.temper import temper
from scadgen.text.numbers import exact

if TYPE_CHECKING:
    from manifold3d import Manifold

#: Points of each part, 100 together.
WEIGHTS: Mapping[str, float] = {
    "practice": 40.0,
    "printers": 20.0,
    "plastic": 10.0,
    "room": 5.0,
    "time": 5.0,
    "footing": 4.0,
    "margin": 4.0,
    "close": 4.0,
    "effort": 4.0,
    "held": 4.0,
}
#: The part that an aim makes count most, and its share of all points then.
AIMS: Mapping[Aim, str] = {"smallest": "room", "strongest": "margin", "quickest": "time"}
AIMED = 0.4
#: Share of all points that staying on has where the moving side must not come off.
STAYING = 0.3

#: Plastic that a nozzle of 0.4 mm lays in a second (mm3), and what each layer takes beyond it (s).
FLOW, PER_LAYER = 8.0, 4.0
#: Plastic (mm3) and time (s) that nobody minds.
FEW_MM3, FEW_S = 3000.0, 300.0
#: Play (mm), and force of a hand (N), that halve their part.
LOOSE, STIFF = 0.5, 5.0
#: Lever (mm) at which a hand moves it where the duty names none.
HAND = 20.0
#: What staying on is worth where nobody comes off without breaking, but two links are two.
CLOSED, FORCED = 0.9, 0.3
#: Hinges whose measures are kept.
RECENT = 64
#: What a part is worth of which nothing is known or asked.
UNKNOWN = 0.5
#: What is left of the printers' part where something hangs in the air.
HANGING = 0.5


@dataclass(frozen=True)
class Costs:
    """What it takes to print a hinge: plastic (mm3), the way across its box (mm), time (s)."""

    plastic: float
    room: float
    time: float

    def against(self, least: Costs, part: Literal["plastic", "room", "time"], few: float) -> float:
        """The least of any form over its own, 0 to 1; a few more hardly matter."""
        return float((getattr(least, part) + few) / (getattr(self, part) + few))

    @classmethod
    @functools.lru_cache(maxsize=RECENT)
    def of(cls, hinge: Hinge) -> Costs:
        """Those of a hinge, as it prints."""
        x, y, z = (float(side) for side in hinge.extents())
        plastic = float(sum(solid.volume() for solid in _printed(hinge)))
        time = plastic / FLOW + math.ceil(z / hinge.layer) * PER_LAYER
        return cls(plastic, math.hypot(x, y, z), time)


@dataclass(frozen=True)
class Judge:
    """One hinge that serves, what it costs, the least cost of any that serves, and the share of
    printers (0 to 1) that make it work.
    """

    sized: Sized
    costs: Costs
    least: Costs
    share: float
    wanted: Wanted
    population: Population

    @property
    def hinge(self) -> Hinge:
        """The hinge."""
        return self.sized.hinge

    def parts(self) -> dict[str, Judged]:
        """All parts, in the order of their weights."""
        return {part: _JUDGED[part](self) for part in WEIGHTS}

    def practice(self) -> Judged:
        """How far practice trusts the form for the motion in that plastic."""
        hinge, duty, plastic = self.hinge, self.wanted.duty, self.wanted.plastic
        judged = hinge.practice(duty, plastic)
        moves = "bends" if hinge.one_piece else "turns"
        often = f"{exact(duty.cycles)} times" if duty.cycles > 1 else "once"
        how = f"{moves} {exact(hinge.swing)} degrees {often} in {temper(plastic)} {plastic.name}"
        return Judged(judged.worth, f"{how}: {judged.words}")

    def printers(self) -> Judged:
        """The share of the fleet that makes it work, from what is asked to all."""
        asked, hangs = self.population.needed / 100, self.hinge.hangs
        worth = max(self.share - asked, 0) / (1 - asked) if asked < 1 else float(self.share >= 1)
        words = f"{100 * self.share:.1f} % of the printers called {self.population.name} make it"
        if hangs:
            return Judged(worth * HANGING, f"{words}, but {hangs}")
        return Judged(worth, words)

    def plastic(self) -> Judged:
        """How little plastic it takes: the least of all over its own."""
        words = f"{self.costs.plastic / 1000:.2f} cm3 of plastic"
        return Judged(self.costs.against(self.least, "plastic", FEW_MM3), words)

    def room(self) -> Judged:
        """How short the way is across the box that it prints in."""
        sides = " x ".join(f"{float(side):.0f}" for side in self.hinge.extents())
        return Judged(self.costs.against(self.least, "room", 0), f"{sides} mm as it prints")

    def time(self) -> Judged:
        """How quickly it prints."""
        words = f"about {max(self.costs.time / 60, 1):.0f} min to print"
        return Judged(self.costs.against(self.least, "time", FEW_S), words)

    def footing(self) -> Judged:
        """How well every body stands on the bed while it prints."""
        worth = _stands(self.hinge)
        words = "stands on the bed without a brim"
        return Judged(worth, words if worth == 1 else "so tall on its foot that it wants a brim")

    def margin(self) -> Judged:
        """How far it bears more than is asked."""
        if not self.sized.strengths:
            return Judged(0.0, "its family tells no strength")
        factor, asked = self.sized.factor, self.wanted.duty.margin
        words = f"bears {factor:.2g} times the duty"
        if math.isinf(factor):
            return Judged(UNKNOWN, "nothing is asked of its strength")
        return Judged(1 - asked / max(factor, asked), words)

    def close(self) -> Judged:
        """How closely it keeps to its axis."""
        strays = self.hinge.strays()
        if strays is None:
            return Judged(UNKNOWN, "how closely it keeps to its axis is not known")
        return Judged(1 / (1 + strays[0] / LOOSE), strays[1])

    def effort(self) -> Judged:
        """How little force moves it all the way."""
        torque = sum(
            float(value)
            for name, value in self.hinge.efforts(self.wanted.plastic).items()
            if name.endswith("(N mm)")
        )
        force = torque / (self.wanted.duty.lever or HAND)
        words = f"{force:.2g} N move it all the way" if torque else "turns freely"
        return Judged(1 / (1 + force / STIFF), words)

    def held(self) -> Judged:
        """How surely its moving side stays on when somebody forces it."""
        hinge = self.hinge
        if hinge.joins_once:
            return Judged(0.0, hinge.comes_off)
        if hinge.comes_off:
            return Judged(FORCED, hinge.comes_off)
        if hinge.one_piece:
            return Judged(1.0, "one piece: nothing comes off short of breaking")
        return Judged(CLOSED, "does not come off short of breaking")


@functools.lru_cache(maxsize=RECENT)
def _printed(hinge: Hinge) -> tuple[Manifold, ...]:
    """What prints of a hinge, apart from each other."""
    return tuple(piece.solid for piece in hinge.mechanism().pieces)


@functools.lru_cache(maxsize=RECENT)
def _stands(hinge: Hinge) -> float:
    """Height at which the worst body still stands without a brim, over its own; 1 at most."""
    from scadgen.findings.on_standing import HELD
    from scadgen.printing.standing import standing

    found = standing(_printed(hinge), hinge.layer)
    if any(one.area == 0 for one in found):
        return 0.0
    lifted = [one for one in found if one.pull > 0]
    return min([1.0, *(one.tallest(HELD / one.pull) / one.height for one in lifted)])


_JUDGED: Mapping[str, Callable[[Judge], Judged]] = {part: getattr(Judge, part) for part in WEIGHTS}


def weights(prefers: Prefers) -> dict[str, float]:
    """The points of each part for somebody with such preferences, 100 together."""
    found = dict(WEIGHTS)
    if prefers.aim:
        found = _lifted(found, AIMS[prefers.aim], AIMED)
    if prefers.must_not_come_off:
        found = _lifted(found, "held", STAYING)
    return found


def _lifted(points: Mapping[str, float], part: str, share: float) -> dict[str, float]:
    """All points made less, and those that this frees given to a part."""
    whole = sum(points.values())
    return {n: p * (1 - share) + whole * share * (n == part) for n, p in points.items()}
