"""The free range of a field: its values, on its steps, that work while the others stay.

All rules are tried along the field, those on other fields too, and what is automatic follows.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scadgen.text.numbers import shown

if TYPE_CHECKING:
    import numpy

    from scadgen.hinge.family import Bounds, Hinge

    Array = numpy.ndarray[Any, Any]

#: Digits to which positions are kept, and by how much (of a step) they may be uneven.
DIGITS, UNEVEN = 9, 1e-3
#: Most ranges that a message lists.
LISTED = 8


@dataclass(frozen=True)
class Free:
    """The values of a field, on its steps, with which a hinge is sound while the others stay."""

    values: tuple[float, ...]
    step: float

    @property
    def ranges(self) -> tuple[tuple[float, float], ...]:
        """Least and greatest value of each row of values that follow each other step by step."""
        rows: list[tuple[float, float]] = []
        for value in self.values:
            if rows and value - rows[-1][1] < self.step * (1 + UNEVEN):
                rows[-1] = (rows[-1][0], value)
            else:
                rows.append((value, value))
        return tuple(rows)

    def __str__(self) -> str:
        """The values in words, without their unit.

        >>> str(Free((0, 2.5, 3, 3.5), 0.5))
        '0, 2.5 to 3.5'
        """
        found = [
            shown(low) if low == high else f"{shown(low)} to {shown(high)}"
            for low, high in self.ranges
        ]
        if len(found) > LISTED:
            return f"{', '.join(found[:LISTED])} and more up to {shown(self.values[-1])}"
        return ", ".join(found)


def free(cls: type[Hinge], given: Mapping[str, Any], param: str) -> Free | None:
    """The free range of a field beside what is given; None where that is no number in its bounds.

    What is given of the field itself does not matter.
    """
    from scadgen.hinge.family import bounds

    fields = bounds(cls)
    own = dict(given) | {param: fields[param].default}
    if not all(limits.accepts(own[name]) for name, limits in fields.items()):
        return None
    return Free(tuple(working(cls, own, param)[param].tolist()), fields[param].step)


def working(cls: type[Hinge], own: Mapping[str, float], *names: str) -> dict[str, Array]:
    """By field (each, or those named) its values, on its steps, with which the hinge is sound.

    ``own`` are values of all fields as they are given.
    """
    import numpy as np

    from scadgen.hinge.batch import batch, loose_batch, sound
    from scadgen.hinge.family import bounds

    fields = bounds(cls)
    tried = {name: steps(fields[name]) for name in names or fields}
    if len(tried) == 1:  # the others stay numbers: rules that do not ask for it take no time
        alone = {name: np.float64(value) for name, value in own.items()}
        return {name: v[sound(loose_batch(cls, alone | {name: v}))] for name, v in tried.items()}
    ends = np.cumsum([0, *map(len, tried.values())])
    columns = {name: np.full(ends[-1], float(value)) for name, value in own.items()}
    pieces = {name: slice(ends[k], ends[k + 1]) for k, name in enumerate(tried)}
    for name, values in tried.items():
        columns[name][pieces[name]] = values
    kept = sound(batch(cls, columns))
    return {name: values[kept[pieces[name]]] for name, values in tried.items()}


def steps(limits: Bounds) -> Array:
    """All values on a field's steps."""
    import numpy as np

    count = round((limits.high - limits.low) / limits.step)
    return (limits.low + np.arange(count + 1) * limits.step).round(DIGITS)
