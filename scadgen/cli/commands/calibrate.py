"""``scadgen calibrate``."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from scadgen.cli.saying import say_all
from scadgen.cli.terminal import PROVEN, refuse_to_replace, write_one

if TYPE_CHECKING:
    from scadgen.coupons.results import Results

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
    from scadgen.tables.documents import JobError

    results = load_results(options.results)
    if results.plan.steps.strains:
        return _strained(options, results)
    try:
        growth = fit_growth(results)
    except JobError as error:
        error.path = Path(options.results)
        raise
    if not options.force:
        refuse_to_replace(options.out, ", or add --force")
    write_one(options, printer_file(results, growth))
    if not options.quiet:
        say_all(options, calibration_lines(results, growth))
    return PROVEN


def _strained(options: argparse.Namespace, results: Results) -> int:
    """What arms bore is told; there is no file of it."""
    from scadgen.coupons.strained import fit_strain, strain_lines
    from scadgen.tables.documents import JobError

    try:
        borne = fit_strain(results)
    except JobError as error:
        error.path = Path(options.results)
        raise
    if not options.quiet:
        say_all(options, strain_lines(results, borne))
    return PROVEN
