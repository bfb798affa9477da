"""The lines of one layer, as arrays."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING, Any, NamedTuple

from scadgen.toolpaths.roles import NOT_PRINT, Role

if TYPE_CHECKING:
    import numpy

    Array = numpy.ndarray[Any, Any]

#: Lines of one height are of the layer if they are so much of its length.
SOME = 0.05
#: What is told of each line.
COLUMNS = ("start", "end", "width", "height", "role", "path", "source")


class Sent(NamedTuple):
    """Of lines of one use whose widths comments tell: plastic sent, and what they take, mm3.

    Nothing is sent where nobody tells how thick the filament is.
    """

    role: Role
    sent: float
    takes: float


class Stood(NamedTuple):
    """Plastic (mm3) that is pushed out while the nozzle stands. source: line of the file."""

    x: float
    y: float
    volume: float
    source: int


@dataclass(frozen=True, eq=False)
class Laid:
    """All lines that are laid with the nozzle at one height ``z`` (mm), in their order.

    start, end: (n, 2), mm. width, height: (n), mm; the line reaches from z - height to z.
    role: (n), numbers of ``Role``. path: (n), the unbroken run that a line belongs to.
    source: (n), its line in the file, counted from 1. sent, stood: see there.
    """

    z: float
    start: Array
    end: Array
    width: Array
    height: Array
    role: Array
    path: Array
    source: Array
    sent: tuple[Sent, ...] = ()
    stood: tuple[Stood, ...] = ()

    def only(self, which: Array) -> Laid:
        """Some of the lines, by a mask or by places."""
        return replace(self, **{name: getattr(self, name)[which] for name in COLUMNS})

    @property
    def printed(self) -> Laid:
        """What is part of the print: no supports, skirts, brims."""
        # Not kept: lines that know themselves are in memory until it is full.
        import numpy as np

        beside = np.isin(self.role, NOT_PRINT)
        return self.only(~beside) if beside.any() else self

    @property
    def carrying(self) -> Laid:
        """What can carry the next layer: all but what stands beside the print."""
        return self.only(self.role != Role.BESIDE)

    @cached_property
    def lengths(self) -> Array:
        """Length of each line, mm."""
        import numpy as np

        lengths: Array = np.hypot(*(self.end - self.start).T)
        return lengths

    @cached_property
    def usual_height(self) -> float:
        """The height of the layer, mm: the least that lines of it have; thick bridges have more."""
        import numpy as np

        heights, which = np.unique(np.round(self.height, 3), return_inverse=True)
        lengths = np.bincount(which, self.lengths)
        return float(heights[lengths >= SOME * lengths.sum()].min())
