"""What is loaded: a hinge of each family whose solid can be, cut into cubes, and the duties."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from scadgen.elements.bears import borne, stiffness
from scadgen.elements.fill import cells
from scadgen.elements.folding import FoldCut, FoldLoad, sheet_of
from scadgen.elements.of_hinge import asked_of
from scadgen.elements.turning import Cut, Joint, Load
from scadgen.hinge.family import Hinge, all_families
from scadgen.hinge.kinds.flexure import Flexure
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.mechanism.fold import Fold
from scadgen.strength.carried import Carrier
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material
from scadgen.strength.place import Strength

Array = np.ndarray[Any, Any]
PETG = material("petg")
BORNE = borne(PETG)
#: Each at the axis, once, with no margin.
DUTIES = {"load 10 N": Duty(10, 0, 0, 1, 1), "pull 10 N": Duty(0, 0, 10, 1, 1)}
#: Edge of a pivot's cubes, and the reach over which stress is fitted, mm.
SIZE, REACH = 0.4, 0.6
#: Cubes of a flexure, for each thinnest web or narrowest slit.
FINER = 2
#: Smaller than the usual ones where a whole sheet would be too many cubes.
SMALLER: dict[str, dict[str, float]] = {
    "sheet_flexure": {"sheet_width": 20},
    "slit_lattice": {"columns": 1, "rows": 5, "swing": 45},
}
#: Links in the order of a cut's answers.
LINKS = ("fixed", "moving")


class Even(Cut):
    """Pushes are spread evenly along the axis, as if gaps that print unequal closed anyhow."""

    @cached_property
    def shares(self) -> list[Array]:
        areas = [np.array([float(len(z.points)) for z in group]) for group in self.joint.zoned[0]]
        return [area / max(area.sum(), 1.0) for area in areas]


@dataclass(frozen=True)
class Solved:
    """A pivot, both its links cut into cubes."""

    hinge: Pivot
    size: float = SIZE
    reach: float = REACH
    parts: tuple[str, ...] = LINKS

    @cached_property
    def joint(self) -> Joint:
        whole = self.hinge.mechanism()
        fixed, moving = (whole.body(name).solid for name in LINKS)
        axis = whole.joints[0].axis
        assert axis is not None
        hold = asked_of(self.hinge, Duty(), PETG).hold
        assert hold is not None
        return Joint(fixed, moving, axis, hold, stiffness(PETG))

    @cached_property
    def cuts(self) -> dict[str, Cut]:
        cut = self.joint.cut(self.size, self.reach, lambda _: None)
        return {"as drawn": cut, "even": Even(cut.joint, cut.size, cut.answers)}

    @property
    def cubes(self) -> list[int]:
        return [one.cubes for one in self.cuts["as drawn"].answers]

    def solid(self, part: str) -> Any:
        return (self.joint.fixed, self.joint.moving)[LINKS.index(part)]

    @property
    def solids(self) -> list[Any]:
        return [self.joint.fixed, self.joint.moving]

    def load(self, duty: Duty) -> Load:
        return Load("", float(self.hinge.pried(duty)), duty.pull)


@dataclass(frozen=True)
class Pulled:
    """A flexure: what bends of it, and a strip of both borders."""

    hinge: Flexure
    reach: float = REACH
    parts: tuple[str, ...] = ("both",)

    @property
    def size(self) -> float:
        return self.hinge.finest / FINER

    @cached_property
    def sheet(self) -> Any:
        whole = self.hinge.mechanism()
        (fold,) = whole.joints
        assert isinstance(fold, Fold)
        return sheet_of(whole, fold, stiffness(PETG))

    @cached_property
    def cuts(self) -> dict[str, FoldCut]:
        return {"as drawn": self.sheet.cut(self.size, self.reach)}

    @property
    def cubes(self) -> list[int]:
        return [len(cells(self.sheet.solid, self.size).places)]

    def solid(self, part: str) -> Any:
        return self.sheet.solid

    @property
    def solids(self) -> list[Any]:
        return [self.sheet.solid]

    def load(self, duty: Duty) -> FoldLoad:
        return FoldLoad("", float(self.hinge.pulled(duty)), duty.pull)


Subject = Solved | Pulled


def subject(cls: type[Hinge]) -> Subject | None:
    """What is loaded of a family; None where it answers no load, or has no bearing or bend."""
    if "load" not in cls.answers or not issubclass(cls, Pivot | Flexure):
        return None
    hinge: Any = cls(**SMALLER.get(cls.family, {}))  # type: ignore[arg-type]
    return Pulled(hinge) if isinstance(hinge, Flexure) else Solved(hinge)


def subjects() -> Iterator[tuple[str, Subject]]:
    """All that are loaded, by family."""
    for name, cls in all_families().items():
        if found := subject(cls):
            yield name, found


def told(hinge: Hinge, duty: Duty) -> list[Strength]:
    """The stresses that a hinge's formulas tell under a duty."""
    return [
        one
        for one in hinge.strengths(duty, PETG)
        if one.unit == "MPa" and float(one.actual) > 0 and not one.limit and not one.caution
    ]


def carrier_of(hinge: Hinge, place: Strength) -> Carrier | None:
    """What carries the load at a place, by its name."""
    plain = place.name.removesuffix(", across layers")
    return next((one for one in hinge.carriers() if one.place == plain), None)
