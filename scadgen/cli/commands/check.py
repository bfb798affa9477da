"""``scadgen check``."""

from __future__ import annotations

import argparse
import json

from scadgen.cli.terminal import NOT_PROVEN, PROVEN, console, print_verdict, progress

WHAT = "prove the hinge of a job on its solids"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB.toml")
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(options: argparse.Namespace) -> int:
    from scadgen.jobs.job import load_job

    job = load_job(options.job)
    with progress(options) as tell:
        verdict = job.prove(tell)
    if options.json:
        facts = {"name": job.name, "family": job.family}
        print(json.dumps(facts | verdict.to_dict(), indent=2))
    else:
        print_verdict(console(options), verdict, failures_only=options.quiet)
    return PROVEN if verdict.proven else NOT_PROVEN
