"""Prints how time and memory grow with what is asked: ``python -m tests.scale facets products``.

It is a script and no test. Each row is one size of one thing, in a process of its own: processor
time, the most memory beside what Python has when it starts, and the power with which the time grew
since the row before: 1 is linear, 2 quadratic. What is quick at first is dominated by what does not
grow. ``--most N`` leaves out sizes above N.
"""

from __future__ import annotations

import argparse
import math
import multiprocessing
import os
import re
import resource
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from multiprocessing.connection import Connection
from pathlib import Path

from scadgen import check
from scadgen.hinge.family import Hinge, all_families, bounds
from tests.benchmarks.growth import grown
from tests.product.support import chain
from tests.support import mended
from tests.toolpaths.made import Dialect, Run, level

Work = Callable[[], object]

FACETS = (16, 32, 64, 128, 256)
#: Fields that say how often something is there.
OFTEN = ("rings", "links", "knuckles", "webs", "segments")
#: Rows and columns of slits.
SLITS = ((10, 1), (15, 4), (30, 8), (60, 12))
JOINTS = (2, 5, 10, 20, 50)
PRINTERS = tuple(10**k for k in range(3, 9))
#: Sizes of G-code, MB, and the columns of blocks of a layer of it.
MEGABYTES, COLUMNS = (1, 5, 10, 20, 50, 200), 10
#: Programs tell the height where it changes only.
_HEIGHT = re.compile(r"(?m)^(G1 .*) Z\S+")
#: A time, seconds, below which a power says nothing.
SHORT = 0.05


@dataclass(frozen=True)
class Row:
    """One size: processor time (s) and memory (MB)."""

    size: float
    seconds: float
    memory: float


def facets() -> Iterator[tuple[str, float, Work]]:
    """The proof of every pivot with more and more sides."""
    for name, cls in all_families().items():
        if cls.kind == "pivot":
            for count in FACETS:
                yield f"check {name}, facets", count, partial(_checked, cls, {"facets": count})


def often() -> Iterator[tuple[str, float, Work]]:
    """The proof of a hinge with as many rings, links, knuckles and the like as it may have."""
    for name, cls in all_families().items():
        for field in (field for field in OFTEN if field in bounds(cls)):
            low, high = max(1.0, bounds(cls)[field].low), bounds(cls)[field].high
            shares = (round(high * share) for share in (0.25, 0.5, 1))
            for count in sorted({low, *(count for count in shares if count > low)}):
                yield f"check {name}, {field}", count, partial(_grown, cls, field, count)


def lattices() -> Iterator[tuple[str, float, Work]]:
    """The proof of a lattice with more and more slits."""
    cls = all_families()["slit_lattice"]
    for rows, columns in SLITS:
        slits = {"rows": rows, "columns": columns}
        yield "check slit_lattice, slits", rows * columns, partial(_checked, cls, slits)


def products() -> Iterator[tuple[str, float, Work]]:
    """The proof of a chain of plates."""
    for count in JOINTS:
        yield "product, joints", count, partial(_product, count)


def fleets() -> Iterator[tuple[str, float, Work]]:
    """A fleet of printers."""
    for count in PRINTERS:
        yield "fleet of side_cones, printers", count, partial(_fleet, count)


def gcode() -> Iterator[tuple[str, float, Work]]:
    """Files of toolpaths, made by laying the same blocks higher and higher."""
    for size in MEGABYTES:
        yield "toolpath, MB", size, partial(_followed, size)


def _checked(cls: type[Hinge], values: Mapping[str, float]) -> None:
    check(mended(cls, values))


def _grown(cls: type[Hinge], field: str, count: float) -> None:
    check(grown(cls, field, count))


def _product(joints: int) -> None:
    from scadgen.product.proving import check_product

    check_product(chain(joints + 1))


def _fleet(count: int) -> None:
    from scadgen.proof.fleet.population import ROUGH
    from scadgen.proof.fleet.shares import fleet

    fleet(all_families()["side_cones"](), ROUGH, count)


