"""``scadgen product``."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING

from scadgen.cli.bounding import add_bounds, asked_bounds, whole_bounds
from scadgen.cli.overwriting import accepted, add_arguments, tell_written, write
from scadgen.cli.saying import complain, say_all
from scadgen.cli.terminal import NOT_PROVEN, PROVEN, add_words, print_verdict, progress

if TYPE_CHECKING:
    from scadgen.product.proving import Proven

WHAT = "prove a product of bodies and hinges, and write its model"
bounds = whole_bounds


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE.toml")
    parser.add_argument(
        "--out", metavar="DIR", type=Path, help="write the model, meshes and report into it"
    )
    add_bounds(parser, renders=True)
    parser.add_argument("--json", action="store_true", help="print JSON")
    add_arguments(parser)
    add_words(parser)


def run(options: argparse.Namespace) -> int:
    from scadgen.product.outputs import product_file_names, product_files
    from scadgen.product.proving import check_product
    from scadgen.product.reading import load_product

    product = load_product(options.file, asked_bounds(options))
    if options.out:
        accepted(options, product_file_names(product))
    with progress(options) as say:
        proven = check_product(product, say)
    done = None
    try:  # whoever stops reading has the files nevertheless
        if options.out and proven.verdict.passed:
            done = write(options, product_files(proven, options.out))
    finally:
        _tell(options, proven)
    if done:
        options.quiet = options.quiet or options.json
        tell_written(options, done)
    elif options.out:
        complain(f"{product.name} failed; nothing was written.")
    return PROVEN if proven.verdict.passed else NOT_PROVEN


def _tell(options: argparse.Namespace, proven: Proven) -> None:
    """What was chosen, and the verdict."""
    from scadgen.product.choosing import choices, choices_data
    from scadgen.product.outputs import small_parts

    if options.json:
        facts = {"name": proven.product.name, "small_parts": small_parts(proven)}
        chosen = {"chosen": choices_data(proven.product)}
        print(json.dumps(facts | chosen | proven.verdict.to_dict(), indent=2))
        return
    if not options.quiet:
        say_all(options, choices(proven.product))
    print_verdict(options, proven.verdict, failures_only=options.quiet)
