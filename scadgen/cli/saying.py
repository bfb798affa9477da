"""Words for a person: units set, lines broken between words, colour where it is wanted.

On a terminal a line ends at its width, never inside a word; elsewhere each line stays whole, so
that programs find it. Colour never says what the words beside it don't.
"""

from __future__ import annotations

import argparse
import os
import re
import shutil
import sys
import textwrap
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, TextIO

from scadgen.text.quoting import visible
from scadgen.text.typeset import LETTERS, NO_BREAK, encoded, held, message, typeset

if TYPE_CHECKING:
    from rich.console import Console

_STYLES = {"good": "green", "near": "yellow", "bad": "bold red", "head": "bold"}
#: Marks stand in so many letters before a finding's name.
MARK = 5
#: Where a column begins; its words hang below it if that is within this share of the width.
_COLUMN, WIDEST = re.compile(r"(?<=\S) {2,}(?=\S)"), 0.6
#: A terminal that tells no width has so many letters in a line.
_USUAL = (80, 24)


def say(
    options: argparse.Namespace,
    text: str,
    mood: str = "",
    *,
    error: bool = False,
    hanging: int | None = None,
) -> None:
    """Print a line of the project's own words, to stderr if it is an ``error``.

    mood: "good", "near", "bad", "head" or "", for its colour. hanging: letters before what follows
    its first line; None for as many as ``lines`` takes.
    """
    stream = sys.stderr if error else sys.stdout
    set_ = encoded(typeset(text), stream.encoding, text)
    for line in lines(set_, width_of(stream), hanging):
        if mood and colours(options, stream):
            console(options, stderr=error).print(line, style=_STYLES[mood])
        else:
            print(line, file=stream)


def console(options: argparse.Namespace, *, stderr: bool = False) -> Console:
    """Where to print in colours, if they are wanted."""
    from rich.console import Console

    class Piped(Console):
        def on_broken_pipe(self) -> None:
            raise  # what is being handled; rich itself would end the program with status 1

    no_color = True if options.no_color else None  # None: as the environment says
    return Piped(
        stderr=stderr,
        no_color=no_color,
        highlight=False,
        markup=False,
        emoji=False,
        soft_wrap=True,
    )


def say_all(options: argparse.Namespace, texts: Iterable[str]) -> None:
    """Print lines."""
    for text in texts:
        say(options, text)


def complain(text: str) -> None:
    """Print what went wrong, after the command's name, to stderr."""
    whole = visible(f"scadgen: {text}")
    name, told = whole[: len("scadgen: ")], whole[len("scadgen: ") :]
    set_ = encoded(name + message(told), sys.stderr.encoding, whole)
    for line in lines(set_, width_of(sys.stderr)):
        print(line, file=sys.stderr)


def colours(options: argparse.Namespace, stream: TextIO) -> bool:
    """Whether a stream takes colours: a terminal does, unless somebody said no."""
    unwanted = options.no_color or os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
    return not unwanted and stream.isatty()


def form_of(stream: TextIO) -> Callable[[str], str]:
    """What sets units for a stream: ``typeset``, or nothing where it cannot write them."""
    whole = "".join(LETTERS)
    return typeset if encoded(whole, stream.encoding, "") else str


def width_of(stream: TextIO) -> int | None:
    """Letters in a line of a terminal (COLUMNS, or its own); None for what is no terminal."""
    return shutil.get_terminal_size(_USUAL).columns if stream.isatty() else None


def lines(text: str, width: int | None, hanging: int | None = None) -> list[str]:
    """A line as several of at most ``width`` letters, or wider where a word is.

    What follows the first hangs below its last column, below the words after its mark, or a bit
    further in than it begins.
    """
    if width is None or len(text) <= width:
        return [text]
    start = len(text) - len(text.lstrip())
    marked = text[:MARK].strip() in ("ok", "near", "FAIL")
    if hanging is None:
        columns = [found.end() for found in _COLUMN.finditer(text)]
        last = columns[-1] if columns and columns[-1] < WIDEST * width else start + 2
        hanging = MARK if marked else last
    broken = textwrap.wrap(
        held(text),
        width,
        subsequent_indent=" " * hanging,
        break_long_words=False,
        break_on_hyphens=False,
        replace_whitespace=False,
        drop_whitespace=True,
    )
    return [line.replace(NO_BREAK, " ") for line in broken]
