"""What a printed line is for, by the words that slicing programs put beside it.

The words are those in files of PrusaSlicer 2.5, Slic3r 1.3 and CuraEngine 4.13; those of other
programs from memory. A word that nobody knows makes a line of unknown use, which counts as part of
the print.
"""

from __future__ import annotations

from enum import IntEnum
from functools import cache


class Role(IntEnum):
    """What a line is for. ``BESIDE``: skirt, brim, purging; it is no part of the print."""

    UNKNOWN = 0
    OUTER = 1
    WALL = 2
    INFILL = 3
    SOLID = 4
    BRIDGE = 5
    GAP = 6
    SUPPORT = 7
    BESIDE = 8

    @property
    def words(self) -> str:
        """As people call it."""
        return _TITLES[self]


_TITLES = {
    Role.UNKNOWN: "line",
    Role.OUTER: "outer wall",
    Role.WALL: "wall",
    Role.INFILL: "infill",
    Role.SOLID: "solid fill",
    Role.BRIDGE: "bridge",
    Role.GAP: "gap fill",
    Role.SUPPORT: "support",
    Role.BESIDE: "skirt, brim or purge",
}
#: Roles of lines that go around; others lie between them.
WALLS = (Role.OUTER, Role.WALL)
#: Roles of lines that are no part of the print.
NOT_PRINT = (Role.SUPPORT, Role.BESIDE)
#: By what a word holds, in the order in which it is looked for.
_HOLDS = (
    ("support", Role.SUPPORT),
    ("skirt", Role.BESIDE),
    ("brim", Role.BESIDE),
    ("purge", Role.BESIDE),
    ("prime", Role.BESIDE),
    ("tower", Role.BESIDE),
    ("custom", Role.BESIDE),
    ("bridge", Role.BRIDGE),
    ("gap", Role.GAP),
    ("external", Role.OUTER),
    ("outer", Role.OUTER),
    ("perimeter", Role.WALL),
    ("wall", Role.WALL),
    ("skin", Role.SOLID),
    ("solid", Role.SOLID),
    ("surface", Role.SOLID),
    ("fill", Role.INFILL),
)


@cache
def role_of(word: str) -> Role:
    """The role that a comment names, as "WALL-OUTER" or "Internal infill"."""
    lower = word.lower()
    return next((role for part, role in _HOLDS if part in lower), Role.UNKNOWN)
