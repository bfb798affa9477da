"""Commands that a file of toolpaths may not hold, as what they do to the print is not followed.

Marlin, Klipper and RepRapFirmware (names from memory).
"""

from __future__ import annotations

import re

#: Commands that lay curves, or move as another place or system has it.
UNFOLLOWED = (
    *("G5", "G6", "G16", "G51", "G53", "G55", "G56", "G57", "G58", "G59", "G61", "G68"),
    "G90.1",  # arcs whose centres are places, not ways
)
#: Commands that move, lean or scale what is printed next, or change what a unit of E pushes. Before
#: the first line they are how a machine is set up; from then on they part one layer from the other.
SHIFTING = ("M92", "M206", "M218", "M290", "M665", "M666", "M851", "M852")
#: Commands behind which nothing more is printed.
ENDING = ("M2", "M30", "M112", "M524")
#: The same of commands that are words (Klipper).
_WORDS_SHIFT = ("SET_GCODE_OFFSET", "SET_EXTRUDER_ROTATION_DISTANCE", "SET_SKEW", "EXCLUDE_OBJECT")
_WORDS_END = ("CANCEL_PRINT", "CLEAR_PAUSE_AND_CANCEL", "EMERGENCY_STOP")
_WORD = re.compile(rb"\s*([A-Za-z]\w+)(?=[\s;]|$)")

#: A place to which some firmwares go on by the last command.
MODAL = re.compile(rb"\s*[XYZEIJRxyzeijr]\s*[-+.\d]")

CURVES = "curves, and moves in another system, are not followed"
SHIFTS = "what is printed from there on lies elsewhere, or takes more plastic, than is told"


def shifts(command: str, letters: frozenset[str]) -> bool:
    """Whether a command with words of these letters moves or changes what is printed next."""
    if command == "G10":  # or else it draws filament back
        return bool(letters & set("LXYZ"))
    return command in SHIFTING and bool(letters)


def word_of(line: bytes) -> tuple[bool, bool, str]:
    """Of a line without a number: whether it shifts, whether it ends the print, and its word."""
    found = _WORD.match(line)
    word = found[1].decode().upper() if found else ""
    return word in _WORDS_SHIFT, word in _WORDS_END, word
