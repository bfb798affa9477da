"""Measure what the table of formulas beside solids is made of: ``python -m tests.solid_table``.

Families whose figures are kept already, of the very same solids, are passed over; the others take a
minute each. The page with the table is written by ``python -m tests.validation``.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Sequence

from tests.solids import arms, kept, measured, subjects, table


def main(arguments: Sequence[str] | None = None) -> None:
    """Measure the solids of the families named, or of all whose figures are of something else."""
    parser = argparse.ArgumentParser(prog="python -m tests.solid_table", description=main.__doc__)
    parser.add_argument("families", nargs="*")
    wanted = parser.parse_args(arguments).families or kept.stale()
    found = kept.load()
    for name, one in subjects.subjects():
        if name in wanted:
            started = time.process_time()
            found[name] = measured.figures(one) | {"of": kept.fingerprint(one)}
            kept.save(found)
            print(f"{name}: {time.process_time() - started:.0f} s of processor", flush=True)
    arms.renew()
    for told in table.governed(found):
        print(f"{told.family}, {told.duty}: {told.ratio:.2f} of {told.name}")


if __name__ == "__main__":
    main()
