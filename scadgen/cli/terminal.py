"""What the commands say to a person, and how."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

from scadgen.cli.saying import console, form_of, say, width_of
from scadgen.text.quoting import visible

if TYPE_CHECKING:
    from pathlib import Path

    from rich.console import Console
    from rich.progress import Progress

    from scadgen.findings.finding import Verdict

#: Exit status: proven, a model passed, or done; not proven or differing; bad input; interrupted.
PROVEN, NOT_PROVEN, BAD_INPUT, INTERRUPTED = 0, 1, 2, 130


@contextmanager
def progress(
    options: argparse.Namespace, first: str = "proving"
) -> Iterator[Callable[[str], None] | None]:
    """Where to say what is going on: a line that a person sees, with the time, or nowhere."""
    if options.quiet or not sys.stderr.isatty():
        yield None
    else:
        with _line(console(options, stderr=True)) as shown:
            task = shown.add_task(first)
            yield lambda words: shown.update(task, description=words)


def _line(out: Console) -> Progress:
    """A line that goes when all is done: what turns, words, seconds."""
    from rich.progress import Progress, SpinnerColumn, TextColumn, TimeElapsedColumn

    words = TextColumn("{task.description}", markup=False)
    return Progress(SpinnerColumn(), words, TimeElapsedColumn(), console=out, transient=True)


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
    tell(options, write_each({options.out: text.encode()}))


def write_each(files: Mapping[Path, bytes]) -> list[Path]:
    """Write files that lie in folders of their own."""
    from scadgen.keeping.files import write_all

    return [path for at, data in files.items() for path in write_all(at.parent, {at.name: data})]


def tell_differences(options: argparse.Namespace, differences: Sequence[str]) -> int:
    """Name what differs from what would be written into ``options.out``; the exit status."""
    for difference in differences:
        print(difference)
    if not differences and not options.quiet:
        print(f"{options.out}: as scadgen writes it")
    return NOT_PROVEN if differences else PROVEN


def add_words(parser: argparse.ArgumentParser) -> None:
    """The option that asks for sentences."""
    help_ = "on a terminal, too, tell what passed in sentences, not in a table"
    parser.add_argument("--words", action="store_true", help=help_)


def print_verdict(
    options: argparse.Namespace,
    verdict: Verdict,
    *,
    failures_only: bool = False,
    error: bool = False,
) -> None:
    """The verdict as a page, to stderr if ``error``; a person at a terminal has it as a table."""
    from scadgen.findings.page import page
    from scadgen.findings.table import table

    stream = sys.stderr if error else sys.stdout
    width = width_of(stream)
    told = page(verdict, failures_only=failures_only)
    if width is not None and not failures_only and not getattr(options, "words", False):
        told = table(verdict, width, form_of(stream))
    for line in told:
        say(options, line.text, line.mood, error=error)
