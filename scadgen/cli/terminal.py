"""What the commands say to a person, and how."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

from scadgen.text.quoting import visible

if TYPE_CHECKING:
    from pathlib import Path

    from rich.console import Console

    from scadgen.findings.finding import Verdict

#: Exit status: proven, a model passed, or done; not proven or differing; bad input; interrupted.
PROVEN, NOT_PROVEN, BAD_INPUT, INTERRUPTED = 0, 1, 2, 130
_STYLES = {"good": "green", "near": "yellow", "bad": "red", "": None}


@contextmanager
def progress(
    options: argparse.Namespace, first: str = "proving"
) -> Iterator[Callable[[str], None] | None]:
    """Where to say what is going on: a line that a person sees, or nowhere."""
    if options.quiet or not sys.stderr.isatty():
        yield None
    else:
        with console(options, stderr=True).status(first) as status:
            yield status.update


def console(options: argparse.Namespace, *, stderr: bool = False) -> Console:
    """Where to print in colours, if they are wanted."""
    from rich.console import Console

    no_color = True if options.no_color else None  # None: as the environment says
    return Console(
        stderr=stderr,
        no_color=no_color,
        highlight=False,
        markup=False,
        emoji=False,
        soft_wrap=True,
    )


def tell(options: argparse.Namespace, written: Sequence[Path]) -> None:
    """Name the files that were written."""
    if not options.quiet:
        for path in written:
            print(f"wrote {visible(str(path))}")


def refuse_to_replace(path: Path | None, remedy: str = "") -> None:
    """Raise JobError if something is at ``path``; ``remedy``: what else a person can do."""
    from scadgen.tables.documents import JobError

    if path is not None and path.exists():
        raise JobError(f"{path}: exists already; name another file{remedy}.")


def write_one(options: argparse.Namespace, text: str) -> None:
    """Write ``text`` to ``options.out``, and say so."""
    from scadgen.keeping.files import write_all

    tell(options, write_all(options.out.parent, {options.out.name: text.encode()}))


def tell_differences(options: argparse.Namespace, differences: Sequence[str]) -> int:
    """Name what differs from what would be written into ``options.out``; the exit status."""
    for difference in differences:
        print(difference)
    if not differences and not options.quiet:
        print(f"{options.out}: as scadgen writes it")
    return NOT_PROVEN if differences else PROVEN


def print_verdict(out: Console, verdict: Verdict, *, failures_only: bool = False) -> None:
    """The verdict as a page."""
    from scadgen.findings.page import page

    for line in page(verdict, failures_only=failures_only):
        out.print(line.text, style=_STYLES[line.mood])
