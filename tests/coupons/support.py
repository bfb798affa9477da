"""What the tests of coupons share: the coupons of all families, and printers that are known."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING

import pytest

from scadgen.coupons.plan import Plan, plan
from scadgen.coupons.results import FREE, FUSED, Results
from scadgen.coupons.solids import piece
from scadgen.family import all_families
from scadgen.kinds.pivot import Pivot
from scadgen.proof.cuts import SLIVER
from scadgen.proof.layers import TOUCH

if TYPE_CHECKING:
    from manifold3d import CrossSection, Manifold

PLANS = [found for cls in all_families().values() if (found := plan(cls))]
PIVOTS = [found for found in PLANS if issubclass(found.family, Pivot)]
HEIGHTS = (0.1, 0.2, 0.3)


def each_of(plans: list[Plan]) -> pytest.MarkDecorator:
    """A parameter ``printed`` that takes each of the plans."""
    return pytest.mark.parametrize("printed", plans, ids=lambda one: one.family.family)


@functools.cache
def pieces(printed: Plan, value: float) -> tuple[Manifold, ...]:
    """The bodies of one piece."""
    return tuple(piece(printed, value).decompose())


def turns(printed: Plan, value: float, growth: float, layer: float) -> bool:
    """Whether a piece comes out free of a printer whose lines spread by ``growth`` (mm) per side.

    Every layer's outlines are moved out by so much. Bodies join where they then come nearer than
    what a slicer closes in one layer, or where one lands on the other's layer below.
    """
    one, other = (
        [_spread(body, (k + 0.5) * layer, growth) for k in range(_count(body, layer))]
        for body in pieces(printed, value)
    )
    for k, (a, b) in enumerate(zip(one, other, strict=False)):
        beside = [(_moved(a, TOUCH), b)]
        landing = [(a, other[k - 1]), (b, one[k - 1])] if k else []
        if any((high ^ low).area() > SLIVER for high, low in (*beside, *landing)):
            return False
    return True


def _count(body: Manifold, layer: float) -> int:
    return int(body.bounding_box()[5] / layer + 0.5)


def _spread(body: Manifold, height: float, growth: float) -> CrossSection:
    return _moved(body.slice(height), growth)


def _moved(section: CrossSection, distance: float) -> CrossSection:
    from manifold3d import JoinType

    return section.offset(distance, JoinType.Miter, 2.0)


def simulated(printed: Plan, growth: float, layer: float) -> Results:
    """What a maker finds whose printer's lines spread by ``growth`` (mm)."""
    free = {value: turns(printed, value, growth, layer) for value in printed.values}
    found = {value: FREE if is_free else FUSED for value, is_free in free.items()}
    return Results(printed, "simulated", layer, found)
