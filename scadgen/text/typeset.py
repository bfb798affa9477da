"""Units as people read them: degree sign, raised digits, sign of times, for deg, mm2, 40 x 30.

Sentences are made once, in ASCII, as OpenSCAD's asserts and JSON need them; whatever shows them to
a person sets them here, and only here.
"""

from __future__ import annotations

import re

#: What follows a unit where it is one: no letter, and no ending of a file's name.
_END = r"(?![\w/\\]|[.-]\w)"
_POWERS = str.maketrans("23", "²³")
_SIDES = r"\d+(?:\.\d+)?"
_FORMS = (
    (re.compile(rf"\bdeg C{_END}"), "°C"),
    (re.compile(rf"(?<=\d) deg{_END}"), "°"),
    (re.compile(rf"(?<![\w.-])deg{_END}"), "°"),
)
_POWER = re.compile(rf"(?<![\w.-])((?:k|c|m)?m|s)([23]){_END}")
#: Sides of a box: 40 x 30 x 20 mm.
_BOX = re.compile(rf"(?<![\w.]){_SIDES}(?: x {_SIDES})+ mm{_END}")
#: Between a number and its unit a line does not break.
_HELD = re.compile(rf"(?<=\d) (?=(?:[kmc]?m[²³]?|deg|°C|N|N mm|MPa|g|h|s|K|%){_END})")
TIMES = "\N{MULTIPLICATION SIGN}"
#: What it writes beyond ASCII.
LETTERS = ("°", "²", "³", TIMES)
NO_BREAK = "\N{NO-BREAK SPACE}"


def typeset(text: str) -> str:
    """Words with their units as people read them; what holds no unit stays as it is.

    >>> typeset("0 to 110 deg; 12.5 mm2, up to 40 deg C")
    '0 to 110°; 12.5 mm², up to 40 °C'
    >>> typeset("40 x 30 mm") == f"40 {TIMES} 30 mm"
    True
    >>> typeset("lid 90 deg.toml, volume_mm3, 4 x 4 boxes")
    'lid 90 deg.toml, volume_mm3, 4 x 4 boxes'
    """
    for pattern, form in _FORMS:
        text = pattern.sub(form, text)
    text = _POWER.sub(lambda found: found[1] + found[2].translate(_POWERS), text)
    return _BOX.sub(lambda found: found[0].replace(" x ", f" {TIMES} "), text)


def message(text: str) -> str:
    """A message set so, but what stands before its first colon: that may be a file's name."""
    name, colon, words = text.partition(": ")
    return f"{name}{colon}{typeset(words)}"


def unit(name: str) -> str:
    """A unit as it follows a number, with the space before it if it has one.

    >>> unit("mm2"), unit("deg"), unit("")
    (' mm²', '°', '')
    """
    return typeset(f"0 {name}")[1:] if name else ""


def held(text: str) -> str:
    """The text with no place to break a line between a number and its unit."""
    return _HELD.sub(NO_BREAK, text)


def encoded(text: str, encoding: str | None, fallback: str) -> str:
    """The text if the encoding can write it; else ``fallback``, its letters beyond it escaped.

    >>> encoded("90°", "ascii", "90 deg")
    '90 deg'
    """
    encoding = encoding or "utf-8"
    try:
        text.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        return fallback.encode("ascii", "backslashreplace").decode()
    return text
