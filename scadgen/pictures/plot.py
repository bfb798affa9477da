"""The look that all diagrams share, and how one is saved: the same bytes in every run.

Diagrams are drawn on opaque paper, so that they read on light and on dark pages. matplotlib is
needed (extra ``curves``).
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

from scadgen.pictures.palette import LIGHT

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

STYLE: Any = {
    "svg.hashsalt": "scadgen",  # names of clip paths that are the same in every run
    "svg.fonttype": "none",  # text stays text
    "font.family": ["DejaVu Sans"],
    "font.size": 9,
    "text.color": LIGHT["ink"],
    "axes.labelcolor": LIGHT["ink"],
    "axes.edgecolor": LIGHT["muted"],
    "xtick.color": LIGHT["muted"],
    "ytick.color": LIGHT["muted"],
    "figure.facecolor": LIGHT["surface"],
    "axes.facecolor": LIGHT["surface"],
}

#: Lines that stay apart without colour too: colours of the palette, each with dashes of its own.
_COLOURS = tuple(LIGHT[name] for name in ("fixed", "moving", "accent", "ink", "muted"))
_DASHES: tuple[Any, ...] = ("-", (0, (5, 2)), (0, (1, 1.5)))


def line_style(index: int) -> dict[str, Any]:
    """How the line of that number is drawn; the first 15 all differ."""
    dashes = _DASHES[index // len(_COLOURS) % len(_DASHES)]
    return {"color": _COLOURS[index % len(_COLOURS)], "ls": dashes, "lw": 2}


def plain_axes(axes: Axes) -> None:
    """Two sides and light lines across."""
    axes.grid(axis="y", color=LIGHT["line"], lw=0.8)
    axes.spines[["top", "right"]].set_visible(False)


def svg(figure: Figure) -> bytes:
    """The figure as SVG, without a date; to be drawn and saved in ``rc_context(STYLE)``."""
    out = io.BytesIO()
    figure.savefig(out, format="svg", metadata={"Date": None, "Creator": "scadgen"})
    return out.getvalue()
