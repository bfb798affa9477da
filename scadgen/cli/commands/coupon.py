"""``scadgen coupon``."""

from __future__ import annotations

import argparse
from pathlib import Path

from scadgen.cli.bounding import add_job_bounds, asked_bounds
from scadgen.cli.saying import say_all
from scadgen.cli.terminal import PROVEN, tell

WHAT = "write a small print of a family at stepped values"
bounds = asked_bounds


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("family", metavar="FAMILY")
    of = "what of the family it is about, such as detent; default: its fit"
    parser.add_argument("of", metavar="OF", nargs="?", default="", help=of)
    parser.add_argument("--out", metavar="DIR", type=Path, default=Path(), help="default: here")
    add_job_bounds(parser)


def run(options: argparse.Namespace) -> int:
    from scadgen.coupons.held import held_lines
    from scadgen.coupons.outputs import coupon_files, coupon_of
    from scadgen.coupons.text import legend
    from scadgen.keeping.files import write_all

    printed = coupon_of(options.family, options.of)
    written = write_all(options.out, coupon_files(printed))
    if not options.quiet:
        say_all(options, (*legend(printed), printed.steps.look, *held_lines(printed)))
    tell(options, written)
    return PROVEN
