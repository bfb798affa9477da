"""``scadgen schema``."""

from __future__ import annotations

import argparse
import json

from scadgen.cli.terminal import PROVEN

WHAT = "print the JSON Schema of jobs, so that an editor completes their keys"


def arguments(parser: argparse.ArgumentParser) -> None:
    words = "default: every family, told apart by the job's key 'family'"
    parser.add_argument("family", metavar="FAMILY", nargs="?", help=words)


def run(options: argparse.Namespace) -> int:
    from scadgen.jobs.schema import job_schema

    print(json.dumps(job_schema(options.family), indent=2))
    return PROVEN
