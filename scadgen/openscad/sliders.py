"""The sliders of a hinge in the Customizer: each as far as it works while the others stay.

A field's bounds say what it may ever be; from a hinge's own values its rules leave less. A slider
reaches over what they leave, worked out from the rules for each hinge. The bounds stay what Python,
jobs and the module's assertions hold a value against.

OpenSCAD 2021.01 takes a value of a parameter set as it is; newer ones pull it into the slider's
range without a word. So the sliders of a family as it comes reach over its presets as well.
"""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, Any

from scadgen.hinge.automatic import given_values
from scadgen.hinge.family import Bounds, Hinge, all_families, bounds
from scadgen.hinge.free import DIGITS, UNEVEN, working
from scadgen.trees.to_scad import WIDTH, number

if TYPE_CHECKING:
    import numpy

    Array = numpy.ndarray[Any, Any]

#: Most values of a field that works in pieces for a list to choose from; as many as fit a line.
LISTED = 40
#: Share of a row's values that must work for a slider over all of it.
PASSED = 0.9


def sliders(hinge: Hinge) -> dict[str, str]:
    """For each field what stands behind its value: a range or values to choose from.

    A field that has no other value with which the rest works has its step, which makes a box to
    type in.
    """
    return _sliders(hinge.family, tuple(given_values(hinge).items()))


@functools.lru_cache(maxsize=64)
def _sliders(family: str, given: tuple[tuple[str, float], ...]) -> dict[str, str]:
    cls, own = all_families()[family], dict(given)
    also = _presets(cls) if own == {n: limits.initial for n, limits in bounds(cls).items()} else {}
    kept = working(cls, own)
    found = {}
    for name, limits in bounds(cls).items():
        room = WIDTH - len(f"{family}_{name} = {number(own[name])};  // ")
        range_ = _slider(limits, own[name], kept[name], also.get(name, ()), room)
        found[name] = _labelled(limits) or range_
    return found


def _presets(cls: type[Hinge]) -> dict[str, tuple[float, ...]]:
    """By field what the family's presets set."""
    from scadgen.openscad.presets import PRESETS, preset

    sets = [given_values(preset(cls, name)) for name in PRESETS]
    return {name: tuple(one[name] for one in sets) for name in bounds(cls)}


def _labelled(limits: Bounds) -> str:
    named = ", ".join(f"{k}:{label}" for k, label in enumerate(limits.labels))
    return f"[{named}]" if named else ""


def _slider(limits: Bounds, own: float, kept: Array, also: tuple[float, ...], room: int) -> str:
    """The range of the values ``kept``, widened to the field's ``own`` and to those ``also``.

    Where these lie so far beyond that a slider would pass over much that is refused it is a list,
    if all of it finds room. A list has at most so many letters as there is ``room`` for, if need be
    of every other value.
    """
    import numpy as np

    stride = limits.step
    if limits.automatic:
        kept = np.append(0, kept)
    elif len(kept) > 1 and not _even(kept, stride):
        if _even(kept, kept[1] - kept[0]):
            stride = round(float(kept[1] - kept[0]), DIGITS)
        elif _nearly_even(kept, stride):
            pass  # what is left out is little beside what a list could not hold
        elif len(kept) <= LISTED:
            return _listed(kept, (own, *also), room)
        else:
            kept = _around(own, kept, stride)
    reach = np.array([own, *also, *kept])
    low, high = float(reach.min()), float(reach.max())
    wide = len(np.unique(reach.round(DIGITS))) < PASSED * ((high - low) / stride + 1)
    if wide and not limits.automatic and len(kept) <= LISTED:
        text = _listed(kept, (own, *also), room, whole=True)
        if text:
            return text
    return f"[{':'.join(map(number, (low, stride, high)))}]" if low < high else number(stride)


def _listed(kept: Array, needed: tuple[float, ...], room: int, *, whole: bool = False) -> str:
    """A list of values; as a ``whole`` none of them is left out, and nothing is said if it does not
    fit."""
    import numpy as np

    values = [number(value) for value in np.union1d(kept, needed)]
    for between in (", ", ","):
        text = f"[{between.join(values)}]"
        if len(text) <= room or len(kept) <= 2:
            return text
    return "" if whole else _listed(np.append(kept[:1], kept[1::2]), needed, room)


def _even(values: Array, stride: float) -> bool:
    """Whether each value lies one stride above the one before."""
    import numpy as np

    return bool(np.all(np.abs(np.diff(values) - stride) < UNEVEN * stride))


def _nearly_even(values: Array, stride: float) -> bool:
    """Whether so few values are left out of a row that a slider may pass over them."""
    return bool(len(values) >= PASSED * ((values[-1] - values[0]) / stride + 1))


def _around(own: float, kept: Array, stride: float) -> Array:
    """The values of one row, step by step, that the hinge's own lies in or next to."""
    import numpy as np

    apart = np.flatnonzero(np.diff(kept) > stride * (1 + UNEVEN)) + 1
    rows: list[Array] = np.split(kept, apart)
    return min(rows, key=lambda row: float(np.abs(row - own).min()))
