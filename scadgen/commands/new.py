"""``scadgen new``."""

from __future__ import annotations

import argparse
from pathlib import Path

from scadgen.terminal import PROVEN, tell

WHAT = "write a commented job with the usual values"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("family", metavar="FAMILY")
    parser.add_argument("--out", metavar="FILE", type=Path, help="default: standard output")


def run(options: argparse.Namespace) -> int:
    from scadgen.files import write_all
    from scadgen.jobs import JobError, new_job

    text = new_job(options.family)
    if options.out is None:
        print(text, end="")
    elif options.out.exists():
        raise JobError(f"{options.out}: exists already; name another file.")
    else:
        tell(options, write_all(options.out.parent, {options.out.name: text.encode()}))
    return PROVEN
