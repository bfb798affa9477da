"""Names of lines beside a diagram, each with a thin line to the end of what it names."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from scadgen.pictures.palette import LIGHT

if TYPE_CHECKING:
    from matplotlib.axes import Axes

#: Size of the names, points; the least from one to the next, as a share of the diagram's height;
#: how far to the right of it they begin, as a share of its width.
SIZE, APART, BESIDE = 7.5, 0.076, 1.045


def spread(places: list[float], apart: float = APART) -> list[float]:
    """Places (0 to 1, rising) moved as little as leaves each ``apart`` from the next.

    >>> [round(place, 2) for place in spread([0.5, 0.5, 0.95, 1.0], 0.1)]
    [0.5, 0.6, 0.92, 1.02]
    """
    up: list[float] = []
    for place in places:
        up.append(max(place, up[-1] + apart) if up else max(place, 0.0))
    most = 1.0 + apart / 4
    for k in reversed(range(len(up))):
        up[k] = min(up[k], most)
        most = up[k] - apart
    return up


def name_lines(axes: Axes, ends: Mapping[str, tuple[float, float, Any]]) -> None:
    """Name each line at its right ``ends``: x, y and colour. The scale of y is final by then."""
    import numpy as np

    to_axes = axes.transScale + axes.transLimits
    there = {
        name: float(np.clip(to_axes.transform((x, y))[1], 0, 1)) for name, (x, y, _) in ends.items()
    }
    order = sorted(there, key=lambda name: (there[name], name))
    for name, place in zip(order, spread([there[name] for name in order]), strict=True):
        x, y, colour = ends[name]
        axes.annotate(
            name,
            (x, y),
            (BESIDE, place),
            textcoords="axes fraction",
            va="center",
            fontsize=SIZE,
            color=LIGHT["ink"],
            annotation_clip=False,
            arrowprops={
                "arrowstyle": "-",
                "color": colour,
                "lw": 0.8,
                "shrinkA": 1,
                "shrinkB": 0,
                "relpos": (0, 0.5),
            },
        )
