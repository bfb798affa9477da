"""The project's own colours, for light and for dark surroundings.

Indigo and honey differ in hue and in lightness, so that the two bodies stay apart for readers
who see no red, no green or no blue, and in print without colour.
"""

from __future__ import annotations

LIGHT = {
    "background": "#f7f6f2",  # behind pictures, drawings and the page
    "surface": "#ffffff",  # cards, and the paper of drawings
    "line": "#d8d6cc",  # borders and rules
    "ink": "#23263a",  # text, and the edges of bodies
    "muted": "#5d6077",  # text that may stand back
    "accent": "#a3305a",  # links, centre lines, what is picked out
    "fixed": "#4c5fa8",  # fixed side, or a hinge of one piece
    "moving": "#eda63c",  # moving side
    "fixed_cut": "#bcc7ee",  # where the fixed side is cut through
    "moving_cut": "#fce0a8",  # where the moving side is cut through
}
DARK = {
    "background": "#171926",
    "surface": "#212436",
    "line": "#3d415a",
    "ink": "#eceaf2",
    "muted": "#a9adc6",
    "accent": "#f28bb0",
    "fixed": "#8798e2",
    "moving": "#f0b152",
    "fixed_cut": "#c9d2f5",
    "moving_cut": "#fde6b9",
}


def rgb(colour: str) -> tuple[float, float, float]:
    """Red, green and blue of a '#rrggbb' colour, each 0 to 1."""
    red, green, blue = bytes.fromhex(colour.removeprefix("#"))
    return red / 255, green / 255, blue / 255
