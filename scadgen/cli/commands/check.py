"""``scadgen check``."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING

from scadgen.cli.terminal import (
    NOT_PROVEN,
    PROVEN,
    console,
    print_verdict,
    progress,
    refuse_to_replace,
    tell,
)

if TYPE_CHECKING:
    from scadgen.jobs.job import Job
    from scadgen.mechanism.mechanism import Mechanism

WHAT = "prove the hinge of a job on its solids"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("job", metavar="JOB.toml")
    parser.add_argument("--json", action="store_true", help="print JSON")
    parser.add_argument(
        "--solid",
        action="store_true",
        help="load its shape by finite elements, too: minutes, and the extra 'solid'",
    )
    parser.add_argument(
        "--certificate",
        metavar="FILE.json",
        type=Path,
        help="write what shows that no motion takes the hinge apart",
    )


def run(options: argparse.Namespace) -> int:
    from scadgen.jobs.job import load_job

    refuse_to_replace(options.certificate)
    job = load_job(options.job)
    with progress(options) as told:
        whole = job.hinge.mechanism()
        verdict = job.prove(told, whole=whole, solid=options.solid)
    certificate = _certificate(job, whole) if options.certificate else b""
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


def _certificate(job: Job, whole: Mechanism) -> bytes:
    """The file of the certificate that the job's bodies cannot leave each other."""
    from scadgen.caging.certificate import Certificate
    from scadgen.caging.file import document
    from scadgen.tables.documents import JobError

    cages = [cage for joint in whole.joints if (cage := joint.cage(whole)) is not None]
    if not cages:
        raise JobError(f"{job.name}: {job.family}: no certificate: its bodies are one piece.")
    if not isinstance(cages[0], Certificate):
        raise JobError(f"{job.name}: {job.family}: no certificate: {cages[0].why}.")
    return (json.dumps(document(cages[0], job.name)) + "\n").encode()
