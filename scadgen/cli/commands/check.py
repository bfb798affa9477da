"""``scadgen check``."""

from __future__ import annotations

import argparse
import json

from scadgen.cli.certificates import add_certificate, certificate_file
from scadgen.cli.terminal import (
    NOT_PROVEN,
    PROVEN,
    console,
    print_verdict,
    progress,
    refuse_to_replace,
    tell,
)

WHAT = "prove the hinge of a job on its solids"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB.toml")
    parser.add_argument("--json", action="store_true", help="print JSON")
    parser.add_argument(
        "--solid",
        action="store_true",
        help="load its shape by finite elements, too: minutes, and the extra 'solid'",
    )
    add_certificate(parser)


def run(options: argparse.Namespace) -> int:
    from scadgen.jobs.job import load_job

    refuse_to_replace(options.certificate)
    job = load_job(options.job)
    with progress(options) as told:
        whole = job.hinge.mechanism()
        verdict = job.prove(told, whole=whole, solid=options.solid)
    cages = [joint.cage(whole) for joint in whole.joints] if options.certificate else []
    certificate = certificate_file(cages, job.name) if options.certificate else b""
    if options.json:
        facts = {"name": job.name, "family": job.family}
        print(json.dumps(facts | verdict.to_dict(), indent=2))
    else:
        print_verdict(console(options), verdict, failures_only=options.quiet)
    if options.certificate:
        from scadgen.keeping.files import write_all

        target = options.certificate
        written = write_all(target.parent, {target.name: certificate})
        if not options.json:
            tell(options, written)
    return PROVEN if verdict.proven else NOT_PROVEN
