"""``scadgen size``."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from scadgen.cli.bounding import add_job_bounds, asked_bounds
from scadgen.cli.saying import complain, say_all
from scadgen.cli.terminal import (
    NOT_PROVEN,
    PROVEN,
    print_verdict,
    progress,
    refuse_to_replace,
    tell,
    write_each,
)

WHAT = "find the smallest hinge of a family that bears a duty"
bounds = asked_bounds


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB.toml", help="a job, its [size] what is given")
    parser.add_argument("--out", metavar="FILE", type=Path, help="write the sized job")
    parser.add_argument("--json", action="store_true", help="print JSON")
    add_job_bounds(parser)


def run(options: argparse.Namespace) -> int:
    from scadgen.hinge.family import all_families
    from scadgen.jobs.job import read_job
    from scadgen.sizing.choose import preferred
    from scadgen.sizing.jobs import sized_job
    from scadgen.sizing.postures import suits, wrong_way
    from scadgen.sizing.report import sized_data, sized_lines
    from scadgen.sizing.size import Refused, Sized
    from scadgen.sizing.wish import load_wish
    from scadgen.tables.documents import JobError

    wish = load_wish(options.job)
    if wish.family is None:
        raise JobError(f"{options.job}: family: missing; scadgen choose finds the form.")
    refuse_to_replace(options.out)
    found: Sized | Refused = wrong_way(wish.family, wish.posture)
    if suits(wish.family, wish.posture) or not wish.says_posture:
        with progress(options, f"sizing {wish.family}"):
            found = preferred(all_families()[wish.family], wish.wanted)
    if isinstance(found, Refused):
        if options.json:
            print(json.dumps(sized_data(found), indent=2))
        complain(f"{wish.family}: {found}")
        return NOT_PROVEN
    folder = options.out.parent if options.out else wish.folder
    text = sized_job(wish, found.hinge, folder)
    with progress(options) as say:
        verdict = read_job(text, folder).prove(say)
    written: list[Path] = []
    try:  # whoever stops reading has the file nevertheless
        if verdict.proven and options.out:
            written = write_each({options.out: text.encode()})
    finally:
        if options.json:
            print(json.dumps(sized_data(found), indent=2))
        elif not options.quiet:
            say_all(options, sized_lines(found))
    if not verdict.proven:
        print_verdict(options, verdict, failures_only=True, error=True)
        return NOT_PROVEN
    if not options.json:
        tell(options, written)
    return PROVEN
