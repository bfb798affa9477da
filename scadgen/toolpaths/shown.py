"""What the lines themselves show of the settings: heights, widths, walls, and what is beside."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

from scadgen.toolpaths.lines import Laid, Stood
from scadgen.toolpaths.roles import Role

#: Heights and widths are counted by so much, mm.
STEP = 0.01
#: More steps than any line is wide.
MOST = 1 << 20
#: Lines of one use in a layer that take less than this, mm3, are too few to be held against what is
#: sent; so much that is pushed out on one spot is a drop.
FEW = 1.0


@dataclass(eq=False)
class Shown:
    """Lengths (mm) by height of layer, and by role and width of line.

    first: height of the first layer, mm. low: of its underside, mm; carried:
    by what is no part of the print. layers: how many there are.
    top: mm. sent: plastic that lines are sent, and what they take as they are told, mm3. worst: the
    use of lines in a layer of which that differs most, with the layer's height. drops: what is
    pushed out on one spot, with heights.
    """

    first: float = 0.0
    low: float = 0.0
    carried: bool = False
    layers: int = 0
    top: float = 0.0
    sent: tuple[float, float] = (0.0, 0.0)
    worst: tuple[float, Role, float] | None = None
    drops: list[tuple[float, Stood]] = field(default_factory=list)
    heights: dict[int, float] = field(default_factory=lambda: defaultdict(float))
    widths: dict[tuple[Role, int], float] = field(default_factory=lambda: defaultdict(float))

    def add(self, laid: Laid) -> None:
        """Count a layer."""
        import numpy as np

        lengths = laid.lengths
        if not len(laid.printed.width):
            self.carried |= not self.layers and bool(len(laid.carrying.width))
            return
        if not self.layers:
            self.first = laid.printed.usual_height
            self.low = laid.z - self.first
        else:
            self.heights[round(laid.printed.usual_height / STEP)] += float(lengths.sum())
        self.layers, self.top = self.layers + 1, laid.z
        self._add_sent(laid)
        steps = np.round(laid.width / STEP).astype(int)
        keys, which = np.unique(laid.role * MOST + steps, return_inverse=True)
        sums = np.bincount(which, lengths)
        for key, length in zip(keys.tolist(), sums.tolist(), strict=True):
            role, step = divmod(key, MOST)
            self.widths[Role(role), step] += length

    def _add_sent(self, laid: Laid) -> None:
        for one in laid.sent:
            self.sent = self.sent[0] + one.sent, self.sent[1] + one.takes
            if one.sent and one.takes > FEW:
                share = one.sent / one.takes
                if self.worst is None or abs(share - 1) > abs(self.worst[2] - 1):
                    self.worst = laid.z, one.role, share
        self.drops += [(laid.z, one) for one in laid.stood if one.volume > FEW]

    @property
    def layer_heights(self) -> list[float]:
        """Heights of layers above the first, mm."""
        return sorted(round(step * STEP, 3) for step in self.heights)

    def width(self, *roles: Role) -> float | None:
        """The width of most lines of some roles, mm; None without any."""
        found: dict[int, float] = defaultdict(float)
        for (role, step), length in self.widths.items():
            if role in roles:
                found[step] += length
        return max(found, key=lambda step: found[step]) * STEP if found else None

    @property
    def wall_width(self) -> float | None:
        """The width of most lines of walls, or else of all lines, mm."""
        wall = self.width(Role.OUTER, Role.WALL)
        return self.width(*Role) if wall is None else wall

    def length(self, role: Role) -> float:
        """Of all lines of a role, mm."""
        return sum(length for (one, _), length in self.widths.items() if one is role)
