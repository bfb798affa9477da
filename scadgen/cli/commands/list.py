"""``scadgen list``."""

from __future__ import annotations

import argparse
import json

from scadgen.cli.saying import say
from scadgen.cli.terminal import PROVEN

WHAT = "list the families of hinges"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--long", action="store_true", help="tell all of each, on several lines")
    parser.add_argument("--json", action="store_true", help="print JSON")


def run(options: argparse.Namespace) -> int:
    from scadgen.hinge.family import all_families

    facts = ("kind", "posture", "good", "weak")
    known = all_families()
    rows = [
        {"name": name, "title": cls.title} | {fact: getattr(cls, fact) for fact in facts}
        for name, cls in known.items()
    ]
    if options.json:
        print(json.dumps(rows, indent=2))
    elif options.long:
        for row in rows:
            say(options, f"{row['name']}: {row['title']}")
            for fact in facts:
                say(options, f"  {fact:<8} {row[fact]}", hanging=11)
    else:
        for name, cls in known.items():
            say(options, f"{name}: {cls.kind}, {cls.stance()}; {cls.good}", hanging=4)
    return PROVEN
