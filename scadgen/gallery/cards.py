"""What the gallery tells of a family: words, key figures, proof and links.

To show one more figure, add a function to ``FIGURES``.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass

from scadgen.findings.finding import Finding, Verdict
from scadgen.hinge.family import Hinge
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.meshing import mesh
from scadgen.motion.axis import Axis
from scadgen.motion.swing import swing
from scadgen.proof.fleet.population import ROUGH
from scadgen.proof.verdict import check
from scadgen.sizing.size import Sized, Wanted, size
from scadgen.strength.materials import material, materials
from scadgen.text.units import labelled
from scadgen.trees.to_scad import number

#: Candidates looked at for a plastic: enough to tell whether any bears the duty.
CANDIDATES = 4000

#: What the pictures show, in words.
VIEWS = {"printed": "as it prints", "opened": "opened", "cut": "cut in half"}


@dataclass(frozen=True)
class Figure:
    """One number that a maker compares: its ``label``, the ``value`` in words, its ``unit``."""

    label: str
    value: str
    unit: str


@dataclass(frozen=True)
class Card:
    """All that the gallery shows of a family at its default values."""

    name: str
    title: str
    good: str
    weak: str
    kind: str
    posture: str
    stance: str
    hangs: str
    figures: tuple[Figure, ...]
    materials: tuple[str, ...]
    proof: Verdict

    @property
    def heading(self) -> str:
        """The family's name as a person writes it."""
        return self.name.replace("_", " ").capitalize()

    @property
    def failures(self) -> tuple[Finding, ...]:
        """What the proof found wanting."""
        return tuple(finding for finding in self.proof.findings if not finding.passed)

    @property
    def links(self) -> dict[str, str]:
        """Paths of the files that a maker takes away, from the gallery on, by label."""
        return {label: path.format(self.name) for label, path in LINKS.items()}

    def to_json(self) -> str:
        """The card as a file."""
        return json.dumps(asdict(self), indent=1, ensure_ascii=False) + "\n"

    @classmethod
    def from_json(cls, text: str) -> Card:
        """The card that a file holds. Raises ValueError, TypeError or KeyError if it is none."""
        facts = json.loads(text)
        found = tuple(Finding(**finding) for finding in facts["proof"]["findings"])
        facts["proof"] = Verdict(**facts["proof"] | {"findings": found})
        facts["figures"] = tuple(Figure(**figure) for figure in facts["figures"])
        facts["materials"] = tuple(facts["materials"])
        return cls(**facts)


LINKS = {
    "OpenSCAD": "../library/{}.scad",
    "3MF": "parts/{}.3mf",
    "STL": "parts/{}.stl",
    "Drawing": "drawings/{}.svg",
    "Fleet": "curves/{}_fleet.svg",
    "Strength": "curves/{}_strength.svg",
}


def picture(name: str, view: str, *, small: bool = False) -> str:
    """Path below the gallery of a picture of a family, ``view`` being one of VIEWS."""
    return f"pictures/{name}_{view}{'_small' * small}.png"


def card(hinge: Hinge) -> Card:
    """The card of the hinge, proven and measured now."""
    return Card(
        name=hinge.family,
        title=hinge.title,
        good=hinge.good,
        weak=hinge.weak,
        kind=hinge.kind,
        posture=hinge.posture,
        stance=hinge.stance(),
        hangs=hinge.hangs,
        figures=tuple(figure for figures in FIGURES for figure in figures(hinge)),
        materials=tuple(suited(type(hinge))),
        proof=check(hinge, population=ROUGH),
    )


def suited(cls: type[Hinge]) -> Iterator[str]:
    """The plastics, by name, in which a hinge of the family can bear the usual duty.

    It may be larger than usual. The usual duty is what the family says is usually asked of it.
    """
    for name in materials():
        wanted = Wanted(cls.usual_duty(), material(name))
        if isinstance(size(cls, wanted, CANDIDATES), Sized):
            yield name


def _turn(hinge: Hinge) -> Iterator[Figure]:
    low, high = hinge.lowest(), hinge.swing
    if isinstance(hinge, Pivot):
        solids = mesh(hinge, "fixed", angle=0), mesh(hinge, "moving", angle=0)
        found = swing(*solids, Axis(*hinge.axis()), facets=hinge.facets, within=(low, high))
        yield Figure("Turns freely, measured", _range(found.low, found.high), "°")
    yield Figure("Turn it is made for", _range(low, high), "°")


def _gap(hinge: Hinge) -> Iterator[Figure]:
    yield Figure("Clearance", number(hinge.clearance), "mm")


def _size(hinge: Hinge) -> Iterator[Figure]:
    box = mesh(hinge, angle=0).bounding_box()
    sides = (number(round(box[k + 3] - box[k], 1)) for k in range(3))
    yield Figure("Size as it prints", " \N{MULTIPLICATION SIGN} ".join(sides), "mm")


def _bridge(hinge: Hinge) -> Iterator[Figure]:
    if hinge.longest_bridge() > 0:
        yield Figure("Longest bridge", number(round(hinge.longest_bridge(), 1)), "mm")


def _others(hinge: Hinge) -> Iterator[Figure]:
    for name, value in hinge.figures().items():
        label, unit = labelled(name)
        yield Figure(label.capitalize(), number(round(value, 2)), unit)


#: What is shown of a hinge, in this order.
FIGURES: tuple[Callable[[Hinge], Iterator[Figure]], ...] = (_turn, _gap, _size, _bridge, _others)


def _range(low: float, high: float) -> str:
    return " to ".join(f"{int(end)}".replace("-", "\N{MINUS SIGN}") for end in (low, high))
