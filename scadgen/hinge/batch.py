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
    fields and derived values are arrays: of one entry where they are the same in all hinges, so
    that what depends on few fields is worked out for as few values; :func:`count` tells how many
    hinges there are. Nothing is validated: ask :func:`sound` which of them keep the rules. Raises
    KeyError for a name that is no field.
    """
    import numpy as np

    fields = bounds(cls)
    unknown = set(values) - set(fields)
    if unknown:
        raise KeyError(f"{cls.family} has no {', '.join(sorted(unknown))}")
    columns = {
        name: _narrow(np.asarray(values.get(name, limits.default), float))
        for name, limits in fields.items()
    }
    return _counted(cls, columns, max((np.size(column) for column in values.values()), default=1))


def _narrow(column: numpy.ndarray[Any, Any]) -> numpy.ndarray[Any, Any]:
    """The column, or its one entry where it is a single number, told once or as often as wanted."""
    if not column.shape:
        return column.reshape(1)
    return column[:1] if column.strides == (0,) else column


def _counted(cls: type[H], columns: Mapping[str, Any], many: int) -> H:
    hinges = loose_batch(cls, columns)
    vars(hinges)["_count"] = many
    return hinges


def count(hinges: Hinge) -> int:
    """How many hinges a batch has."""
    many: int = vars(hinges)["_count"]
    return many


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
    columns = {name: np.asarray(numbers.symbols[name]) for name in family.bounds}
    shapes = (np.shape(column) for column in columns.values())
    many = vars(hinges).get("_count")
    every = np.ones(np.broadcast_shapes(*shapes) if many is None else many, bool)
    with np.errstate(all="ignore"):
        numbers.know(family.kept(numbers.symbols, every))
    for name, limits in family.bounds.items():
        column = columns[name]
        if column.size == 1:  # one number is asked sooner than an array
            one = column.item()
            if not limits.low <= one <= limits.high or (limits.whole and one % limits.step):
                every[...] = False
            continue
        every &= (column >= limits.low) & (column <= limits.high)
        if limits.whole:
            every &= column % limits.step == 0
    return every


def picked(hinges: H, places: numpy.ndarray[Any, Any]) -> H:
    """Some hinges of a batch, by their places, in that order."""
    many, symbols = count(hinges), vars(hinges)["_numbers"].symbols
    columns = {name: symbols[name] for name in bounds(type(hinges))}
    few = {n: column[places] if len(column) == many else column for n, column in columns.items()}
    return _counted(type(hinges), few, len(places))
