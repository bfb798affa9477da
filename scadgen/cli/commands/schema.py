"""``scadgen schema``."""

from __future__ import annotations

import argparse
import json

from scadgen.cli.terminal import PROVEN

WHAT = "print the JSON Schema of jobs, or of products: an editor completes their keys"


#: What stands for the files of products, where a family would.
PRODUCT = "product"


def arguments(parser: argparse.ArgumentParser) -> None:
    words = "default: every family, told apart by the job's key 'family'"
    words += f"; {PRODUCT} for the files of products"
    parser.add_argument("family", metavar="FAMILY", nargs="?", help=words)


def run(options: argparse.Namespace) -> int:
    from scadgen.jobs.schema import job_schema
    from scadgen.product.schema import product_schema

    product = options.family == PRODUCT
    print(json.dumps(product_schema() if product else job_schema(options.family), indent=2))
    return PROVEN
