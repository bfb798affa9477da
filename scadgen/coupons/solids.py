"""A coupon's solids: the mesh reading of its trees."""

from __future__ import annotations

import functools
import math
from typing import TYPE_CHECKING, cast

from scadgen.coupons.plan import Plan
from scadgen.coupons.shapes import parameters, trees_of
from scadgen.hinge.family import bounds
from scadgen.text.numbers import shown
from scadgen.trees.solid import Shape

if TYPE_CHECKING:
    from manifold3d import Manifold

    from scadgen.trees.to_numpy import Numbers

#: What a rough time is reckoned with: layer and line, mm, and way of the nozzle, mm/s (assumed).
LAYER, LINE, SPEED = 0.2, 0.45, 60
#: Smallest way, mm, that counts as a distance between two bodies' edges.
NEAR = 0.01


@functools.lru_cache(maxsize=4)
def whole(plan: Plan) -> Manifold:
    """All pieces where they print (mm)."""
    return _meshed(plan, trees_of(plan).whole())


def piece(plan: Plan, value: float) -> Manifold:
    """One piece on its share of the plate (mm), the hinge's origin at the origin."""
    return _meshed(plan, trees_of(plan).piece(value))


def bodies(plan: Plan) -> dict[str, Manifold]:
    """The bodies of the whole coupon: its plates, and what moves on them by its stepped value."""
    numbers, drawn = _numbers(plan), trees_of(plan)
    row_pitch, in_row = float(numbers(drawn.row_pitch)), int(numbers(drawn.in_row))
    found = {}
    for body in whole(plan).decompose():
        left, low, _, right, _, _ = body.bounding_box()
        row = math.floor((low + NEAR) / row_pitch)
        if low - row * row_pitch < NEAR:
            found[f"plate {row + 1}"] = body
        else:
            column = math.floor((left + right) / 2 / plan.room.pitch)
            name = f"moving side, {shown(plan.values[row * in_row + column])}"
            others = sum(other.startswith(f"{name} ") or other == name for other in found)
            found[f"{name} ({others + 1})" if others else name] = body
    return dict(sorted(found.items()))


def minutes(plan: Plan) -> float:
    """Rough time to print: the volume laid solid at an assumed speed; travel is not counted."""
    return float(whole(plan).volume()) / (LAYER * LINE * SPEED) / 60


def _meshed(plan: Plan, shape: Shape) -> Manifold:
    from scadgen.trees.to_mesh import to_mesh

    return cast("Manifold", to_mesh(shape, _numbers(plan)))


def _numbers(plan: Plan) -> Numbers:
    from scadgen.trees.to_numpy import Numbers

    fields = {**bounds(plan.family), **parameters(plan)}
    return Numbers({name: limits.default for name, limits in fields.items()})
