"""``scadgen gallery``."""

from __future__ import annotations

import argparse
from pathlib import Path

from scadgen.cli.terminal import PROVEN, progress, tell, tell_differences

WHAT = "draw every family and write the page that shows them"


def arguments(parser: argparse.ArgumentParser) -> None:
    folder = Path("gallery")
    parser.add_argument("--out", metavar="DIR", type=Path, default=folder, help="default: gallery")
    parser.add_argument("--check", action="store_true", help="write nothing; say what differs")


def run(options: argparse.Namespace) -> int:
    from scadgen.gallery.build import check_gallery, write_gallery
    from scadgen.tables.documents import JobError

    if options.check:
        return tell_differences(options, check_gallery(options.out))
    try:
        with progress(options, "drawing") as say:
            written = write_gallery(options.out, say)
    except ModuleNotFoundError as error:
        extra = "install the extras: pip install '.[curves,pictures]' in a checkout"
        raise JobError(f"gallery: {error}; {extra}. Nothing was changed.") from error
    tell(options, written)
    return PROVEN
