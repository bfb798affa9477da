"""Curves of a family's strength against what decides it, a line for each plastic.

Needs the extra ``curves`` (matplotlib).
"""

from __future__ import annotations

import inspect
import itertools
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

from scadgen.gallery.duty_words import in_few_words
from scadgen.gallery.strength_sweep import FAR, Sweep, sweeps
from scadgen.hinge.family import Hinge, bounds
from scadgen.pictures.naming import name_lines
from scadgen.pictures.palette import LIGHT
from scadgen.pictures.plot import STYLE, line_style, plain_axes, svg
from scadgen.strength.duty import Duty
from scadgen.text.typeset import typeset

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    Diagram = tuple[str, Callable[[Axes], None]]

#: How much of the paper the grey over refused values covers: lines stay plain to see on it.
GREY = 0.6
#: A scale is short of powers of ten where its ends are less than so many times apart.
FEW = 40


def strength_curve(cls: type[Hinge], duty: Duty | None = None) -> bytes:
    """An SVG, the same in every run: a row of diagrams for each field that the strength hangs on.

    The least factor, times the duty; the strain beside what the plastics bear; the torque: as far
    as the family's file tells them. The family's default is marked, and what its rules refuse is
    grey. Without a duty the usual one counts.
    """
    from matplotlib import rc_context

    with rc_context(STYLE):
        return svg(strength_figure(cls, duty or cls.usual_duty()))


def strength_figure(cls: type[Hinge], duty: Duty) -> Figure:
    """The same as a figure of matplotlib. Raises ValueError for a family without strengths."""
    from matplotlib.figure import Figure

    rows = [(found, list(_diagrams(found))) for found in sweeps(cls, duty)]
    wide = max((len(diagrams) for _, diagrams in rows), default=0)
    if not wide:
        raise ValueError(f"{cls.family} tells no strength; its strengths() gives nothing.")
    figure = Figure(figsize=(max(5 * wide, 6), 3.1 * len(rows) + 0.6), layout="constrained")
    grid = figure.subplots(len(rows), wide, squeeze=False)
    for axes_row, (found, diagrams) in zip(grid, rows, strict=True):
        for axes in axes_row[len(diagrams) :]:
            axes.set_axis_off()
        for axes, (label, draw) in zip(axes_row, diagrams, strict=False):
            _ground(axes, cls, found)
            axes.set_ylabel(label)
            draw(axes)
    _head(figure, cls, duty)
    return figure


def _head(figure: Figure, cls: type[Hinge], duty: Duty) -> None:
    """Title, and a legend of what every diagram marks."""
    from matplotlib.lines import Line2D
    from matplotlib.patches import Patch

    marks = [
        Line2D([], [], color=LIGHT["ink"], lw=1, ls=":", marker="o", ms=5, label="as designed"),
        Patch(color=LIGHT["line"], alpha=GREY, label="refused by its rules"),
    ]
    title = typeset(f"{cls.heading()}: {in_few_words(duty)}")
    figure.suptitle(title, fontsize=10, fontweight="bold", x=0.01, ha="left")
    figure.legend(handles=marks, loc="outside lower center", ncols=2, frameon=False)


def _diagrams(found: Sweep) -> Iterator[Diagram]:
    """The y label of each diagram, and what draws it."""
    if found.factors:
        yield "least factor, times the duty", lambda axes: _factors(axes, found)
    if found.strains:
        name = next(iter(found.strains.values())).name
        yield f"{name}:\nstrain (%)", lambda axes: _strains(axes, found)
    for name in found.efforts:
        yield name, lambda axes, name=name: _efforts(axes, found, name)  # type: ignore[misc]


def _factors(axes: Axes, found: Sweep) -> None:
    _lines(axes, found, found.factors)
    axes.axhline(found.asked, color=LIGHT["ink"], lw=1, zorder=1)
    axes.annotate(
        f"asked: {found.asked:g}",
        (0.99, found.asked),
        xycoords=("axes fraction", "data"),
        va="bottom",
        ha="right",
        fontsize=8,
        bbox={"facecolor": LIGHT["surface"], "lw": 0, "pad": 1, "alpha": 0.8},
    )
    low, high = axes.get_ylim()
    axes.set_ylim(min(low, found.asked / 1.5), min(max(high, found.asked * 1.5), FAR))
    _name(axes, found, found.factors)