def _followed(megabytes: float) -> None:
    from scadgen.toolpaths import Asked, follow

    def layer(k: int) -> str:
        corners = [(25.0 * x, 6.0 * y) for y in range(COLUMNS) for x in range(2)]
        runs = [run for corner in corners for run in _block(level(k), corner)]
        return _HEIGHT.sub(r"\1", dialect.text(runs))

    with tempfile.TemporaryDirectory() as folder:
        path, dialect = Path(folder) / "blocks.gcode", Dialect(relative_e=True)
        layers = max(1, round(megabytes * 1e6 / len(layer(0))))
        with path.open("w", encoding="utf-8") as file:
            for k in range(layers):
                file.write(layer(k))
        start = _busy()
        follow(path, Asked())
        raise _TookError(_busy() - start)


def _block(z: float, corner: tuple[float, float]) -> Iterator[Run]:
    """A layer of a block of 20 x 4 mm: two walls, and lines of infill from side to side."""
    x, y = corner
    for inset in (0.25, 0.75):
        low, high = (x + inset, y + inset), (x + 20 - inset, y + 4 - inset)
        ring = (low, (high[0], low[1]), high, (low[0], high[1]), low)
        yield Run(z, ring)
    ends = ((x + 1.25 + 0.5 * (k // 2), y + (1.25, 2.75)[(k + k // 2) % 2]) for k in range(72))
    yield Run(z, tuple(ends), "Internal infill")


def _busy() -> float:
    """Processor time of this process and of those that it began and that ended, seconds."""
    return sum(os.times()[:4])


class _TookError(Exception):
    """The processor time of a work, less what made ready for it; seconds."""


def measured(work: Work) -> tuple[float, float]:
    """Processor time (s) and memory (MB) of a work in a process of its own."""
    ours, theirs = multiprocessing.Pipe(duplex=False)
    child = multiprocessing.get_context("fork").Process(target=_measure, args=(work, theirs))
    child.start()
    theirs.close()
    seconds, memory = ours.recv()
    child.join()
    return seconds, memory


def _measure(work: Work, pipe: Connection) -> None:
    before = _most()
    start = time.process_time()
    try:
        work()
        seconds = time.process_time() - start
    except _TookError as took:
        seconds = took.args[0]
    pipe.send((seconds, _most() - before))


def _most() -> float:
    """The most memory, MB, of this process, and of the largest that it began."""
    both = resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN
    return sum(resource.getrusage(who).ru_maxrss for who in both) / 1024


def power(before: Row, now: Row) -> str:
    """With which power of the size the time grew; nothing where it is too short to tell."""
    if before.seconds < SHORT:
        return ""
    return f"{math.log(now.seconds / before.seconds) / math.log(now.size / before.size):.1f}"


def printed(title: str, rows: Sequence[Row]) -> str:
    """A table of what grew."""
    lines = [
        f"| {title} | time, s | of the first | grew with power | memory, MB |",
        "|---" * 5 + "|",
    ]
    for k, row in enumerate(rows):
        grew = power(rows[k - 1], row) if k else ""
        share = row.seconds / rows[0].seconds
        lines.append(
            f"| {row.size:g} | {row.seconds:.2f} | {share:.1f} | {grew} | {row.memory:.0f} |"
        )
    return "\n".join([*lines, ""])


SCALES: dict[str, Callable[[], Iterator[tuple[str, float, Work]]]] = {
    "facets": facets,
    "often": often,
    "lattices": lattices,
    "products": products,
    "fleets": fleets,
    "gcode": gcode,
}


def main(argv: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.scale")
    parser.add_argument("only", nargs="*", metavar="WHAT", help=", ".join(SCALES))
    parser.add_argument("--most", type=float, default=math.inf, help="no size above this")
    options = parser.parse_args(argv)
    for cls in all_families().values():
        check(cls())  # what is imported only once counts for none
    for name in options.only or SCALES:
        tables: dict[str, list[Row]] = {}
        for title, size, work in SCALES[name]():
            if size <= options.most:
                tables.setdefault(title, []).append(Row(size, *measured(work)))
                print(f"{title} {tables[title][-1]}", file=sys.stderr)
        print(*(printed(title, rows) for title, rows in tables.items()), sep="\n", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
