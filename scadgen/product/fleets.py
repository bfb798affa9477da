"""What a fleet of printers makes of a whole product: of all its joints, and of all beside them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from scadgen.hinge.family import definition, numbers
from scadgen.hinge.gaps import Gap
from scadgen.product.building import mechanism
from scadgen.product.half_shut import NAME, apart_on, gap_between_bodies
from scadgen.product.joints import MergedTurn
from scadgen.product.neighbours import near
from scadgen.product.rims import lie
from scadgen.proof.fleet.findings import COUNT, percent, share_finding
from scadgen.proof.fleet.room_left import GRAIN, gap_margin
from scadgen.proof.fleet.shares import drawn, works
from scadgen.proof.others import NEAR, PASSING
from scadgen.trees.to_numpy import Numbers

if TYPE_CHECKING:
    from scadgen.findings.finding import Finding
    from scadgen.hinge.family import Hinge
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.product.model import Product
    from scadgen.proof.fleet.printer import Printer, Value

#: So many are named.
FEW = 4
#: What is asked of printers: which of them manage it.
Asked = Callable[["Printer"], "Value"]


def whole_fleet(
    product: Product,
    whole: Mechanism | None = None,
    seed: int = 0,
    found: Iterable[Finding] = (),
) -> Finding | None:
    """Whether enough printers make all of a product at once; None where that is one hinge.

    All joints and catches work, rims lie on each other, and what shares no joint prints apart, and
    passes each other. What is assumed of a printer is the same all over its bed. ``whole``: the
    product as a mechanism, where it is known. ``found``: its proof: how near bodies pass.
    """
    hinges = {f.name: f.hinge for f in product.merged if definition(type(f.hinge)).spoilable}
    beside = dict(_beside(product, whole or mechanism(product))) | dict(_passing(found))
    asked = {name: partial(_works, hinge) for name, hinge in hinges.items()} | beside
    if (not beside and len(product.merged) < 2) or not asked:
        return None
    population, made = product.population, 0
    alone = dict.fromkeys(asked, 0)
    for printers in drawn(population, COUNT, seed):
        every = np.ones(np.shape(printers.growth), bool)
        for name, manage in asked.items():
            good = np.broadcast_to(manage(printers), every.shape)
            alone[name] += int(good.sum())
            every &= good
        made += int(every.sum())
    share, weakest = made / COUNT, min(alone, key=alone.__getitem__)
    return share_finding(
        f"{population.name} fleet, all together",
        share,
        population,
        f"{percent(share)} of the printers make all of it work, {_listed(list(asked))}; each "
        "prints alike all over its bed.",
        weak=lambda: f"begin with {weakest}: {percent(alone[weakest] / COUNT)} make that",
    )


def _listed(names: list[str]) -> str:
    few = names if len(names) <= FEW else [*names[: FEW - 1], f"{len(names) - FEW + 1} more"]
    return " and ".join((", ".join(few[:-1]), few[-1])) if len(few) > 1 else few[0]


def _works(hinge: Hinge, printers: Printer) -> Value:
    free, hold = works(definition(type(hinge)), numbers(hinge), printers)
    return free & hold


def _beside(product: Product, whole: Mechanism) -> Iterator[tuple[str, Asked]]:
    """What else printers have to manage, by name: bodies that print apart, and rims that meet."""
    several = len(product.fitted) > 1
    for fitted, turn in zip(product.fitted.values(), whole.joints, strict=True):
        if not isinstance(turn, MergedTurn):
            continue
        of = f"{fitted.name}, " * several
        if fitted.joint.closes:
            yield f"{of}rims", partial(lie, fitted, turn)
        gap = gap_between_bodies(fitted, turn, whole)
        if gap is not None:
            yield f"{of}{NAME}", partial(apart_on, fitted, gap)
    for name, gaps in near(product, whole):
        yield f"{name} apart", partial(_apart, gaps, max(product.layer_heights))


def _passing(found: Iterable[Finding]) -> Iterator[tuple[str, Asked]]:
    """Bodies that pass each other without a joint between them, so near that printers tell."""
    for finding in found:
        gap = finding.measured if finding.name.endswith(PASSING) and finding.passed else None
        if gap is not None and gap < NEAR:
            yield finding.name, partial(_pass, gap)


def _pass(gap: float, printers: Printer) -> Value:
    """On which printers walls that are so far apart (mm) do not meet. They print elsewhere."""
    return gap - printers.loss(bore=False) >= -GRAIN


def _apart(gaps: list[Gap], layer: float, printers: Printer) -> Value:
    """On which printers, told to print in such layers (mm), gaps stay open."""
    told = printers.limited(layer)
    left = [gap_margin(gap, Numbers({}), told) >= -GRAIN for gap in gaps]
    return np.logical_and.reduce(np.broadcast_arrays(*left))
