"""What the tests of coupons share: the coupons of all families, and printers that are known."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import pytest

from scadgen.coupons.plan import Plan, plan
from scadgen.coupons.results import FREE, FUSED, Results
from scadgen.coupons.solids import piece
from scadgen.family import all_families
from scadgen.kinds.pivot import Pivot
from scadgen.proof.layers import layers

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


@dataclass(frozen=True)
class Grown:
    """A solid as a printer makes it whose lines spread by ``growth`` (mm) per side."""

    solid: Manifold
    growth: float

    def bounding_box(self) -> Any:
        return self.solid.bounding_box()

    def slice(self, height: float) -> CrossSection:
        from manifold3d import JoinType

        return self.solid.slice(height).offset(self.growth, JoinType.Miter, 2.0)


def turns(printed: Plan, value: float, growth: float, layer: float) -> bool:
    """Whether a piece comes out free, by the proof's own layers of the grown solids."""
    grown: Any = [Grown(body, growth) for body in pieces(printed, value)]
    return layers(grown, layer).fused == 0


def simulated(printed: Plan, growth: float, layer: float) -> Results:
    """What a maker finds whose printer's lines spread by ``growth`` (mm)."""
    free = {value: turns(printed, value, growth, layer) for value in printed.values}
    found = {value: FREE if is_free else FUSED for value, is_free in free.items()}
    return Results(printed, "simulated", layer, found)
