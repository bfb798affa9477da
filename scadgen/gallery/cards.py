"""What the gallery tells of a family: words, key figures, proof and links.

To show one more figure, add a function to ``FIGURES``.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from typing import Any

from scadgen.findings.finding import Finding, Place, Verdict
from scadgen.gallery.told import TOLD
from scadgen.hinge.family import Hinge
from scadgen.hinge.meshing import mesh
from scadgen.mechanism.mechanism import titled
from scadgen.motion.swing import swing
from scadgen.proof.verdict import check
from scadgen.sizing.size import Wanted, serves
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
    """All that the gallery shows of a family at its default values.

    heading: the family's name as people write it. untold: labels of the curves of which its
    family tells nothing.
    """

    name: str
    heading: str
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
    untold: tuple[str, ...] = ()

    @property
    def failures(self) -> tuple[Finding, ...]:
        """What the proof found wanting."""
        return tuple(finding for finding in self.proof.findings if not finding.passed)

    @property
    def links(self) -> dict[str, str]:
        """Paths of the files that a maker takes away, from the gallery on, by label."""
        told = {label: path for label, path in LINKS.items() if label not in self.untold}
        return {label: path.format(self.name) for label, path in told.items()}

    def to_json(self) -> str:
        """The card as a file. Places of faults are told where there are any."""
        facts = asdict(self)
        for finding in facts["proof"]["findings"]:
            for key in ("place", "leaves_open"):
                if not finding[key]:
                    del finding[key]
        if not self.untold:
            del facts["untold"]
        return json.dumps(facts, indent=1, ensure_ascii=False) + "\n"

    @classmethod
    def from_json(cls, text: str) -> Card:
        """The card that a file holds. Raises ValueError, TypeError or KeyError if it is none."""
        facts = json.loads(text)
        found = tuple(map(_finding, facts["proof"]["findings"]))
        unasked = tuple(facts["proof"].get("unasked", ()))
        facts["proof"] = Verdict(**facts["proof"] | {"findings": found, "unasked": unasked})
        facts["figures"] = tuple(Figure(**figure) for figure in facts["figures"])
        facts["materials"] = tuple(facts["materials"])
        facts["untold"] = tuple(facts.get("untold", ()))
        return cls(**facts)


def _finding(facts: dict[str, Any]) -> Finding:
    place = facts.get("place")
    return Finding(**facts | {"place": place and Place(tuple(place["point"]), place["angle"])})


LINKS = {
    "OpenSCAD": "../library/{}.scad",
    "Customizer": "../library/{}_customizer.scad",
    "3MF": "parts/{}.3mf",
    "STL": "parts/{}.stl",
    "Drawing": "drawings/{}.svg",
    "Fleet": "curves/{}_fleet.svg",
    "Strength": "curves/{}_strength.svg",
}


def picture(name: str, view: str, *, small: bool = False, dark: bool = False) -> str:
    """Path below the gallery of a picture of a family, ``view`` being one of VIEWS."""
    return f"pictures/{name}_{view}{'_small' * small}{'_dark' * dark}.png"


def card(hinge: Hinge) -> Card:
    """The card of the hinge, proven and measured now."""
    return Card(
        name=hinge.family,
        heading=hinge.heading(),
        title=hinge.title,
        good=hinge.good,
        weak=hinge.weak,
        kind=hinge.kind,
        posture=hinge.posture,
        stance=hinge.stance(),
        hangs=hinge.hangs,
        figures=tuple(figure for figures in FIGURES for figure in figures(hinge)),
        materials=tuple(suited(type(hinge))),
        proof=check(hinge),
        untold=tuple(label for label, told in TOLD.items() if not told(type(hinge))),
    )


def suited(cls: type[Hinge]) -> Iterator[str]:
    """The plastics, by name, in which a hinge of the family can bear the usual duty.

    It may be larger than usual. The usual duty is what the family says is usually asked of it. None
    where the family tells no strength: then nothing is known of what it bears.
    """
    for name in materials():
        wanted = Wanted(cls.usual_duty(), material(name))
        told = any(True for _ in cls().strengths(wanted.duty, wanted.plastic))
        if told and serves(cls, wanted, CANDIDATES):
            yield name


def _motion(hinge: Hinge) -> Iterator[Figure]:
    """What each joint is made for and, where it turns about an axis, what was measured of it."""
    whole = hinge.mechanism()
    for joint in whole.joints:
        of = f"{titled(whole, joint.pair)}: " if len(whole.joints) > 1 else ""
        if joint.axis:
            fixed, moving = (whole.body(name).solid for name in joint.pair)
            found = swing(fixed, moving, joint.axis, within=(0.0, 0.0))
            ends = _range(found.low + joint.printed_at, found.high + joint.printed_at)
            yield Figure(_headed(f"{of}turns freely, measured"), ends, "°")
        if joint.asked_told and joint.unit == "deg":
            yield Figure(_headed(f"{of}turn it is made for"), _range(*joint.asked_told), "°")
        elif joint.asked:
            ends = " to ".join(number(round(end, 2)) for end in joint.asked)
            yield Figure(_headed(f"{of}way it is made for"), ends, joint.unit)


def _headed(label: str) -> str:
    return label[:1].upper() + label[1:]


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
FIGURES: tuple[Callable[[Hinge], Iterator[Figure]], ...] = (_motion, _gap, _size, _bridge, _others)


def _range(low: float, high: float) -> str:
    return " to ".join(f"{int(end)}".replace("-", "\N{MINUS SIGN}") for end in (low, high))
