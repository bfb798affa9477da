"""How a command ends whose output goes nowhere: a pipe that nobody reads, a disk that is full.

What was printed may still be waiting as a command ends. So it is brought out here: a status of 0
may never stand for a verdict that was not told.
"""

from __future__ import annotations

import io
import os
import signal
import sys
from collections.abc import Callable
from contextlib import suppress

from scadgen.cli import saying
from scadgen.cli.terminal import BAD_INPUT

#: What a shell adds to the number of a signal that ended a program.
SIGNALLED = 128
#: How a program ends that writes to a pipe which nobody reads (13: its number on Linux and macOS).
UNREAD = SIGNALLED + getattr(signal, "SIGPIPE", 13)


def ended(work: Callable[[], int]) -> int:
    """The exit status of ``work`` when all that it printed is out, or why it cannot be."""
    status = BAD_INPUT
    try:
        status = _status(work)
        if sys.stdout is not None:
            sys.stdout.flush()
    except BrokenPipeError:  # whoever reads the output has seen enough
        _print_nowhere()
        return UNREAD
    except OSError as error:
        _print_nowhere()
        if status != BAD_INPUT:  # or that has been told
            complain(f"the output cannot be written: {error.strerror or error}.")
        return BAD_INPUT
    return status


def _status(work: Callable[[], int]) -> int:
    try:
        return work()
    except SystemExit as end:  # of a parser that has told its help, or by a signal
        return end.code if isinstance(end.code, int) else 0


def complain(words: str) -> None:
    """Tell what is wrong, if anyone listens; the exit status tells it in any case."""
    with suppress(OSError):
        saying.complain(words)


def print_any_sign() -> None:
    """Print signs that the encoding of the output lacks by their numbers, rather than break."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _print_nowhere() -> None:
    """What still waits to be printed goes where nobody sees it, so that Python can end."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
