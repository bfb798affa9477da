"""Formula, solid and ratio, for every place of every pivot: ``python -m tests.solid_table``.

No test: it takes minutes. For each duty, a load square to the axis in the worst direction or a
pull along it, each place's formula stands beside what finite elements find around the section that
``carriers()`` names, as shares of what the plastic bears there.
"""

from __future__ import annotations

import argparse
import math
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from scadgen.elements.bears import WAYS, acting, borne, stiffness
from scadgen.elements.judged import worst
from scadgen.elements.of_hinge import asked_of
from scadgen.elements.turning import Cut, Joint, Load
from scadgen.hinge.family import all_families
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.strength import carried
from scadgen.strength.carried import Carrier, Tube
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material
from scadgen.strength.place import Strength
from tests.strength.carried import AXES, section
from tests.strength.carried import _under as nominal

Array = np.ndarray[Any, Any]
PETG = material("petg")
BORNE = borne(PETG)
DUTIES = {"load 10 N": Duty(10, 0, 0, 1, 1), "pull 10 N": Duty(0, 0, 10, 1, 1)}
#: Around a section what lies so near to it counts, along its normal and beside it, mm.
NEAR, BESIDE = 1.0, 0.4
HEAD = (
    "| place | formula MPa | share | solid, same kind | even | ratio | ratio even "
    "| within / across / between MPa |"
)
#: Links in the order of a cut's answers.
LINKS = ("fixed", "moving")


class Even(Cut):
    """Pushes are spread evenly along the axis, as if gaps that print unequal closed anyhow."""

    @cached_property
    def shares(self) -> list[Array]:
        areas = [np.array([float(len(z.points)) for z in group]) for group in self.joint.zoned[0]]
        return [area / max(area.sum(), 1.0) for area in areas]


@dataclass(frozen=True)
class Row:
    """A place: its strength; its share on the solid, as drawn and even; MPa there in three ways."""

    told: Strength
    drawn: float
    even: float
    acts: Array

    @property
    def share(self) -> float:
        """By its formula."""
        return float(self.told.actual) / float(self.told.permissible)

    @property
    def line(self) -> str:
        """As a row of the table."""
        near = " / ".join(f"{value:.2f}" for value in self.acts)
        found = f"{self.share:.1%} | {self.drawn:.1%} | {self.even:.1%}"
        ratios = f"{self.drawn / self.share:.2f} | {self.even / self.share:.2f}"
        return f"| {self.told.name} | {float(self.told.actual):.3g} | {found} | {ratios} | {near} |"


@dataclass(frozen=True)
class Solved:
    """A hinge, and both its links cut into cubes."""

    hinge: Pivot
    size: float
    reach: float

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
    def cuts(self) -> tuple[Cut, Cut]:
        """Pushes shared as the links give way, and evenly."""
        cut = self.joint.cut(self.size, self.reach, lambda _: None)
        return cut, Even(cut.joint, cut.size, cut.answers)

    def solid(self, part: str) -> Any:
        """The solid of a link."""
        return (self.joint.fixed, self.joint.moving)[LINKS.index(part)]

    def load(self, duty: Duty) -> Load:
        """What a duty brings on the bearing."""
        return Load("", float(self.hinge.pried(duty)), duty.pull)

    def around(self, cut: carried.Cut | Tube) -> Array:
        """Which places of its part lie around a section."""
        points = self.cuts[0].answers[LINKS.index(cut.part)].points
        if isinstance(cut, Tube):
            n = AXES.index(cut.axis)
            others = [k for k in range(3) if k != n]
            away = np.hypot(*(points[:, others] - np.array(cut.at)[others]).T)
            along = abs(points[:, n] - cut.at[n]) < cut.height / 2 + BESIDE
            on_wall: Array = along & (abs(away - cut.diameter / 2) < 2 * BESIDE)
            return on_wall
        found, n = section(self.solid(cut.part), cut), AXES.index(cut.normal)
        corners = np.zeros((len(found.corners), 3))
        corners[:, list(found.axes[:2])] = found.corners
        corners += found.middle
        low, high = corners.min(axis=0) - BESIDE, corners.max(axis=0) + BESIDE
        low[n], high[n] = cut.at[n] - NEAR, cut.at[n] + NEAR
        inside: Array = ((points > low) & (points < high)).all(axis=1)
        return inside

    def rows(self, duty: Duty) -> Iterator[Row]:
        """Each place that bears something of the duty."""
        carriers = {carrier.place: carrier for carrier in self.hinge.carriers()}
        for told in self.hinge.strengths(duty, PETG):
            carrier = carriers.get(told.name.removesuffix(", across layers"))
            if carrier is None or float(told.actual) <= 0 or told.limit or told.caution:
                continue
            weak = 1 / PETG.layer_share
            cut = max(carrier.cuts, key=lambda c: nominal(self.hinge, carrier, c, duty, weak))
            which, link = self.around(cut), LINKS.index(cut.part)
            if which.any():
                ways = list(self.load(duty).ways())
                stress = [[one.stress(link, way)[which] for way in ways] for one in self.cuts]
                drawn, even = (max(same_kind(carrier, cut, s) for s in one) for one in stress)
                acts = np.max([acting(s).max(axis=1) for s in stress[0]], axis=0)
                yield Row(told, drawn, even, acts)


