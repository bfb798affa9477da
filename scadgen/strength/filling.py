"""Sections as they print: walls of solid plastic, and infill between them.

A slicer lays so many walls around each outline, covers tops and bottoms as thick (assumed), and
fills what is between sparsely. Infill counts by its share of the volume, stress in it by the same
share: a rule of mixtures, which flatters no pattern by much where walls bear most (assumed).
Lengths in mm.

Source: derived from the moments of a section less those of its core.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from scadgen.strength.anyform import Value, maximum

How = Literal["bent", "pulled"]
#: A side so long (mm) that walls at its ends are nothing beside it.
WIDE = 1e6


@dataclass(frozen=True)
class Filling:
    """How solid a part prints. walls: around each outline; infill: share of the rest, 0 to 1.

    line: width of a line of a wall, mm.
    """

    walls: int
    infill: float
    line: float

    @property
    def shell(self) -> float:
        """Thickness of solid plastic around a section, mm."""
        return self.walls * self.line

    @property
    def words(self) -> str:
        """As a slicer's settings."""
        if self.infill >= 1:
            return "solid"
        walls = "1 wall" if self.walls == 1 else f"{self.walls} walls"
        return f"{walls} and {100 * self.infill:.0f} % infill"


@dataclass(frozen=True)
class Section:
    """What bears a load: a section with sides along and across the way in which it bends, mm.

    ``how`` it is loaded: "bent", twisting included, or "pulled", shear and pressure included.
    """

    how: How
    along: Any
    across: Any

    def share(self, filling: Filling | None) -> Value:
        """What it bears as it prints, of what it would bear if solid; 0 to 1."""
        if filling is None:
            return 1.0
        along = maximum(self.along - 2 * filling.shell, 0) / self.along
        across = maximum(self.across - 2 * filling.shell, 0) / self.across
        core = along * across
        return 1 - (1 - filling.infill) * (core * along * along if self.how == "bent" else core)


@dataclass(frozen=True)
class Solid:
    """A place that lies within the walls, which are solid."""

    def share(self, filling: Filling | None) -> float:
        """All of it."""
        return 1.0


IN_WALLS = Solid()


def in_bending(along: Value, across: Value = WIDE) -> Section:
    """A section that bends along a side, or twists."""
    return Section("bent", along, across)


def in_tension(side: Value, other: Value = WIDE) -> Section:
    """A section that is pulled, pressed or sheared."""
    return Section("pulled", side, other)


def round_bar(diameter: Value) -> Section:
    """A round section under all of these: the worst of them, pulled."""
    return Section("pulled", diameter, diameter)
