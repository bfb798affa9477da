"""Fuzzing for as long as one likes; see --help."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from tests.fuzz.campaign import Campaign, table


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    add = parser.add_argument
    add("--jobs", type=int, default=200, help="how many jobs (default: 200)")
    add("--seconds", type=float, default=float("inf"), help="end after so long (default: never)")
    add("--workers", type=int, default=1, help="processes (default: 1)")
    add("--seed", type=int, default=0, help="other seeds give other jobs (default: 0)")
    add("--openscad", type=int, default=20, metavar="N", help="draw every Nth by OpenSCAD; 0: none")
    add("--out", type=Path, default=Path("build/fuzz"), help="folder for jobs that fail")
    add("--few-facets", action="store_true", help="all with few facets, which is quicker")
    options = parser.parse_args()
    campaign = Campaign(options.seed, options.openscad, options.few_facets)
    outcomes = []
    for number, found in campaign.run(options.jobs, options.workers, options.seconds):
        outcomes.append(found)
        if found.faults:
            options.out.mkdir(parents=True, exist_ok=True)
            path = options.out / f"{options.seed}_{number}.toml"
            path.write_bytes(found.job)
            print(f"{path}: {', '.join(found.faults)}\n{found.detail}", flush=True)
    print(table(outcomes))
    return 1 if any(found.faults for found in outcomes) else 0


if __name__ == "__main__":
    sys.exit(main())
