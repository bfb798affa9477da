"""When a gap closes: the one relation between a step, the growth of the lines and the layers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from scadgen.coupons.plan import Plan
from scadgen.hinge.family import definition
from scadgen.proof.fleet.printer import Printer
from scadgen.proof.fleet.room_left import gap_margin


def closing(plan: Plan, values: Sequence[float], growth: Any, layer: float) -> Any:
    """Room, mm square to the walls, that is left in the closest gap of each piece; fused below 0.

    values: stepped values of pieces, mm. growth: of every outline, per side, mm, an array (n,).
    layer: height of a layer, mm. A row for each piece, (pieces, n): what a printer of a fleet that
    has no other error leaves. Raises ValueError for a coupon in which growth closes nothing.
    """
    import numpy as np

    if not plan.calibrates:
        raise ValueError(f"{plan.family.family}: growth closes nothing in its coupon")
    printer = Printer(growth=np.asarray(growth, float), layer=layer)
    gaps = definition(plan.family).gaps
    rows = []
    for value in values:
        own = plan.numbers(value, layer)
        left = np.broadcast_arrays(printer.growth, *(gap_margin(g, own, printer) for g in gaps))
        rows.append(np.minimum.reduce(left[1:]))
    return np.array(rows)
