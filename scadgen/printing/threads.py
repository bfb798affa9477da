"""Bridges as threads: a line over air is round and as thick as wide, and hangs below its layer.

Slicers lay what bridges as a thread of the nozzle's bore ("thick bridges", usual in PrusaSlicer
2.5.0, always so in Slic3r 1.3.0: seen in their toolpaths), which hangs from the nozzle. So it may
reach down through layers that are drawn empty, onto another body.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from scadgen.printing.cuts import SLIVER, SLIVER_SHARE, TOLERANCE, Cuts
from scadgen.printing.spans import patch

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from scadgen.printing.layers import Layer


def landings(
    made: Cuts, hanging: Sequence[Layer], height: float, reach: float, thread: float
) -> Iterator[tuple[int, float]]:
    """The layers in which a bridge's threads land on another body, and the area, mm2.

    hanging: layers that hang. reach: how far a layer leans out by itself, mm. thread: how thick a
    line is that bridges, mm.
    """
    for layer in hanging:
        k = round(layer.z / height)
        # Tops of layers below the thread's underside are lower than (k + 1) height - thread.
        deepest = max(0, math.floor(k - (thread - TOLERANCE) / height) + 1)
        if not layer.bridge or deepest >= k:
            continue
        for part in bridges(made, layer.body, k, height, reach):
            area = sum(
                (part ^ made.section(other, below, height)).area()
                for other in range(len(made.bodies))
                if other != layer.body
                for below in range(deepest, k)
            )
            if area > SLIVER:
                yield k, float(area)


def bridges(made: Cuts, body: int, k: int, height: float, reach: float) -> Iterator[CrossSection]:
    """The patches of a layer that span from carried plastic to carried plastic."""
    from manifold3d import JoinType

    below, here = made.section(body, k - 1, height), made.section(body, k, height)
    least = max(SLIVER, SLIVER_SHARE * height * height)
    for part in (here - below.offset(reach, JoinType.Miter, 2.0)).decompose():
        if part.area() > least and patch(part, here).span is not None:
            yield part
