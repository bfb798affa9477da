"""What is proven of the settings of each family: ``python -m tests.settings [FAMILY ...]``."""

from __future__ import annotations

import argparse
import time
from collections.abc import Iterator, Sequence

from scadgen.hinge.family import Hinge, all_families, definition
from scadgen.hinge.rules import Serves
from tests.settings.obligations import obligations
from tests.settings.prover import MOST, Prover

HEAD = "| family | asked | proven | boxes | open at most | rules for shape | others | seconds |"
LINE = "|---|---|---|---|---|---|---|---|"


def told(cls: type[Hinge], most: int) -> Iterator[str]:
    """What is left open, a line each; then the family's row of the table."""
    rules, begun = definition(cls).rules, time.process_time()
    prover, boxes, shares = Prover(cls, rules, most), 0, []
    asked = obligations(cls)
    for each in asked:
        found = prover.decided(each)
        boxes += found.boxes
        if found.broken is not None:
            yield f"{cls.family}, {each.name}: broken by {found.broken}"
        elif found.share:
            share = f"{found.share:.2%} of all settings"
            yield f"{cls.family}, {each.name}: open in {share}, {found.widest}"
        shares += [] if found.proven else [found.share]
    shape = sum(rule.serves is Serves.SHAPE for rule in rules)
    row = (cls.family, len(asked), len(asked) - len(shares), boxes, f"{max(shares, default=0):.2%}")
    seconds = round(time.process_time() - begun)
    yield f"| {' | '.join(map(str, (*row, shape, len(rules) - shape, seconds)))} |"


def main(arguments: Sequence[str] | None = None) -> None:
    """Print a table of what is proven of all settings, and above it what is left open."""
    parser = argparse.ArgumentParser(prog="python -m tests.settings", description=main.__doc__)
    parser.add_argument("families", nargs="*", default=list(all_families()), metavar="FAMILY")
    parser.add_argument("--boxes", type=int, default=MOST, help="boxes after which one is left")
    given = parser.parse_args(arguments)
    rows = []
    for name in given.families:
        *left, row = told(all_families()[name], given.boxes)
        for line in left:
            print(line, flush=True)
        rows.append(row)
    print(HEAD, LINE, *rows, sep="\n")


if __name__ == "__main__":
    main()
