"""``scadgen library``."""

from __future__ import annotations

import argparse
from pathlib import Path

from scadgen.cli.overwriting import add_arguments, tell_written, write
from scadgen.cli.terminal import PROVEN, tell_differences

WHAT = "write the module and the presets of every family"


def arguments(parser: argparse.ArgumentParser) -> None:
    folder = Path("library")
    parser.add_argument("--out", metavar="DIR", type=Path, default=folder, help="default: library")
    parser.add_argument("--check", action="store_true", help="write nothing; say what differs")
    add_arguments(parser)


def run(options: argparse.Namespace) -> int:
    from scadgen.openscad.library import check_library, library_files

    if options.check:
        return tell_differences(options, check_library(options.out))
    tell_written(options, write(options, library_files()))
    return PROVEN
