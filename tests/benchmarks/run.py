"""Measures speed as ratios and prints them: ``python -m tests.benchmarks.run``.

It is a script and no test: times vary from machine to machine. ``--quick`` sees that all works,
``--only`` measures some, ``--out FILE`` writes the page.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Collection, Iterator, Sequence
from pathlib import Path

from scadgen.keeping.files import write_all
from tests.benchmarks import fleets, growth, machine, page, readings, rendering, starts
from tests.benchmarks.race import Effort, Ratio, quick, whole

Measure = Callable[[Effort], Iterator[Ratio]]

RATIOS: dict[str, tuple[str, Measure]] = {
    "emit": ("Text", readings.emitting),
    "mesh": ("Meshes", readings.meshing),
    "render": ("Rendering", rendering.rendering),
    "fleet": ("Fleets of printers", fleets.fleets),
    "start": ("Start of the command", starts.starting),
    "check": ("Proof, cold and warm", starts.checking),
    "gallery": ("Gallery, cold and warm", starts.gallery),
}


def measured(effort: Effort, names: Collection[str]) -> str:
    """The page of what is named: ratios and growths, all of them if none is named."""
    names = names or (*RATIOS, *growth.GROWTHS)
    before = os.getloadavg()[0]
    ratios = {
        title: list(_told(measure(effort)))
        for name, (title, measure) in RATIOS.items()
        if name in names
    }
    growths = [g for name, grow in growth.GROWTHS.items() if name in names for g in grow(effort)]
    return page.page(machine.machine(), (before, os.getloadavg()[0]), ratios, growths)


def _told(found: Iterator[Ratio]) -> Iterator[Ratio]:
    """The same, each told as it comes."""
    for ratio in found:
        print(f"{ratio.what}: {ratio.least:.3g} of {ratio.against}", file=sys.stderr)
        yield ratio


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.run")
    parser.add_argument("--quick", action="store_true", help="one family, once")
    parser.add_argument("--only", nargs="+", default=(), choices=(*RATIOS, *growth.GROWTHS))
    parser.add_argument("--out", metavar="FILE", type=Path, help="write the page there")
    options = parser.parse_args(argv)
    text = measured(quick() if options.quick else whole(), options.only)
    if options.out:
        write_all(options.out.parent, {options.out.name: text.encode()})
    else:
        print(text)
    return 0


if __name__ == "__main__":
    sys.exit(main())
