"""What the commands that write over files ask and tell about edits."""

from __future__ import annotations

import argparse
from collections.abc import Collection, Mapping
from typing import TYPE_CHECKING

from scadgen.cli.saying import complain
from scadgen.cli.terminal import tell
from scadgen.text.quoting import visible

if TYPE_CHECKING:
    from scadgen.keeping.edits import Kept, Written


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """The arguments of a command that may find edited files."""
    add = parser.add_argument
    add(
        "--accept",
        metavar="NAME",
        action="append",
        default=[],
        help="replace this file although it was edited (may be repeated)",
    )
    add("--force", action="store_true", help="replace every file; edited ones are kept beside it")
    add(
        "--keep-values",
        action="store_true",
        help="carry values set in an edited file's Customizer section over into the new text",
    )


def accepted(options: argparse.Namespace, names: Collection[str]) -> Collection[str]:
    """The files to replace even if they were edited. Raises JobError for an unknown one."""
    from scadgen.tables.documents import JobError

    for name in options.accept:
        if name not in names:
            words = f"it must be one of {', '.join(names)}"
            raise JobError(f"--accept {name}: not written; {words}. Nothing was changed.")
    return names if options.force else options.accept


def write(options: argparse.Namespace, files: Mapping[str, bytes]) -> Written:
    """Write the files into ``options.out`` as the arguments say; ``tell_written`` tells of it."""
    from scadgen.keeping.edits import ValueNotKept, write_keeping
    from scadgen.tables.documents import JobError

    accept = accepted(options, files)
    try:
        return write_keeping(options.out, files, accept=accept, keep_values=options.keep_values)
    except ValueNotKept as error:
        raise JobError(str(error)) from None


def tell_written(options: argparse.Namespace, done: Written) -> None:
    """Name what was written, and what stayed."""
    tell(options, done.paths)
    for kept in done.kept:
        _tell_kept(options, kept)
    for one in done.replaced:
        path, backup = visible(str(one.path)), visible(str(one.backup))
        complain(f"replaced {path}; what was there is {backup}.")


def _tell_kept(options: argparse.Namespace, kept: Kept) -> None:
    """That a file stayed, on stderr even if quiet where a newer one waits; then the difference."""
    why = "edited since it was written" if kept.ours else "not written by scadgen"
    path, beside = visible(str(kept.path)), visible(str(kept.beside))
    if kept.beside is None:
        if not options.quiet:
            print(f"kept {path}: {why}; there is nothing new to put into it")
        return
    if not options.quiet:
        print(kept.difference, end="")
    if kept.follows:
        kept_ = "kept" if kept.path.exists() else "did not write"
        told = f"{kept_} {path}: it goes with {kept.follows}, which stays; the new one is {beside}."
        complain(told)
        return
    complain(f"kept {path}: {why}; the new one is {beside}.")
    remedy = f"To take the new one: rename it, or add --accept {kept.path.name} to the command."
    complain(remedy)
