"""``scadgen write``."""

from __future__ import annotations

import argparse
from pathlib import Path

from scadgen.cli.bounding import add_job_bounds, asked_bounds
from scadgen.cli.overwriting import accepted, add_arguments, tell_written, write
from scadgen.cli.saying import complain
from scadgen.cli.terminal import NOT_PROVEN, PROVEN, add_words, print_verdict, progress

WHAT = "prove a job, then write its module, call, meshes and report"
bounds = asked_bounds


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB.toml")
    parser.add_argument("--out", metavar="DIR", type=Path, default=Path(), help="default: here")
    add_arguments(parser)
    add_words(parser)
    add_job_bounds(parser)


def run(options: argparse.Namespace) -> int:
    from scadgen.handover.outputs import job_file_names, job_files
    from scadgen.jobs.job import load_job

    job = load_job(options.job)
    module, *_ = names = job_file_names(job)
    accepted(options, names)
    with progress(options) as say:
        verdict = job.prove(say)
    if not verdict.proven:
        print_verdict(options, verdict, failures_only=True, error=True)
        complain(f"{job.name} is not proven; nothing was written.")
        return NOT_PROVEN
    try:  # whoever stops reading has the files nevertheless
        done = write(options, job_files(job, verdict))
    finally:
        if not options.quiet:
            print_verdict(options, verdict)
    tell_written(options, done)
    if any(kept.path.name == module for kept in done.kept):
        told = f"{job.name}.scad draws with your {module}; the proof is of the one scadgen writes."
        complain(told)
    return PROVEN
