"""``scadgen list``."""

from __future__ import annotations

import argparse
import json

from scadgen.cli.terminal import PROVEN

WHAT = "list the families of hinges"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(options: argparse.Namespace) -> int:
    from scadgen.hinge.family import all_families

    facts = ("kind", "posture", "good", "weak")
    rows = [
        {"name": name, "title": cls.title} | {fact: getattr(cls, fact) for fact in facts}
        for name, cls in all_families().items()
    ]
    if options.json:
        print(json.dumps(rows, indent=2))
    else:
        for row in rows:
            print(f"{row['name']}: {row['title']}")
            print("".join(f"  {fact:<8} {row[fact]}\n" for fact in facts), end="")
    return PROVEN
