"""``scadgen calibrate``."""

from __future__ import annotations

import argparse
from pathlib import Path

from scadgen.terminal import PROVEN, tell

WHAT = "work out how far a printer's lines spread from what the pieces of a coupon did"


def arguments(parser: argparse.ArgumentParser) -> None:
    file = Path("printer.toml")
    parser.add_argument("results", metavar="RESULTS.toml")
    parser.add_argument("--out", metavar="FILE", type=Path, default=file, help=f"default: {file}")
    parser.add_argument("--force", action="store_true", help="replace the file if there is one")


def run(options: argparse.Namespace) -> int:
    from scadgen.coupons.fit import fit_growth
    from scadgen.coupons.outputs import calibration_lines, printer_file
    from scadgen.coupons.results import load_results
    from scadgen.documents import JobError
    from scadgen.files import write_all

    results = load_results(options.results)
    try:
        growth = fit_growth(results)
    except JobError as error:
        error.path = Path(options.results)
        raise
    if options.out.exists() and not options.force:
        raise JobError(f"{options.out}: exists already; name another file, or add --force.")
    text = printer_file(results, growth)
    written = write_all(options.out.parent, {options.out.name: text.encode()})
    if not options.quiet:
        print("\n".join(calibration_lines(results, growth)))
    tell(options, written)
    return PROVEN
