"""The command ``scadgen``: it runs the command that is asked for and ends with its status.

Exit status: 0 proven (or done, or a model passed), 1 not proven (or the library differs), 2 bad
input (130 interrupted, 141 where nobody reads the output).
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from typing import cast

from scadgen.cli.arguments import Parser, joined
from scadgen.cli.commands import all_commands, all_names
from scadgen.cli.ending import complain, ended, print_any_sign
from scadgen.cli.terminal import BAD_INPUT, INTERRUPTED
from scadgen.version import VERSION

#: What is said where memory ends.
TOO_MUCH = "more memory is needed than there is, or is allowed"


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command with ``argv`` (default: the process's own) and return its exit status.

    A command that reads what strangers may have written is not kept apart here: ``command`` does
    that, for the process of its own that a shell starts.
    """
    options = _options(argv)
    return _answered(lambda: cast(int, options.run(options)))


def command() -> int:
    """What the shell's ``scadgen`` does: ``main``, and bounds for what strangers have written."""
    from scadgen.cli.apart import hear_ends

    hear_ends()
    print_any_sign()
    return ended(partial(_answered, _bounded))


def _bounded() -> int:
    from scadgen.cli.namesake import refuse_namesake

    options = _options(None)
    refuse_namesake(os.path.dirname(os.path.dirname(__file__)))  # noqa: PTH120 - pathlib is slow
    work = partial(options.run, options)
    if options.bounds is None:
        return cast(int, work())
    from scadgen.cli.apart import apart
    from scadgen.cli.bounding import named, remedy

    bounds, name, less = options.bounds(options), named(options), remedy(options)
    within = partial(_within, work, f"{name}: {TOO_MUCH}: {bounds.room:g} GB. {less}")
    return apart(partial(ended, partial(_answered, within)), name, bounds, less)


def _within(work: Callable[[], int], too_much: str) -> int:
    """The exit status of ``work``. Raises JobError where it has not the memory that it needs."""
    from scadgen.tables.documents import JobError

    try:
        return work()
    except MemoryError:
        raise JobError(f"{too_much}, or allow more with --memory; nothing was changed.") from None


def _options(argv: Sequence[str] | None) -> argparse.Namespace:
    given = sys.argv[1:] if argv is None else list(argv)
    return parser(_needed(given)).parse_args(joined(given))


def _answered(work: Callable[[], int]) -> int:
    """The exit status of ``work``; what went wrong is said in a sentence."""
    from scadgen.tables.documents import JobError

    try:
        return work()
    except BrokenPipeError:
        raise
    except JobError as error:
        complain(str(error))
        return BAD_INPUT
    except OSError as error:
        complain(_refused(error))
        return BAD_INPUT
    except MemoryError:
        complain(f"{TOO_MUCH}; nothing was changed.")
        return BAD_INPUT
    except KeyboardInterrupt:
        complain("interrupted; nothing was changed.")
        return INTERRUPTED


def _refused(error: OSError) -> str:
    """What the system refused, and of which file, without the number of its error."""
    if error.filename is None or error.strerror is None:
        return str(error)
    return f"{error.filename}: {error.strerror}."


def _needed(given: Sequence[str]) -> list[str] | None:
    """The commands without which these arguments cannot be read; None for all of them.

    The others' files stay unread: that is most of a short command's time.
    """
    if given == ["--version"]:
        return []
    return [given[0]] if given and given[0] in all_names() else None


def parser(names: Iterable[str] | None = None) -> Parser:
    """The parser of the whole command line, or of the commands with the names only."""
    whole = Parser(
        prog="scadgen",
        description="Typed descriptions of 3D-printed hinges, turned into proven OpenSCAD modules.",
        epilog="Exit status: 0 proven, 1 not proven, 2 bad input.",
    )
    whole.add_argument("--version", action="version", version=f"scadgen {VERSION}")
    _add_common(whole, False)
    commands = whole.add_subparsers(required=True, metavar="COMMAND")
    whole.commands = commands.choices
    for name, command in all_commands(names):
        what = command.WHAT
        one = commands.add_parser(name, help=what, description=f"{what[0].upper()}{what[1:]}.")
        one.set_defaults(run=command.run, bounds=getattr(command, "bounds", None))
        _add_common(one, argparse.SUPPRESS)
        command.arguments(one)
    return whole


def _add_common(parser: argparse.ArgumentParser, default: bool | str) -> None:
    """Flags that may stand before or after the command."""
    add = parser.add_argument
    add("--quiet", action="store_true", default=default, help="print nothing but what is wrong")
    add("--no-color", action="store_true", default=default, help="print without colours")
