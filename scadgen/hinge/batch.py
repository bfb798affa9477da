"""Many hinges of one family at once: the same definitions, read on arrays."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, TypeVar

from scadgen.hinge.automatic import resolved
from scadgen.hinge.family import Hinge, bounds, definition

if TYPE_CHECKING:
    import numpy

H = TypeVar("H", bound=Hinge)


def batch(cls: type[H], values: Mapping[str, Any]) -> H:
    """Hinges with ``values``, arrays of one length by field; other fields have their defaults.

    Where an automatic field is given as 0 it is what that stands for. Reads like a hinge whose
    fields and derived values are arrays. Nothing is validated: ask :func:`sound` which of them
    keep the rules. Raises KeyError for a name that is no field.
    """
    import numpy as np

    fields = bounds(cls)
    unknown = set(values) - set(fields)
    if unknown:
        raise KeyError(f"{cls.family} has no {', '.join(sorted(unknown))}")
    count = max((np.size(column) for column in values.values()), default=1)
    columns = {
        name: _wide(np.asarray(values.get(name, limits.default), float), count)
        for name, limits in fields.items()
    }
    return loose_batch(cls, columns)


def _wide(column: numpy.ndarray[Any, Any], count: int) -> numpy.ndarray[Any, Any]:
    """The column with so many entries, a single number without copies of it.

    ``broadcast_to`` does the same, but takes long to find what there is to do.
    """
    import numpy as np

    if column.shape == (count,):
        return column
    if column.shape:
        return np.broadcast_to(column, count)
    wide = np.ndarray((count,), column.dtype, column, strides=(0,))
    wide.flags.writeable = False
    return wide


def loose_batch(cls: type[H], columns: Mapping[str, Any]) -> H:
    """Hinges with columns for all fields, arrays or numbers that need only broadcast together.

    What depends on few of them is worked out for as few values.
    """
    from scadgen.trees.to_numpy import Numbers

    columns = resolved(definition(cls), columns)
    hinges = object.__new__(cls)
    vars(hinges).update(columns, _numbers=Numbers(columns))
    return hinges


def sound(hinges: Hinge) -> numpy.ndarray[Any, Any]:
    """Which hinges of a batch keep every bound and every rule of their family."""
    import numpy as np

    family, numbers = definition(type(hinges)), vars(hinges)["_numbers"]
    shapes = (np.shape(numbers.symbols[name]) for name in family.bounds)
    every = np.ones(np.broadcast_shapes(*shapes), bool)
    with np.errstate(all="ignore"):
        numbers.know(family.kept(numbers.symbols, every))
    for name, limits in family.bounds.items():
        column = np.asarray(numbers.symbols[name])
        column = column[:1] if column.strides == (0,) else column  # one number is asked once
        every &= (column >= limits.low) & (column <= limits.high)
        if limits.whole:
            every &= column % limits.step == 0
    return every


def picked(hinges: H, places: numpy.ndarray[Any, Any]) -> H:
    """Some hinges of a batch, by their places, in that order."""
    import numpy as np

    count, symbols = int(np.size(hinges.clearance)), vars(hinges)["_numbers"].symbols
    columns = {name: _wide(np.asarray(symbols[name]), count) for name in bounds(type(hinges))}
    few = {name: _taken(column, places) for name, column in columns.items()}
    return loose_batch(type(hinges), few)


def _taken(
    column: numpy.ndarray[Any, Any], places: numpy.ndarray[Any, Any]
) -> numpy.ndarray[Any, Any]:
    same = column.strides == (0,) and len(places) > 0
    return _wide(column[:1].reshape(()), len(places)) if same else column[places]
