"""The share of a fleet that works against the clearance: curves, and a table.

Needs the extra ``curves`` (matplotlib) for the curves; the table needs nothing.
"""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING, Any

from scadgen.hinge.family import all_families
from scadgen.pictures.naming import name_lines
from scadgen.pictures.palette import LIGHT
from scadgen.pictures.plot import STYLE, plain_axes, svg
from scadgen.proof.fleet.best import Curve, best_clearance
from scadgen.proof.fleet.findings import percent
from scadgen.proof.fleet.population import CAREFUL, ROUGH, Population

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from scadgen.hinge.family import Hinge

#: How each fleet is drawn: colour, dashes, from the palette that all readers tell apart.
_DRAWN = {ROUGH.name: (LIGHT["accent"], "-"), CAREFUL.name: (LIGHT["fixed"], (0, (5, 2)))}
#: Clearances of the table, mm.
COLUMNS = (0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6)
#: Printers on which each clearance is tried.
COUNT = 20_000


def fleet_curve(hinge: Hinge) -> bytes:
    """An SVG, the same in every run: the share of a fleet that makes a working hinge.

    For the rough and the careful fleet, against what sets the family's fit; values that the family
    refuses lie in the grey, and the hinge's own is marked.
    """
    from matplotlib import rc_context
    from matplotlib.figure import Figure

    with rc_context(STYLE):
        figure = Figure(figsize=(5.4, 3.2), layout="constrained")
        axes = figure.subplots()
        _diagram(axes, hinge)
        handles, labels = axes.get_legend_handles_labels()
        once = dict(zip(labels, handles, strict=True))
        figure.legend(
            once.values(), once.keys(), loc="outside lower center", ncols=2, frameon=False
        )
        title = f"{hinge.heading()}: printers on which it works"
        figure.suptitle(title, fontsize=10, fontweight="bold", x=0.01, ha="left")
        return svg(figure)


def _diagram(axes: Axes, hinge: Hinge) -> None:
    ends = {}
    for population in (ROUGH, CAREFUL):
        curve = best_clearance(hinge, population, COUNT, step=0.0125)
        colour, dashes = _DRAWN[population.name]
        axes.plot(curve.values, 100 * curve.both, color=colour, ls=dashes, lw=2)
        ends[f"{population.name} fleet"] = (curve.values[-1], 100 * curve.both[-1], colour)
    _grey(axes, curve)
    now = getattr(hinge, curve.field)
    label = "as designed"
    axes.axvline(now, color=LIGHT["ink"], lw=1, ls=":", zorder=1, label=label)
    axes.plot([now], [_share(hinge, ROUGH)], "o", ms=6, color=LIGHT["ink"], zorder=3)
    axes.set(xlim=(curve.values[0], curve.values[-1]), ylim=(-3, 103), xticks=_ticks(curve))
    axes.set_yticks([0, 25, 50, 75, 100])
    plain_axes(axes)
    axes.set_xlabel(f"{curve.field} (mm)")
    axes.set_ylabel("works on (%)")
    name_lines(axes, ends)


def _grey(axes: Axes, curve: Curve) -> None:
    """Bands over the values that the family refuses."""
    step = curve.values[1] - curve.values[0]
    rows = zip(curve.values, curve.refused, strict=True)
    for refused, run in itertools.groupby(rows, key=lambda row: bool(row[1])):
        if refused:
            inside = [value for value, _ in run]
            ends = inside[0] - step / 2, inside[-1] + step / 2
            axes.axvspan(*ends, color=LIGHT["line"], lw=0, label="refused by its rules")


def _ticks(curve: Curve) -> list[float]:
    return [0.2, 0.4, 0.6, 0.8] if curve.values[-1] >= 0.8 else list(curve.values)


def _share(hinge: Hinge, population: Population) -> float:
    from scadgen.proof.fleet.shares import fleet

    return 100 * fleet(hinge, population, COUNT).share_both.value


def fleet_table(population: Population = ROUGH) -> str:
    """A Markdown table: for each family the share of a fleet that works at each clearance.

    A dash stands where the family refuses the value beside its other defaults.
    """
    heads = [f"{value:g}" for value in COLUMNS]
    lines = [f"| family | {' | '.join(heads)} |", "|---|" + "---:|" * len(heads)]
    for name, cls in all_families().items():
        curve = best_clearance(cls(), population, COUNT)
        cells = [_cell(curve, value) for value in COLUMNS]
        varied = "" if curve.field == "clearance" else f", {curve.field}"
        lines.append(f"| `{name}`{varied} | {' | '.join(cells)} |")
    return "\n".join(lines) + "\n"


def _cell(curve: Curve, value: float) -> str:
    index = int(abs(curve.values - value).argmin())
    chosen: Any = curve.both[index]
    return "-" if curve.refused[index] else percent(float(chosen))
