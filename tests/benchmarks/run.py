"""Times the readings and prints them beside their targets: ``python -m tests.benchmarks.run``.

It is a script and no test: times vary from machine to machine, so it shows ratios where it can.
"""

from __future__ import annotations

import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

from rich.console import Console
from rich.table import Table

from scadgen import emit, emitter, mesh
from scadgen.family import Hinge, all_families, definition
from scadgen.to_numpy import Numbers
from tests.benchmarks.by_hand import Call, calls, scene, solid
from tests.support import changed, many

Row = tuple[str, str, str, str, str]  # what, time, target, against what, ratio


def median(work: Callable[[], object], repeats: int) -> float:
    """Median time of ``work`` in seconds, after one run to warm up."""
    work()
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def row(what: str, seconds: float, target: float, other: str = "", beside: float = 0) -> Row:
    late = "" if seconds < target else "  MISSED"
    ratio = f"{seconds / beside:.2f}" if beside else ""
    return what, _time(seconds), f"{_time(target)}{late}", other, ratio


def _time(seconds: float) -> str:
    return f"{seconds * 1e3:.3g} ms" if seconds < 1 else f"{seconds:.3g} s"


def emitting() -> Iterator[Row]:
    for name, cls in all_families().items():
        hinge = cls()
        plans = [calls(hinge, part) for part in bodies(hinge)]
        printed = median(partial(_printed, plans), 10)
        seconds = median(partial(emit, hinge), 200)
        yield row(f"emit {name}", seconds, 2e-3, "solidpython2's text", printed)
    first = median(partial(_emitted_anew, hinge), 50)
    yield row(f"emit {name}, the first time in a process", first, 20e-3)


def _printed(plans: list[Call]) -> None:
    for plan in plans:
        str(scene(plan))


def _emitted_anew(hinge: Hinge) -> None:
    emitter._body.cache_clear()
    emit(hinge)


def meshing() -> Iterator[Row]:
    for name, cls in all_families().items():
        hinge = cls()
        plans = [calls(hinge, part) for part in bodies(hinge)]
        for part, plan in zip(bodies(hinge), plans, strict=True):
            assert abs(mesh(hinge, part).volume() / solid(plan).volume() - 1) < 1e-9
        by_hand = median(partial(_built, plans), 30)
        seconds = median(partial(_meshed_anew, hinge), 30)
        yield row(f"mesh {name}", seconds, 20e-3, "manifold3d by hand", by_hand)


def bodies(hinge: Hinge) -> tuple[str, ...]:
    """The parts that together are the whole hinge."""
    return ("fixed", "moving") if hinge.kind == "pivot" else ("both",)


def _built(plans: list[Call]) -> None:
    for plan in plans:
        solid(plan).volume()


def _meshed_anew(hinge: Hinge) -> None:
    """All bodies of a fresh instance, which has no value at hand from the time before."""
    fresh = changed(hinge, {})
    for part in bodies(hinge):
        mesh(fresh, part).volume()


def importing() -> Iterator[Row]:
    def start(code: str) -> float:
        return median(lambda: subprocess.run([sys.executable, "-c", code], check=True), 15)

    bare = start("pass")
    yield row(
        "import scadgen, beyond a bare start",
        start("import scadgen") - bare,
        0.1,
        "python -c pass",
        bare,
    )


def a_million_printers() -> Iterator[Row]:
    for name, cls in all_families().items():
        seconds = median(partial(_margins, cls, many(cls, 1_000_000)), 3)
        yield row(f"1,000,000 printers, rules of {name}", seconds, 1)


def _margins(cls: type[Hinge], drawn: dict[str, Any]) -> None:
    definition(cls).margins(Numbers(drawn))


def rendering() -> Iterator[Row]:
    engine = shutil.which("openscad")
    if engine is None:
        print("OpenSCAD is not on the PATH: its times are not measured")
        return
    with tempfile.TemporaryDirectory() as folder:
        for name, cls in all_families().items():
            source = Path(folder) / f"{name}.scad"
            source.write_text(emit(cls()), encoding="utf-8")
            command = [engine, "-q", "-o", f"{folder}/out.stl", str(source)]
            seconds = median(partial(subprocess.run, command, check=True), 3)
            yield row(f"OpenSCAD renders {name}", seconds, 3)


def main() -> None:
    table = Table("what", "median", "target", "against", "ratio", title="scadgen benchmarks")
    for measured in (emitting, meshing, importing, a_million_printers, rendering):
        for cells in measured():
            table.add_row(*cells)
    Console(width=110).print(table)


if __name__ == "__main__":
    main()
