"""Slices of every family by every engine beside the proof: ``python -m tests.toolpaths.slices``.

It takes minutes. It prints the table, then the misses (proven, and welded by toolpaths) and the
false alarms (refused, and left free by toolpaths with spread to spare).
"""

from __future__ import annotations

import argparse
import itertools
from collections.abc import Iterator, Sequence

from scadgen.hinge.family import all_families
from tests.toolpaths.against import TO_SPARE, Compared, compared, table
from tests.toolpaths.engines import ENGINES, Slicing

LAYERS, NOZZLES = (0.1, 0.2, 0.3), (0.4, 0.6)


def slices(
    families: Sequence[str], engines: Sequence[str], nozzles: Sequence[float]
) -> Iterator[Compared]:
    """Each family by each engine at each layer height, with each nozzle."""
    for family, engine, layer, nozzle in itertools.product(families, engines, LAYERS, nozzles):
        yield compared(all_families()[family], Slicing(engine, layer, nozzle))


def main() -> None:
    """Print the table, the misses and the false alarms."""
    parser = argparse.ArgumentParser(prog="python -m tests.toolpaths.slices", description=__doc__)
    parser.add_argument("families", nargs="*", default=list(all_families()), metavar="FAMILY")
    parser.add_argument("--engine", action="append", choices=ENGINES)
    parser.add_argument("--nozzle", action="append", type=float)
    given = parser.parse_args()
    rows = []
    for one in slices(given.families, given.engine or list(ENGINES), given.nozzle or NOZZLES):
        print(table([one]).splitlines()[-1], flush=True)
        rows.append(one)
    misses = [one for one in rows if one.miss]
    alarms = [one for one in rows if one.false_alarm]
    print(f"\n{table(rows)}\n")
    print(f"{len(rows)} slices; {len(misses)} misses; {len(alarms)} false alarms: refused, and")
    print(f"free with {TO_SPARE:g} mm of spread or more to spare.")


if __name__ == "__main__":
    main()
