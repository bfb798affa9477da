"""Text from people inside other languages: the one place for each where it is quoted.

Titles, notes and names are data wherever they land. HTML is quoted by Jinja2's autoescape, JSON by
``json.dumps``; all else here.
"""

from __future__ import annotations

import re

#: Longest value that a message repeats, in characters.
SHOWN = 200

#: What Markdown gives a meaning: anywhere in a line, or where it begins (headings, lists, rules).
_MARKS = re.compile(r"[\\`*_\[\]<>|~&#!]|^[-+=]")
_LIST = re.compile(r"^(\d+)([.)])(?= |$)")
_SCAD = str.maketrans({"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"})


def plain(text: str) -> str:
    """Free text on one line of printable characters: for comments and for reports.

    Nothing in it ends a ``//`` comment: line breaks, control and bidi characters, byte order marks
    and lone surrogates are spaces.
    """
    return " ".join(_printable(text).split())


def scad_string(text: str) -> str:
    """``text`` as a string literal of OpenSCAD, on one line."""
    return f'"{_printable(text.translate(_SCAD))}"'


def xml(text: str) -> str:
    """``text`` between tags of XML, SVG included."""
    from xml.sax.saxutils import escape

    return escape(_printable(text))


def xml_attribute(text: str) -> str:
    """``text`` as an attribute's value, in its quotes."""
    from xml.sax.saxutils import quoteattr

    return quoteattr(_printable(text))


def markdown(text: str) -> str:
    """``text`` on one line of Markdown, a table's cell included, where it means only itself."""
    return _LIST.sub(r"\1\\\2", _MARKS.sub(r"\\\g<0>", plain(text)))


def toml_string(text: str) -> str:
    """``text`` as a string of TOML, on one line."""
    import json

    return json.dumps(_printable(text), ensure_ascii=False)


def toml(value: object) -> str:
    """A value about as it stands in a job, on one line and never long."""
    import json

    return shortened(json.dumps(value, default=str))


def toml_key(key: str) -> str:
    """A key as TOML writes it: in quotes unless it is a plain word."""
    import json

    return shortened(key if re.fullmatch(r"[A-Za-z0-9_-]+", key) else json.dumps(key))


def shortened(text: str) -> str:
    """``text``, or its beginning if it is too long for a message."""
    return text if len(text) <= SHOWN else f"{text[:SHOWN]}... ({len(text)} characters)"


def visible(text: str) -> str:
    """``text`` for a terminal: what would steer it, or turn it round, is spelt as an escape."""
    return "".join(
        c if c.isprintable() or c == "\t" else c.encode("unicode_escape").decode() for c in text
    )


def _printable(text: str) -> str:
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else " " for c in text)
