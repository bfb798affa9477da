"""Lines as the areas that they cover: slabs of plastic, each at its height."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from scadgen.toolpaths.lines import Laid

if TYPE_CHECKING:
    import numpy
    from manifold3d import CrossSection

    Array = numpy.ndarray[Any, Any]

#: Facets of the half turn at the end of a line.
HALF = 4
#: How much farther out the corners of a line's end lie than its arc, so that its area is the same.
SWELL = math.sqrt((math.pi / HALF) / math.sin(math.pi / HALF))
#: Facets per turn where areas are made wider.
ROUND = 24
#: Lines that are joined first, as they follow one another: that is quicker than all at once.
TOGETHER = 16
#: Heights of lines are told apart by so much, mm.
STEP = 0.01


@dataclass(frozen=True, eq=False)
class Slab:
    """Plastic from ``bottom`` to ``top`` (mm): all lines of one height that end at one level.

    middle: height at which the layer is cut from the model, mm: a thick bridge reaches below it.
    """

    bottom: float
    top: float
    middle: float
    lines: Laid

    @cached_property
    def area(self) -> CrossSection:
        """What it covers."""
        return covered(self.lines)

    def reaches(self, other: Slab) -> bool:
        """Whether it reaches down to another one below or beside it, in height."""
        return other.top >= self.bottom - STEP and other.bottom < self.top


def covered(lines: Laid) -> CrossSection:
    """The area that lines cover, each with round ends."""
    from manifold3d import CrossSection, FillRule, OpType

    count = len(lines.width)
    shapes = list(capsules(lines.start, lines.end, lines.width / 2)) if count else []
    few = [shapes[k : k + TOGETHER] for k in range(0, count, TOGETHER)]
    parts = [CrossSection(some, FillRule.Positive) for some in few]
    return CrossSection.batch_boolean(parts, OpType.Add) if parts else CrossSection()


def capsules(start: Array, end: Array, radius: Array) -> Array:
    """The outline of each line with its round ends, anticlockwise: (n, corners, 2)."""
    import numpy as np

    along = end - start
    angle = np.arctan2(along[:, 1], along[:, 0])[:, None]
    turn = np.linspace(0, math.pi, HALF + 1)
    angles = np.concatenate([angle - math.pi / 2 + turn, angle + math.pi / 2 + turn], axis=1)
    centres = np.repeat(np.stack([end, start], axis=1), HALF + 1, axis=1)
    swell = np.full(HALF + 1, SWELL)
    swell[[0, -1]] = 1.0
    out = radius[:, None] * np.tile(swell, 2)
    ways = np.stack([np.cos(angles), np.sin(angles)], axis=2)
    shapes: Array = centres + out[:, :, None] * ways
    return shapes


def slabs(lines: Laid) -> Iterator[Slab]:
    """The lines of a layer by their height, the usual one first."""
    import numpy as np

    steps = np.round(lines.height / STEP).astype(int)
    high = lines.usual_height
    usual = round(high / STEP)
    for step in sorted(set(steps.tolist()), key=lambda step: (step != usual, step)):
        some = lines.only(steps == step)
        yield Slab(lines.z - float(np.mean(some.height)), lines.z, lines.z - high / 2, some)


def wider(area: CrossSection, distance: float) -> CrossSection:
    """An area with its outline moved out (mm), round corners; negative moves it in."""
    from manifold3d import JoinType

    return area.offset(distance, JoinType.Round, 2.0, ROUND) if distance else area


def boxes(areas: list[CrossSection]) -> Array:
    """The box around each area: (n, 4), low x and y, high x and y."""
    import numpy as np

    return np.array([area.bounds() for area in areas]).reshape(-1, 4)


def meet(one: Array, others: Array) -> Array:
    """Which boxes meet a box."""
    import numpy as np

    low = (others[:, :2] <= one[2:]).all(axis=1)
    return np.asarray(low & (others[:, 2:] >= one[:2]).all(axis=1))
