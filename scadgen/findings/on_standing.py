"""Findings on how bodies stand on the bed: whether a foot holds what stands over it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from scadgen.findings.finding import Finding
from scadgen.printing.cuts import Cuts
from scadgen.printing.standing import BRIM, PUSH, SHAKE, Standing, standing

#: What a bed is taken to hold before a foot peels off, MPa: the middle of what PrusaSlicer has (see
#: `printing.standing`), 0.02 for PLA, on the safe side, 0.1 for ABS, not measured, 0.3 for PETG.
HELD = 0.1
#: What is taken to hold one layer on the next at the foot, MPa (assumed: a third of the 33 MPa at
#: which that slicer lets plastic yield).
BONDED = 10.0
#: A height below this, mm, is none to advise; a pull below this, MPa, is next to none.
LOW, FAINT = 1.0, 0.001

Names = Callable[[int], str]


def feet(made: Cuts, heights: Sequence[float], names: Names) -> Iterator[Finding]:
    """One finding for each body, at the first layer (mm) on which it stands worst."""
    bodies = range(len(made.bodies))  # of layers whose feet are the same, one is enough
    distinct = {tuple(id(made.section(k, 0, height)) for k in bodies): height for height in heights}
    for found in zip(*(standing(made, height) for height in distinct.values()), strict=True):
        lost = [each for each in found if each.area == 0]
        worst = lost[0] if lost else max(found, key=lambda each: each.pull)
        yield _footing(worst, f"footing of {names(worst.body)}")


def _footing(found: Standing, name: str) -> Finding:
    """It passes where a brim would hold it, and only just where it wants one."""
    if found.area == 0:
        words = "it has none: it starts above the bed."
        return Finding(name, False, words, change="stand it on the bed")
    if found.pull == 0:
        words = f"{_size(found)}; {_loads()} do not even lift its edge against its weight"
        return Finding(name, True, f"{words}; {_loose(found)}.")
    alone = found.tallest(HELD / found.pull)
    braced = found.tallest(HELD / found.braced) if found.braced > 0 else math.inf
    most = round(min(braced, found.tallest(BONDED / found.pull)), 1)
    return Finding(
        name,
        found.height <= most,
        f"{_size(found)}{_ratios(found, alone, most)}; {_loads()} pull at its edge by "
        f"{_pull(found.pull)} MPa, where {HELD:g} MPa is taken to hold; {_loose(found)}.",
        measured=found.height,
        needed=most,
        unit="mm",
        at_least=False,
        slack=most - alone,
        change=_change(found, alone, most),
    )


def _size(found: Standing) -> str:
    area = f"{found.area:.0f}" if found.area >= 10 else f"{found.area:.1f}"
    return f"{area} mm2, {found.width:.1f} mm wide at the narrowest, under {found.height:.4g} mm"


def _ratios(found: Standing, alone: float, most: float) -> str:
    """How many times as tall as wide it is and may be; nothing of what is lower than wide."""
    if found.ratio <= 1:
        return ""
    bears, braced = (_two(height / found.width) for height in (alone, most))
    return (
        f", {_two(found.ratio)} to 1; such a foot bears {bears} to 1, with a brim of {BRIM:g} mm "
        f"{braced} to 1"
    )


def _loads() -> str:
    return f"a nozzle that catches ({_two(PUSH)} N) and a bed that speeds up ({SHAKE:g} m/s2)"


def _pull(pull: float) -> str:
    return _two(pull) if pull >= FAINT else f"less than {FAINT:g}"


def _loose(found: Standing) -> str:
    if found.tips == 0:
        return "loose, it falls over by itself"
    return f"loose, it tips over at {_two(found.tips)} m/s2"


def _change(found: Standing, alone: float, most: float) -> str:
    """A brim where it only just stands; else a larger foot. Less height helps either way."""
    if found.height <= alone:
        return ""
    if found.height <= most:
        return f"print it with a brim of {BRIM:g} mm{_lower(alone, 'on such a foot')}"
    larger = "a larger foot: a longer or thicker leaf, or one body with a part that stands"
    return f"{larger}{_lower(most, 'with a brim')}"


def _lower(height: float, where: str) -> str:
    return f", or at most {math.floor(height)} mm of height {where}" if height >= LOW else ""


def _two(value: float) -> str:
    """Two significant digits."""
    return f"{float(f'{value:.2g}'):g}"
