"""How the strength of a family changes with one of its fields, all others as usual or as needed.

Everything comes from the family's own ``strengths``, read on a batch of hinges.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from scadgen.hinge.batch import batch, sound
from scadgen.hinge.family import Hinge, bounds
from scadgen.proof.fleet.population import ROUGH
from scadgen.proof.heights import LINE
from scadgen.strength.bearing import needed
from scadgen.strength.duty import Duty
from scadgen.strength.lasting import untold
from scadgen.strength.materials import Plastic, material, materials
from scadgen.strength.place import Strength

Array = np.ndarray[Any, Any]

#: Values at which a field is read; and how far up from its default it is followed, as a factor.
COUNT, LARGEST = 121, 3.0
#: Factors above this, times the duty, say no more than "by far".
FAR = 1000.0
#: A field of whose values within their range fewer are sound has sound values that stand alone.
SCARCE = 0.7


@dataclass(frozen=True, eq=False)
class Strain:
    """The strain of one place, and what the plastic bears (%), for each value."""

    name: str
    actual: Array
    permissible: Array


@dataclass(frozen=True, eq=False)
class Sweep:
    """A family along one field.

    values: of the field; axis: what the diagram shows for each of them, an attribute or the field.
    kept: which keep the family's rules. read: which have curves: those that keep the rules, or all
    where the family itself asks to be drawn against the field; elsewhere there is not a number.
    chosen: index of the family's default. asked: the least factor that is enough. factors: the
    least factor by name of the plastic; strains and efforts too, as far as the family has them.
    """

    field: str
    shown: str
    values: Array
    axis: Array
    kept: Array
    read: Array
    chosen: int
    asked: float
    factors: dict[str, Array]
    strains: dict[str, Strain]
    efforts: dict[str, dict[str, Array]]


def sweeps(cls: type[Hinge], duty: Duty | None = None) -> list[Sweep]:
    """Along the fields that the family is drawn against, or along the size that changes it most.

    Sizes of leaves are left aside: a leaf is the maker's part, the bearing is the family's.
    """
    duty = duty or cls.usual_duty()
    against = cls.drawn_against()
    if against:
        return [sweep(cls, field, duty, shown) for field, shown in against.items()]
    sizes = [field for field in cls.free_fields() if bounds(cls)[field].group == "Size"]
    found = [sweep(cls, field, duty) for field in sizes]
    return [max(found, key=_influence)] if found else []


def sweep(cls: type[Hinge], field: str, duty: Duty, shown: str | None = None) -> Sweep:
    """The family along one field, in every plastic that is known.

    ``shown`` names what the axis shows, and that the family asks for the field.
    """
    values = _values(cls, field)
    kept = sound(_batch(cls, field, values))
    legal = _legal(kept)
    values, kept = values[legal], kept[legal]
    read = np.ones_like(kept) if shown else kept
    hinges = _batch(cls, field, values[read])
    found = Sweep(
        field=field,
        shown=shown or field,
        values=values,
        axis=_spread(read, getattr(hinges, shown)) if shown else values,
        kept=kept,
        read=read,
        chosen=int(np.abs(values - bounds(cls)[field].default).argmin()),
        asked=_asked(hinges, duty),
        factors={},
        strains={},
        efforts={},
    )
    for plastic in map(material, materials()):
        _add(found, hinges, duty, ROUGH.printed(plastic, LINE.default))
    return found


def _batch(cls: type[Hinge], field: str, values: Array) -> Hinge:
    """The family along the field; what it works out by itself is left to it."""
    open_ = {name: 0.0 for name, limits in bounds(cls).items() if limits.automatic}
    return batch(cls, open_ | {field: values})


def _legal(kept: Array) -> Array:
    """Which values are drawn: all, or of a field whose sound values stand alone, as whole layers
    do, no unsound one between them.
    """
    first, last = np.flatnonzero(kept)[[0, -1]] if kept.any() else (0, -1)
    within = np.zeros_like(kept)
    within[first : last + 1] = True
    alone = kept.any() and kept[within].mean() < SCARCE
    return ~within | kept if alone else np.ones_like(kept)


def _asked(hinges: Hinge, duty: Duty) -> float:
    """The margin; 1 for a family that has nothing but limits."""
    strengths = hinges.strengths(duty, material(materials()[0]))
    return max((needed(strength, duty) for strength in strengths), default=duty.margin)


def _values(cls: type[Hinge], field: str) -> Array:
    """Values of the field over its range, its default among them; whole ones on their steps."""
    limits = bounds(cls)[field]
    top = min(limits.high, LARGEST * limits.default)
    if limits.whole:
        return np.arange(limits.low, np.floor(top / limits.step) * limits.step + 1, limits.step)
    even = np.linspace(limits.low, top, COUNT)
    steps = np.arange(limits.low, top, limits.step)
    return np.unique(np.concatenate([even, steps, [limits.default]]).round(6))


def _add(found: Sweep, hinges: Hinge, duty: Duty, plastic: Plastic) -> None:
    if any(untold(plastic, duty)):
        return
    read = found.read
    strengths = _telling(list(hinges.strengths(duty, plastic)), int(read.sum()))
    if not strengths:
        return
    factors = [_spread(read, strength.factor) for strength in strengths]
    found.factors[plastic.name] = np.minimum(np.min(factors, axis=0), FAR)
    strained = [
        (float(factor[found.chosen]), k)
        for k, (factor, strength) in enumerate(zip(factors, strengths, strict=True))
        if strength.unit == "%"
    ]
    if strained:
        weak = strengths[min(strained)[1]]
        ends = _spread(read, weak.actual), _spread(read, weak.permissible)
        found.strains[plastic.name] = Strain(weak.name, *ends)
    for name, effort in hinges.efforts(plastic).items():
        found.efforts.setdefault(name, {})[plastic.name] = _spread(read, effort)


def _telling(strengths: list[Strength], count: int) -> list[Strength]:
    """What gives way; where a family has limits alone, those that its sizes decide."""
    real = [strength for strength in strengths if not (strength.limit or strength.caution)]
    if real:
        return real
    return [s for s in strengths if not s.caution and np.ptp(np.broadcast_to(s.factor, count)) > 0]


def _spread(read: Array, column: Any) -> Array:
    """A column for the values that were read, with gaps for the others."""
    full = np.full(read.shape, np.nan)
    full[read] = column
    return full


def _influence(found: Sweep) -> float:
    """By how much the least factor changes along the field, as a ratio, over all plastics."""
    spans = [np.ptp(np.log(f[found.kept])) for f in found.factors.values() if found.kept.any()]
    return float(sum(spans))
