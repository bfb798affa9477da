"""``scadgen write``."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from scadgen.terminal import NOT_PROVEN, PROVEN, console, print_verdict, progress, tell

WHAT = "prove a job, then write its module, call, meshes and report"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB.toml")
    parser.add_argument("--out", metavar="DIR", type=Path, default=Path(), help="default: here")


def run(options: argparse.Namespace) -> int:
    from scadgen.files import write_all
    from scadgen.jobs import load_job
    from scadgen.outputs import job_files

    job = load_job(options.job)
    with progress(options) as say:
        verdict = job.prove(say)
    if not verdict.passed:
        print_verdict(console(options, stderr=True), verdict, failures_only=True)
        print(f"scadgen: {job.name} is not proven; nothing was written.", file=sys.stderr)
        return NOT_PROVEN
    if not options.quiet:
        print_verdict(console(options), verdict)
    tell(options, write_all(options.out, job_files(job, verdict)))
    return PROVEN
