"""What the tests of coupons share: the coupons of all families, and printers that are known."""

from __future__ import annotations

import functools
import itertools
import math
from typing import TYPE_CHECKING

import pytest

from scadgen.coupons.plan import Plan, plan, plans
from scadgen.coupons.results import FREE, FUSED, Results, results_file
from scadgen.coupons.solids import piece
from scadgen.hinge.family import all_families
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.printing.cuts import SLIVER
from scadgen.printing.layers import TOUCH

if TYPE_CHECKING:
    from manifold3d import CrossSection, Manifold

USUAL = [found for cls in all_families().values() if (found := plan(cls))]
#: Coupons of what else families have, one of each kind.
OTHERS = {p.steps.of: p for cls in all_families().values() for p in plans(cls) if p.steps.of}
PLANS = [*USUAL, *OTHERS.values()]
PIVOTS = [found for found in USUAL if issubclass(found.family, Pivot)]
CALIBRATING = [found for found in PLANS if found.calibrates]
HEIGHTS = (0.1, 0.2, 0.3)


def each_of(plans: list[Plan]) -> pytest.MarkDecorator:
    """A parameter ``printed`` that takes each of the plans."""
    return pytest.mark.parametrize("printed", plans, ids=lambda one: one.name)


def filled(printed: Plan) -> str:
    """The file of results, as a maker fills it in who finds every piece free."""
    return results_file(printed).replace('"?"', f'"{FREE}"')


@functools.cache
def pieces(printed: Plan, value: float) -> tuple[Manifold, ...]:
    """The bodies of one piece."""
    return tuple(piece(printed, value).decompose())


def turns(printed: Plan, value: float, growth: float, layer: float, fall: float = 0) -> bool:
    """Whether a piece comes out free whose lines spread by ``growth`` (mm) per side, below 0 too.

    It fuses where two bodies are drawn nearer in one layer than a slicer leaves open, where their
    lines meet, and where a layer of one is laid on the other. fall: how much higher than drawn its
    layers lie, in layers.
    """
    if closed(printed, value, layer, fall):
        return False
    grown = [
        [spread(section, growth) for section in body] for body in cuts(printed, value, layer, fall)
    ]
    for one, other in itertools.permutations(grown, 2):
        laid = (*zip(one, other, strict=True), *zip(one[1:], other, strict=False))
        if any(area(*pair) > SLIVER for pair in laid):
            return False
    return True


@functools.cache
def cuts(printed: Plan, value: float, layer: float, fall: float) -> list[list[CrossSection]]:
    """Cross sections of each body of a piece at the middles of its layers."""
    bodies = pieces(printed, value)
    count = math.ceil(max(body.bounding_box()[5] for body in bodies) / layer)
    return [[body.slice((k + 0.5 + fall) * layer) for k in range(count)] for body in bodies]


@functools.cache
def closed(printed: Plan, value: float, layer: float, fall: float) -> bool:
    """Whether two bodies are drawn nearer in one layer than a slicer leaves open."""
    drawn = [[spread(section, 0) for section in body] for body in cuts(printed, value, layer, fall)]
    return any(
        area(rounded(section, TOUCH), beside) > SLIVER
        for one, other in itertools.permutations(drawn, 2)
        for section, beside in zip(one, other, strict=True)
    )


def spread(section: CrossSection, growth: float) -> CrossSection:
    """A cross section as a printer makes it whose lines spread by ``growth`` (mm) per side."""
    from manifold3d import JoinType

    return section.offset(growth, JoinType.Miter, 2.0)


def rounded(section: CrossSection, distance: float) -> CrossSection:
    """All that is nearer to a section than a distance (mm)."""
    from manifold3d import JoinType

    return section.offset(distance, JoinType.Round, 2.0, 32)


def area(one: CrossSection, other: CrossSection) -> float:
    """Area that two sections share, mm2."""
    return float((one ^ other).area())


def simulated(printed: Plan, growth: float, layer: float) -> Results:
    """What a maker finds whose printer's lines spread by ``growth`` (mm)."""
    free = {value: turns(printed, value, growth, layer) for value in printed.values}
    found = {value: FREE if is_free else FUSED for value, is_free in free.items()}
    return Results(printed, "simulated", layer, found)
