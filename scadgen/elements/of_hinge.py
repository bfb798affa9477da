"""A hinge under its duty, in finite elements on its solids."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

import numpy as np

from scadgen.elements.arms import Flexed, flexed
from scadgen.elements.folding import sheet_of
from scadgen.elements.judged import MOST, Asked, Bent, Judged, Point, bent, judged
from scadgen.hinge.kinds.flexure import Flexure
from scadgen.hinge.kinds.heeled import Heeled
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.mechanism.fold import Fold
from scadgen.strength.lasting import modulus_left, strength_left, untold
from scadgen.strength.place import often

if TYPE_CHECKING:
    from scadgen.hinge.family import Hinge
    from scadgen.strength.duty import Duty
    from scadgen.strength.materials import Plastic


#: Edges of the cubes of a flexure over its thinnest web or narrowest slit; the finer ones are
#: larger where that were too many, but so many times smaller than the others at least.
SHARES, APART = (1 / 2, 1 / 3), 1.2


class NotLoaded(ValueError):  # noqa: N818 - says what is wrong
    """A hinge for which finite elements know no load."""


def solved(
    hinge: Hinge, duty: Duty, plastic: Plastic, tell: Callable[[str], None] = lambda _: None
) -> Judged | Bent | Flexed:
    """The hinge's own shape under the duty, printed in the plastic.

    Of a pivot the moving part leans on its end and pries at the bearing, as the formulas have it;
    the leaves are held beside their roots. A flexure is pulled at its moving border. The arm of a
    catch is bent as it snaps. Raises NotLoaded for a hinge that cannot be loaded, or where the
    extra's libraries are missing.
    """
    if why := refusal(hinge, duty, plastic):
        raise NotLoaded(why)
    if isinstance(hinge, Flexure):
        whole = hinge.sample(duty).hinge.mechanism()
        (fold,) = whole.joints
        assert isinstance(fold, Fold)
        return bent(whole, fold, pulled_of(hinge, duty, plastic), tell)
    if not isinstance(hinge, Pivot):
        (arm,) = arms(hinge, duty, plastic, tell)
        return arm
    whole = hinge.drawn_flat()
    (found,) = judged(whole, asked_of(hinge, duty, plastic), tell)
    return found


def beside(
    hinge: Hinge, duty: Duty, plastic: Plastic, tell: Callable[[str], None] = lambda _: None
) -> Iterator[Flexed]:
    """Arms of a hinge that is loaded otherwise: those of a detent."""
    if isinstance(hinge, Pivot):
        yield from arms(hinge, duty, plastic, tell)


def arms(
    hinge: Hinge, duty: Duty, plastic: Plastic, tell: Callable[[str], None] = lambda _: None
) -> Iterator[Flexed]:
    """Each arm of a hinge that is bent aside, solved, beside what its formula says."""
    for arm in hinge.flexing():
        told = next(one for one in hinge.strengths(duty, plastic) if one.name == arm.place)
        yield flexed(arm, told, plastic, float(duty.margin), tell)


def refusal(hinge: Hinge, duty: Duty, plastic: Plastic) -> str:
    """Why the solid of a hinge cannot be loaded by the duty; empty where it can."""
    from importlib.util import find_spec

    from scadgen.elements.solver import EXTRA

    loaded = isinstance(hinge, Pivot | Flexure) or any(hinge.flexing())
    if not loaded or "load" not in hinge.answers:
        return f"{hinge.family}: it answers no load that its solid could bear; ask without it."
    if isinstance(hinge, Heeled) and hinge.opens_to:
        return (
            f"{hinge.family}: opens_to = {hinge.opens_to:g} deg is asked, and no load of its heel "
            "is known on solids. Ask without it, or for opens_to = 0."
        )
    if unknown := next(untold(plastic, duty), None):
        return f"{hinge.family}: {unknown}"
    if duty.tilt and isinstance(hinge, Flexure) and not hinge.sampled_tilted:
        asked = f"offset = {duty.offset:g} mm, pull_lever = {duty.pull_lever:g} mm"
        return (
            f"{hinge.family}: its solid is loaded in the middle of its border only; {asked} are "
            "asked. Ask 0 of both, or ask without it."
        )
    if isinstance(hinge, Flexure) and (many := cubes(hinge, duty)) > MOST:
        return (
            f"{hinge.family}: about {many / 1000:.0f} thousand cubes would be needed, so fine are "
            f"its slits or its web; {MOST // 1000} thousand are the most. Ask without it."
        )
    missing = [name for name in ("pyamg", "scipy") if find_spec(name) is None]
    return EXTRA if missing else ""


def cubes(hinge: Flexure, duty: Duty) -> int:
    """How many of the finer cubes what is loaded of a flexure takes at least, about."""
    coarse = hinge.finest * SHARES[0]
    return int(_volume(hinge, duty) / (coarse / APART) ** 3)


def _volume(hinge: Flexure, duty: Duty) -> float:
    whole = hinge.sample(duty).hinge.mechanism()
    (fold,) = whole.joints
    assert isinstance(fold, Fold)
    return float(sheet_of(whole, fold, np.zeros(0)).solid.volume())


def pulled_of(hinge: Flexure, duty: Duty, plastic: Plastic) -> Asked:
    """What a duty asks of what bends of a flexure."""
    sample = hinge.sample(duty)
    finer = max(hinge.finest * SHARES[1], (_volume(hinge, duty) / MOST) ** (1 / 3))
    return dataclasses.replace(
        _asked(sample.hinge, sample.across, duty, plastic),
        along=float(sample.along),
        share=_share(hinge, duty, plastic),
        sizes=(hinge.finest * SHARES[0], finer),
        part=sample.words,
        turns=(float(sample.turns[0]), float(sample.turns[1])),
        twist=float(sample.twist),
    )


def asked_of(hinge: Pivot, duty: Duty, plastic: Plastic) -> Asked:
    """What a duty asks of the bearing of a pivot."""
    grips = [float(grip.left) for grip in hinge.grips()]
    root = hinge.reach + hinge.leaf_thickness
    return dataclasses.replace(
        _asked(hinge, hinge.pried(duty), duty, plastic),
        tilts=(duty.load * duty.offset, duty.pull * duty.pull_lever),
        stiff=modulus_left(plastic, duty),
        hold=float(min(root, (hinge.reach + hinge.leaf_end) / 2)),
        grip=min(grips, default=None),
        leans=(float(hinge.heel), float(hinge.leaf_end)) if duty.lever > hinge.heel else None,
    )


def _asked(hinge: Hinge, aside: float, duty: Duty, plastic: Plastic) -> Asked:
    return Asked(
        aside=float(aside),
        along=float(duty.pull),
        plastic=plastic,
        share=_share(hinge, duty, plastic),
        margin=float(duty.margin),
        places=places_of(hinge),
    )


def _share(hinge: Hinge, duty: Duty, plastic: Plastic) -> float:
    """Share of its strength that the plastic bears: so often, so long and warm, so sparsely filled.

    The cubes are solid; of what walls and infill leave the worst section of the family counts.
    """
    solid = dataclasses.replace(plastic, filling=None)
    pairs = zip(hinge.strengths(duty, plastic), hinge.strengths(duty, solid), strict=True)
    shares = [float(s.permissible) / float(t.permissible) for s, t in pairs if s.unit == "MPa"]
    return float(often(duty)) * strength_left(plastic, duty) * min(shares, default=1.0)


def places_of(hinge: Hinge) -> dict[str, list[tuple[str, Point]]]:
    """The places that the family names, and where their sections are, by body."""
    found: dict[str, list[tuple[str, Point]]] = {}
    for carrier in hinge.carriers():
        for cut in carrier.cuts:
            found.setdefault(cut.part, []).append((carrier.place, cut.at))
    return found