def _strains(axes: Axes, found: Sweep) -> None:
    """What it is strained, once if it is the same in every plastic, and what each one bears."""
    import numpy as np

    strains = {name: strain.actual for name, strain in found.strains.items()}
    first = next(iter(strains.values()))
    if all(np.array_equal(first, other, equal_nan=True) for other in strains.values()):
        axes.plot(found.axis, first, color=LIGHT["ink"], lw=3, gid="strain")
        _dot(axes, found, first, LIGHT["ink"])
    else:
        _lines(axes, found, strains)
    for k, strain in enumerate(found.strains.values()):
        style = line_style(k) | {"lw": 1.2}
        axes.plot(found.axis, strain.permissible, **style)
    _logarithmic(axes)
    _name(axes, found, {name: strain.permissible for name, strain in found.strains.items()})
    axes.set_title("thick: under the duty; thin: what each plastic bears", fontsize=8, loc="left")


def _efforts(axes: Axes, found: Sweep, name: str) -> None:
    _lines(axes, found, found.efforts[name])
    _name(axes, found, found.efforts[name])


def _name(axes: Axes, found: Sweep, lines: dict[str, Any]) -> None:
    """Each plastic beside the right end of its line."""
    import numpy as np

    ends = {}
    for k, (name, line) in enumerate(lines.items()):
        shown = np.flatnonzero(np.isfinite(line) & (found.axis <= axes.get_xlim()[1]))
        if len(shown):
            last = shown[found.axis[shown].argmax()]
            ends[name] = (found.axis[last], line[last], line_style(k)["color"])
    name_lines(axes, ends)


def _lines(axes: Axes, found: Sweep, lines: dict[str, Any]) -> None:
    for k, (name, line) in enumerate(lines.items()):
        style = line_style(k)
        axes.plot(found.axis, line, gid=f"line-{name}", **style)
        _dot(axes, found, line, style["color"])
    _logarithmic(axes)


def _logarithmic(axes: Axes) -> None:
    """A logarithmic scale whose numbers are written out, some between the powers of ten if few."""
    axes.set_yscale("log")

    def between(value: float, _: float) -> str:
        low, high = axes.get_ylim()
        return f"{value:g}" if high < FEW * low and f"{value:e}"[0] in "235" else ""

    axes.yaxis.set_major_formatter(lambda value, _: f"{value:g}")
    axes.yaxis.set_minor_formatter(between)


def _dot(axes: Axes, found: Sweep, line: Any, colour: str) -> None:
    """The chosen point of a line."""
    here = found.axis[found.chosen], line[found.chosen]
    axes.plot(*([end] for end in here), "o", ms=5, color=colour, zorder=3, gid="chosen")


def _ground(axes: Axes, cls: type[Hinge], found: Sweep) -> None:
    """The axis below, the chosen value, and the grey over what the rules refuse."""
    axes.axvline(found.axis[found.chosen], color=LIGHT["ink"], lw=1, ls=":", zorder=1)
    runs = itertools.groupby(range(len(found.values)), key=lambda k: bool(found.kept[k]))
    between = [*found.axis[:1], *(found.axis[1:] + found.axis[:-1]) / 2, *found.axis[-1:]]
    for kept, run in runs:
        inside = list(run)
        if not kept:
            ends = between[inside[0]], between[inside[-1] + 1]
            axes.axvspan(*ends, color=LIGHT["line"], alpha=GREY, lw=0, zorder=0)
    axes.set_xlim(*_ends(found))
    axes.set_xlabel(_axis_label(cls, found.shown))
    plain_axes(axes)
    axes.grid(axis="y", which="major", color=LIGHT["line"], lw=0.8)


def _ends(found: Sweep) -> tuple[float, float]:
    """Ends of the axis: of what has curves, with some of the grey beside it."""
    inside, low, high = found.axis[found.read], found.axis.min(), found.axis.max()
    beside = (inside.max() - inside.min()) / 10
    return max(inside.min() - beside, low), min(inside.max() + beside, high)


def _axis_label(cls: type[Hinge], shown: str) -> str:
    limits = bounds(cls).get(shown)
    if limits is None:
        return inspect.cleandoc(getattr(cls, shown).__doc__ or shown).split("\n")[0]
    unit = typeset(f" ({limits.unit})") if limits.unit else ""
    return f"{limits.sentence}{unit}"
