"""Free text in Markdown, where it means only itself."""

from __future__ import annotations

import re

from scadgen.quoting import plain

#: What Markdown gives a meaning: anywhere in a line, or where it begins.
_MARKS = re.compile(r"[\\`*_\[\]<>|~&#!]|^[-+=]")
_LIST = re.compile(r"^(\d+)([.)])(?= |$)")


def markdown_text(text: str) -> str:
    """``text`` on one line of Markdown, a table's cell included, with no mark left to act."""
    return _LIST.sub(r"\1\\\2", _MARKS.sub(r"\\\g<0>", plain(text)))