def same_kind(carrier: Carrier, cut: carried.Cut | Tube, stresses: Array) -> float:
    """Share of what is borne by the kind of stress that the formula tells."""
    n = AXES.index(cut.axis if isinstance(cut, Tube) else cut.normal)
    flat = n == 2
    if carrier.kind == "both":
        return float(BORNE.used(stresses).max())
    if carrier.kind == "normal":
        return float(abs(stresses[:, n]).max()) / (BORNE.across if flat else BORNE.within)
    one, other = ((5, 4), (5, 3), (3, 4))[n]
    shear = np.hypot(stresses[:, one], stresses[:, other]).max()
    return float(shear) / (BORNE.between if flat else BORNE.within / math.sqrt(3))


def written(solved: Solved) -> Iterator[str]:
    """The family's part of the page."""
    started = time.process_time()
    drawn = solved.cuts[0]
    cubes = " and ".join(f"{one.cubes}" for one in drawn.answers)
    yield f"\n## {solved.hinge.family}\n"
    yield f"{cubes} cubes of {solved.size:g} mm, stress fitted within {solved.reach:g} mm.\n"
    for way, share, group in zip(
        drawn.directions(), drawn.shares, solved.joint.zoned[1], strict=True
    ):
        at = ", ".join(f"{z.middle:.1f} mm: {s:.0%}" for z, s in zip(group, share, strict=True))
        yield f"- push on the moving link along {way.round().astype(int).tolist()}: {at}"
    for name, duty in DUTIES.items():
        yield f"\n**{name}**\n"
        yield from _governing(solved, duty)
        yield f"\n{HEAD}\n|---|---:|---:|---:|---:|---:|---:|---|"
        yield from (row.line for row in solved.rows(duty))
    yield f"\n{time.process_time() - started:.0f} s of processor"


def _governing(solved: Solved, duty: Duty) -> Iterator[str]:
    told = [s for s in solved.hinge.strengths(duty, PETG) if not s.limit and not s.caution]
    most = max(told, key=lambda s: float(s.actual) / float(s.permissible))
    ours = float(most.actual) / float(most.permissible)
    yield f"Governs by formula: {most.name}, {ours:.1%}.\n"
    for words, cut in zip(("gaps as drawn", "spread evenly"), solved.cuts, strict=True):
        for link, part in enumerate(LINKS):
            found = worst(cut, link, solved.load(duty), BORNE)
            said = "; ".join(
                f"{way} {found.used[k]:.1%} ({found.acts[k]:.2f} MPa) at "
                f"{found.points[k].round(1).tolist()}"
                for k, way in enumerate(WAYS)
            )
            yield f"- {words}, {part}: {said}; worst over formula {found.used.max() / ours:.2f}"


def main(arguments: Sequence[str] | None = None) -> None:
    """Print the table of the families named, or of all pivots."""
    parser = argparse.ArgumentParser(prog="python -m tests.solid_table", description=main.__doc__)
    parser.add_argument("families", nargs="*")
    parser.add_argument("--size", type=float, default=0.4)
    parser.add_argument("--reach", type=float, default=0.6)
    options = parser.parse_args(arguments)
    for name, cls in all_families().items():
        if issubclass(cls, Pivot) and name in (options.families or all_families()):
            for line in written(Solved(cls(), options.size, options.reach)):
                print(line, flush=True)


if __name__ == "__main__":
    main()
