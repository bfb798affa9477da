"""How the work grows with what is asked for."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from scadgen import emit, mesh
from scadgen.hinge.family import Hinge, all_families, definition
from tests.benchmarks.race import Effort, least_time
from tests.benchmarks.starts import python
from tests.support import mended


@dataclass(frozen=True)
class Growth:
    """A table: what grows, its values, and a line of figures for each thing measured."""

    title: str
    values: tuple[float, ...]
    lines: dict[str, tuple[str, ...]]


#: Fields that make a hinge larger, and their values.
FIELDS: dict[str, tuple[int, ...]] = {
    "rows": (7, 15, 30, 60),
    "knuckles": (1, 3, 6, 12),
    "facets": (16, 64, 256),
}

_FLEET = """\
import json, sys, time, tracemalloc
from scadgen.hinge.family import all_families
from scadgen.proof.fleet.population import ROUGH
from scadgen.proof.fleet.shares import fleet
hinge, count = all_families()[sys.argv[1]](), int(sys.argv[2])
start = time.process_time()
fleet(hinge, ROUGH, count)
seconds = time.process_time() - start
tracemalloc.start()
fleet(hinge, ROUGH, count)
print(json.dumps({"seconds": seconds, "peak": tracemalloc.get_traced_memory()[1]}))
"""


def fields(effort: Effort) -> Iterator[Growth]:
    """Text and mesh of every family that has the field."""
    for field, values in FIELDS.items():
        having = {n: c for n, c in all_families().items() if field in definition(c).bounds}
        having = {n: c for n, c in having.items() if field != "facets" or n in effort.families}
        lines = {}
        for name, cls in having.items():
            hinges = [grown(cls, field, value) for value in values]
            for what, work in (("emit", emit), ("mesh", _meshed)):
                times = [least_time(partial(work, hinge), effort.slow) for hinge in hinges]
                lines[f"{what} {name}, ms"] = tuple(f"{time * 1e3:.3g}" for time in times)
        yield Growth(field, values, lines)


def grown(cls: type[Hinge], field: str, value: float) -> Hinge:
    """The family's hinge with so large a field, and with what that needs; open where it bends."""
    limits = definition(cls).bounds
    given: dict[str, Any] = {field: value}
    if field == "knuckles" and "length" in limits:
        # as wide knuckles as the default's, nearly
        given["length"] = min(
            limits["length"].default * (2 * value + 1) / (2 * limits[field].default + 1),
            limits["length"].high,
        )
    hinge = mended(cls, given)
    if getattr(hinge, field) != value:
        raise ValueError(f"{cls.family}: no sound hinge with {field} = {value:g}")
    return hinge


def printers(effort: Effort) -> Iterator[Growth]:
    """Time of a fleet, and the most memory that it takes at once, in a process of its own."""
    counts = tuple(10**k for k in range(3, 8) if 10**k <= effort.printers)
    lines: dict[str, tuple[str, ...]] = {}
    for name in effort.families:
        found = [json.loads(python("-c", _FLEET, name, str(count))) for count in counts]
        lines[f"{name}, s"] = tuple(f"{one['seconds']:.3g}" for one in found)
        lines[f"{name}, most memory, MB"] = tuple(f"{one['peak'] / 1e6:.3g}" for one in found)
    yield Growth("printers of a fleet", counts, lines)


def _meshed(hinge: Hinge) -> float:
    """The whole hinge: a flexure half bent, since flat it has no links."""
    angle = hinge.swing / 2 if hinge.kind == "flexure" else hinge.angle
    return float(mesh(hinge, angle=angle).volume())


GROWTHS: dict[str, Callable[[Effort], Iterator[Growth]]] = {"fields": fields, "printers": printers}
