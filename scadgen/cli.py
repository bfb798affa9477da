"""The command ``scadgen``: it parses, calls the API and prints.

Exit status: 0 proven (or done), 1 not proven (or the library differs), 2 bad input
(130 interrupted).
"""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, cast

from scadgen.version import VERSION

if TYPE_CHECKING:
    from rich.console import Console

    from scadgen.jobs import Job
    from scadgen.proof.verdict import Verdict

Parser = argparse.ArgumentParser
PROVEN, NOT_PROVEN, BAD_INPUT, INTERRUPTED = 0, 1, 2, 130


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command with ``argv`` (default: the process's own) and return its exit status."""
    options = _parser().parse_args(argv)
    from scadgen.jobs import JobError

    try:
        return cast(int, options.run(options))
    except BrokenPipeError:  # whoever reads the output has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return PROVEN
    except (JobError, OSError) as error:
        print(f"scadgen: {error}", file=sys.stderr)
        return BAD_INPUT
    except KeyboardInterrupt:
        print("scadgen: interrupted; nothing was changed.", file=sys.stderr)
        return INTERRUPTED


def _parser() -> Parser:
    parser = Parser(
        prog="scadgen",
        description="Typed descriptions of 3D-printed hinges, turned into proven OpenSCAD modules.",
        epilog="Exit status: 0 proven, 1 not proven, 2 bad input.",
    )
    parser.add_argument("--version", action="version", version=f"scadgen {VERSION}")
    _add_common(parser, False)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    def add(name: str, run: Callable[[argparse.Namespace], int], what: str) -> Parser:
        command = commands.add_parser(name, help=what, description=f"{what.capitalize()}.")
        command.set_defaults(run=run)
        _add_common(command, argparse.SUPPRESS)
        return command

    command = add("list", _list, "list the families of hinges")
    command.add_argument("--json", action="store_true", help="print JSON")

    command = add("new", _new, "write a commented job with the usual values")
    command.add_argument("family", metavar="FAMILY")
    command.add_argument("--out", metavar="FILE", type=Path, help="default: standard output")

    command = add("check", _check, "prove the hinge of a job on its solids")
    command.add_argument("job", metavar="JOB.toml")
    command.add_argument("--json", action="store_true", help="print JSON")

    command = add("write", _write, "prove a job, then write its module, call, meshes and report")
    command.add_argument("job", metavar="JOB.toml")
    command.add_argument("--out", metavar="DIR", type=Path, default=Path(), help="default: here")

    command = add("library", _library, "write the module and the presets of every family")
    library = Path("library")
    command.add_argument(
        "--out", metavar="DIR", type=Path, default=library, help="default: library"
    )
    command.add_argument("--check", action="store_true", help="write nothing; say what differs")

    command = add("gallery", _gallery, "draw every family and write the page that shows them")
    gallery = Path("gallery")
    command.add_argument(
        "--out", metavar="DIR", type=Path, default=gallery, help="default: gallery"
    )
    command.add_argument("--check", action="store_true", help="write nothing; say what differs")
    return parser


def _add_common(parser: Parser, default: bool | str) -> None:
    """Flags that may stand before or after the command."""
    add = parser.add_argument
    add("--quiet", action="store_true", default=default, help="print nothing but what is wrong")
    add("--no-color", action="store_true", default=default, help="print without colours")


def _list(options: argparse.Namespace) -> int:
    from scadgen.family import all_families

    facts = ("kind", "posture", "good", "weak")
    rows = [
        {"name": name, "title": cls.title} | {fact: getattr(cls, fact) for fact in facts}
        for name, cls in all_families().items()
    ]
    if options.json:
        print(json.dumps(rows, indent=2))
    else:
        for row in rows:
            print(f"{row['name']}: {row['title']}")
            print("".join(f"  {fact:<8} {row[fact]}\n" for fact in facts), end="")
    return PROVEN


def _new(options: argparse.Namespace) -> int:
    from scadgen.files import write_all
    from scadgen.jobs import JobError, new_job

    text = new_job(options.family)
    if options.out is None:
        print(text, end="")
    elif options.out.exists():
        raise JobError(f"{options.out}: exists already; name another file.")
    else:
        _tell(options, write_all(options.out.parent, {options.out.name: text.encode()}))
    return PROVEN


def _check(options: argparse.Namespace) -> int:
    job, verdict = _proven(options)
    if options.json:
        facts = {"name": job.name, "family": job.family}
        print(json.dumps(facts | verdict.to_dict(), indent=2))
    else:
        _print_findings(_console(options), verdict, failures_only=options.quiet)
    return PROVEN if verdict.passed else NOT_PROVEN


def _write(options: argparse.Namespace) -> int:
    from scadgen.files import write_all
    from scadgen.outputs import job_files

    job, verdict = _proven(options)
    if not verdict.passed:
        _print_findings(_console(options, stderr=True), verdict, failures_only=True)
        print(f"scadgen: {job.name} is not proven; nothing was written.", file=sys.stderr)
        return NOT_PROVEN
    if not options.quiet:
        _print_findings(_console(options), verdict)
    _tell(options, write_all(options.out, job_files(job, verdict)))
    return PROVEN


def _library(options: argparse.Namespace) -> int:
    from scadgen.library import check_library, write_library

    if not options.check:
        _tell(options, write_library(options.out))
        return PROVEN
    return _tell_differences(options, check_library(options.out))


def _gallery(options: argparse.Namespace) -> int:
    from scadgen.gallery.build import check_gallery, write_gallery
    from scadgen.jobs import JobError

    if options.check:
        return _tell_differences(options, check_gallery(options.out))
    try:
        with _progress(options, "drawing") as progress:
            written = write_gallery(options.out, progress)
    except ModuleNotFoundError as error:
        extra = "install the extra 'pictures': pip install '.[pictures]' in a checkout"
        raise JobError(f"gallery: {error}; {extra}. Nothing was changed.") from error
    _tell(options, written)
    return PROVEN


def _tell_differences(options: argparse.Namespace, differences: Sequence[str]) -> int:
    for difference in differences:
        print(difference)
    if not differences and not options.quiet:
        print(f"{options.out}: as scadgen writes it")
    return NOT_PROVEN if differences else PROVEN


def _proven(options: argparse.Namespace) -> tuple[Job, Verdict]:
    """The job and what its proof found."""
    from scadgen.jobs import load_job

    job = load_job(options.job)
    from scadgen.proof.verdict import check

    with _progress(options) as progress:
        return job, check(job.hinge, layer_heights=job.layer_heights, progress=progress)


@contextmanager
def _progress(
    options: argparse.Namespace, first: str = "proving"
) -> Iterator[Callable[[str], None] | None]:
    """Where to say what is going on: a line that a person sees, or nowhere."""
    if options.quiet or not sys.stderr.isatty():
        yield None
    else:
        with _console(options, stderr=True).status(first) as status:
            yield status.update


def _print_findings(console: Console, verdict: Verdict, *, failures_only: bool = False) -> None:
    from scadgen.outputs import figure_lines, finding_line

    for finding in verdict.findings:
        if not (failures_only and finding.passed):
            console.print(finding_line(finding), style="green" if finding.passed else "red")
    for line in () if failures_only else figure_lines(verdict):
        console.print(line)


def _console(options: argparse.Namespace, *, stderr: bool = False) -> Console:
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


def _tell(options: argparse.Namespace, written: Sequence[Path]) -> None:
    if not options.quiet:
        for path in written:
            print(f"wrote {path}")
