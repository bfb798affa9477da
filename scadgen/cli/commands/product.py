"""``scadgen product``."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from scadgen.cli.bounding import add_bounds, asked_bounds, whole_bounds
from scadgen.cli.overwriting import accepted, add_arguments, write
from scadgen.cli.saying import complain, say_all
from scadgen.cli.terminal import NOT_PROVEN, PROVEN, add_words, print_verdict, progress

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
    from scadgen.product.choosing import choices, choices_data
    from scadgen.product.outputs import product_file_names, product_files, small_parts
    from scadgen.product.proving import check_product
    from scadgen.product.reading import load_product

    product = load_product(options.file, asked_bounds(options))
    if options.out:
        accepted(options, product_file_names(product))
    with progress(options) as say:
        proven = check_product(product, say)
    if options.json:
        facts = {"name": product.name, "small_parts": small_parts(proven)}
        chosen = {"chosen": choices_data(product)}
        print(json.dumps(facts | chosen | proven.verdict.to_dict(), indent=2))
    else:
        if not options.quiet:
            say_all(options, choices(product))
        print_verdict(options, proven.verdict, failures_only=options.quiet)
    if not proven.verdict.passed:
        if options.out:
            complain(f"{product.name} failed; nothing was written.")
        return NOT_PROVEN
    if options.out:
        options.quiet = options.quiet or options.json
        write(options, product_files(proven, options.out))
    return PROVEN
