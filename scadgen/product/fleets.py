"""The fleet that prints a whole product: a printer makes it work if it makes every joint work."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from scadgen.hinge.family import definition, numbers
from scadgen.product.building import mechanism
from scadgen.product.half_shut import apart_on, gap_between_bodies
from scadgen.product.joints import MergedTurn
from scadgen.proof.fleet.findings import COUNT, percent, share_finding
from scadgen.proof.fleet.shares import drawn, works

if TYPE_CHECKING:
    from scadgen.findings.finding import Finding
    from scadgen.hinge.gaps import Gap
    from scadgen.mechanism.mechanism import Mechanism
    from scadgen.product.fitting import Fitted
    from scadgen.product.model import Product


def whole_fleet(product: Product, whole: Mechanism | None = None, seed: int = 0) -> Finding | None:
    """Whether enough printers make all joints and catches work; None for fewer than two.

    What is assumed of a printer is the same all over its bed. Bodies that print half shut must stay
    apart, too. ``whole``: the product as a mechanism, where it is known.
    """
    hinges = [fitted.hinge for fitted in product.merged]
    asked = [hinge for hinge in hinges if definition(type(hinge)).spoilable]
    if len(hinges) < 2 or not asked:
        return None
    population, made = product.population, 0
    near = list(_near(product, whole or mechanism(product)))
    for printers in drawn(population, COUNT, seed):
        every = np.ones(np.shape(printers.layer), bool)
        for hinge in asked:
            free, hold = works(definition(type(hinge)), numbers(hinge), printers)
            every &= free & hold
        for fitted, gap in near:
            every &= apart_on(fitted, gap, printers)
        made += int(every.sum())
    share = made / COUNT
    return share_finding(
        f"{population.name} fleet, all joints",
        share,
        population,
        f"{percent(share)} of the printers make all {len(asked)} of them work; each prints "
        "alike all over its bed.",
        change="what the fleet of the weakest of them says",
    )


def _near(product: Product, whole: Mechanism) -> Iterator[tuple[Fitted, Gap]]:
    """The gaps between bodies that print half shut."""
    for fitted, turn in zip(product.fitted.values(), whole.joints, strict=True):
        gap = gap_between_bodies(fitted, turn, whole) if isinstance(turn, MergedTurn) else None
        if gap is not None:
            yield fitted, gap
