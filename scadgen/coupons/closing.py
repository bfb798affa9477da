"""When a gap closes: the one relation between a step, the growth of the lines and the layers."""

from __future__ import annotations

import math
from typing import Any

from scadgen.family import Hinge
from scadgen.proof.layers import layers

#: What a slicer closes by itself, mm: the proof's own value.
TOUCH: float = (layers.__kwdefaults__ or {})["touch"]


def closing(hinge_cls: type[Hinge], clearance: Any, growth: Any, layer: float) -> Any:
    """Room, mm in the plane of a layer, that is left in the family's closest gap; fused below 0.

    clearance: the stepped value, mm. growth: of every outline, per side, mm. Both may be arrays
    that broadcast. layer: height of a layer, mm.

    A wall that overhangs by an angle a has clearance / cos(a) of air in the plane. Growth takes
    twice its own, and there must be left what a slicer would close, or the step tan(a) x layer by
    which the layer above reaches out. Raises ValueError for a family in whose coupon growth closes
    nothing.
    """
    import numpy as np

    steps = hinge_cls.coupon()
    if steps is None or not steps.walls:
        raise ValueError(f"{hinge_cls.family}: growth closes nothing in its coupon")
    left = [_left(wall, np.asarray(clearance), layer) for wall in steps.walls]
    return np.minimum.reduce(np.broadcast_arrays(*left)) - 2 * np.asarray(growth)


def _left(wall: float, clearance: Any, layer: float) -> Any:
    slope = math.radians(wall)
    return clearance / math.cos(slope) - max(TOUCH, layer * math.tan(slope))
