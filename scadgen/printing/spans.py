"""What becomes of a flat patch printed over air: a bridge, a droop or an island.

The printer draws the patch as parallel lines. A patch is a bridge when the lines can run so that
each starts and ends on carried plastic; otherwise it droops.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from scadgen.printing.outlines import distances, edges, within

if TYPE_CHECKING:
    from manifold3d import CrossSection

    from scadgen.printing.outlines import Array

#: Distance, mm, below which an edge of a patch counts as an edge of the whole layer: rounding.
SAME_EDGE = 1e-4
#: Share of the patch whose lines may miss a carried end.
MISSED = 0.01
#: Distance between the lines that are tried, mm.
LINES = 0.2


@dataclass(frozen=True)
class Patch:
    """One connected patch over air.

    area: mm2.
    span: longest line over air, mm, run the best way; None when the patch is no bridge.
    island: nothing of its own layer carries it from any side.
    x, y: centre of its area, mm.
    """

    area: float
    span: float | None
    island: bool
    x: float
    y: float


def patch(over_air: CrossSection, layer: CrossSection) -> Patch:
    """Judge one connected patch of a layer that the layer below does not carry.

    Its edges inside the layer adjoin carried plastic; those on the layer's own outline are free.
    """
    import numpy as np

    lines = edges(over_air)
    carried = distances(lines.mean(axis=1), edges(layer)) > SAME_EDGE
    area, island = over_air.area(), not np.any(carried)
    spans = [_span(lines, carried, area, way) for way in _ways(lines)]
    span = min((span for span in spans if span is not None), default=None)
    return Patch(area, span, island, *within(over_air))


def _ways(lines: Array) -> list[float]:
    """Angles, radians, worth running lines at: along and square to the longest edges."""
    import numpy as np

    runs = lines[:, 1] - lines[:, 0]
    order = np.argsort(-np.linalg.norm(runs, axis=1))
    angles = np.round(np.degrees(np.arctan2(runs[order, 1], runs[order, 0])) % 90, 2)
    longest = list(dict.fromkeys(angles.tolist()))[:6]
    return [math.radians(angle + turn) for angle in longest for turn in (0, 90)]


def _span(lines: Array, carried: Array, area: float, way: float) -> float | None:
    """The longest line at angle `way`, or None unless the lines are carried at both ends."""
    import numpy as np

    cos, sin = math.cos(way), math.sin(way)
    x, y = lines @ np.array([cos, sin]), lines @ np.array([-sin, cos])
    low, high = y.min(), y.max()
    count = int(np.clip((high - low) / LINES, 16, 400))
    pitch = (high - low) / count
    level = low + pitch * (np.arange(count) + 0.5)
    line, edge = np.nonzero((y[:, 0] <= level[:, None]) != (y[:, 1] <= level[:, None]))
    rise = (level[line] - y[edge, 0]) / (y[edge, 1] - y[edge, 0])
    places = x[edge, 0] + rise * (x[edge, 1] - x[edge, 0])
    order = np.lexsort((places, line))  # each line enters and leaves a patch as often
    lengths = places[order][1::2] - places[order][::2]
    ends = carried[edge][order]
    kept = ends[::2] & ends[1::2]
    if lengths[~kept].sum() * pitch > MISSED * area:
        return None
    return float(lengths[kept].max(initial=0.0))
