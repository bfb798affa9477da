"""What finite elements say around the sections that families name, and anywhere.

Stresses stand as shares of what the plastic bears in the same way.
"""

from __future__ import annotations

import math
from dataclasses import asdict, dataclass
from typing import Any

import numpy as np

from scadgen.elements.bears import WAYS, acting
from scadgen.elements.judged import nearest, worst
from scadgen.elements.of_hinge import places_of
from scadgen.strength import carried
from scadgen.strength.carried import Carrier, Tube
from scadgen.strength.duty import Duty
from tests.solids.subjects import (
    BORNE,
    DUTIES,
    PETG,
    Array,
    Subject,
    carrier_of,
    told,
)
from tests.strength.carried import AXES, section
from tests.strength.carried import _under as nominal

#: Around a section what lies so near to it counts, along its normal and beside it, mm.
NEAR, BESIDE = 1.0, 0.4
#: Digits that are kept of a figure.
DIGITS = 4


@dataclass(frozen=True)
class Governs:
    """What gives way first of a part: share of what is borne, MPa, in which way, where (mm)."""

    part: str
    share: float
    acts: float
    way: str
    at: tuple[float, ...]
    near: str


def figures(subject: Subject) -> dict[str, Any]:
    """All that is kept of a family's solid."""
    cut = subject.cuts["as drawn"]
    return {
        "cubes": subject.cubes,
        "size": rounded(cut.size),
        "reach": subject.reach,
        "duties": {name: _under(subject, duty) for name, duty in DUTIES.items()},
    }


def _under(subject: Subject, duty: Duty) -> dict[str, Any]:
    return {
        "governs": {gaps: asdict(governing(subject, gaps, duty)) for gaps in subject.cuts},
        "places": places(subject, duty),
    }


def governing(subject: Subject, gaps: str, duty: Duty) -> Governs:
    """The worst of all parts under a duty in all its directions."""
    load, found = subject.load(duty), []
    names = places_of(subject.hinge)
    for link, part in enumerate(subject.parts):
        one = worst(subject.cuts[gaps], link, load, BORNE)
        k, at = one.way, tuple(map(float, one.points[one.way].round(1) + 0.0))
        near = nearest((at[0], at[1], at[2]), names.get(part, ()))
        share, acts = rounded(one.used.max()), rounded(one.acts[k])
        found.append(Governs(part, share, acts, WAYS[k], at, near))
    return max(found, key=lambda one: one.share)


def places(subject: Subject, duty: Duty) -> dict[str, dict[str, float]]:
    """For each place that a formula tells a stress of, the solid's, by what is assumed of gaps."""
    found, weak = {}, 1 / PETG.layer_share
    for place in told(subject.hinge, duty):
        carrier = carrier_of(subject.hinge, place)
        if carrier is None:
            continue
        which = [nominal(subject.hinge, carrier, cut, duty, weak) for cut in carrier.cuts]
        cut = carrier.cuts[int(np.argmax(which))]
        link = subject.parts.index(cut.part)
        near = around(subject, cut, subject.cuts["as drawn"].answers[link].points)
        if near.any():
            ways = list(subject.load(duty).ways())
            found[place.name] = {
                gaps: rounded(
                    max(same_kind(carrier, cut, one.stress(link, way)[near]) for way in ways)
                )
                for gaps, one in subject.cuts.items()
            }
    return found


def around(subject: Subject, cut: carried.Cut | Tube, points: Array) -> Array:
    """Which points of its part lie around a section."""
    if isinstance(cut, Tube):
        n = AXES.index(cut.axis)
        others = [k for k in range(3) if k != n]
        away = np.hypot(*(points[:, others] - np.array(cut.at)[others]).T)
        along = abs(points[:, n] - cut.at[n]) < cut.height / 2 + BESIDE
        on_wall: Array = along & (abs(away - cut.diameter / 2) < 2 * BESIDE)
        return on_wall
    found, n = section(subject.solid(cut.part), cut), AXES.index(cut.normal)
    corners = np.zeros((len(found.corners), 3))
    corners[:, list(found.axes[:2])] = found.corners
    corners += found.middle
    low, high = corners.min(axis=0) - BESIDE, corners.max(axis=0) + BESIDE
    low[n], high[n] = cut.at[n] - NEAR, cut.at[n] + NEAR
    inside: Array = ((points > low) & (points < high)).all(axis=1)
    return inside


def same_kind(carrier: Carrier, cut: carried.Cut | Tube, stresses: Array) -> float:
    """Share of what is borne by the kind of stress that the formula tells."""
    n = AXES.index(cut.axis if isinstance(cut, Tube) else cut.normal)
    flat = n == 2
    if carrier.kind == "both":
        return float((acting(stresses) / np.array(BORNE.each)[:, None]).max())
    if carrier.kind == "normal":
        return float(abs(stresses[:, n]).max()) / (BORNE.across if flat else BORNE.within)
    one, other = ((5, 4), (5, 3), (3, 4))[n]
    shear = np.hypot(stresses[:, one], stresses[:, other]).max()
    return float(shear) / (BORNE.between if flat else BORNE.within / math.sqrt(3))


def rounded(value: float) -> float:
    """A figure as it is kept."""
    return float(f"{float(value):.{DIGITS}g}")
