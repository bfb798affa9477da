"""``scadgen new``."""

from __future__ import annotations

import argparse
from pathlib import Path

from scadgen.cli.terminal import PROVEN, refuse_to_replace, write_one

WHAT = "write a commented job with the usual values"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("family", metavar="FAMILY")
    parser.add_argument("--out", metavar="FILE", type=Path, help="default: standard output")


def run(options: argparse.Namespace) -> int:
    from scadgen.jobs.job import new_job

    text = new_job(options.family)
    if options.out is None:
        print(text, end="")
    else:
        refuse_to_replace(options.out)
        write_one(options, text)
    return PROVEN
