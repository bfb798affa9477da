"""G-code made by hand: two bars side by side, laid line by line, in any dialect."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from manifold3d import Manifold

from scadgen.mechanism.mechanism import Body, Mechanism

Point = tuple[float, float]

#: Width and height of a line, mm; layers; the bars' length and breadth, and the gap between them.
WIDTH, HEIGHT, LAYERS = 0.5, 0.2, 12
LONG, BROAD, GAP = 20.0, 4.0, 0.5
#: What a table spans, mm.
SPAN = 8.0
FILAMENT = 1.75


@dataclass(frozen=True)
class Run:
    """A run of lines through points, at one height, for one use. wide: mm."""

    z: float
    points: tuple[Point, ...]
    role: str = "External perimeter"
    wide: float = WIDTH
    high: float = HEIGHT


def bars(gap: float = GAP, start: Point = (0.0, 0.0)) -> Mechanism:
    """Two bars along x, the second beyond the gap in y."""
    size = (LONG, BROAD, LAYERS * HEIGHT)

    def bar(y: float) -> Manifold:
        return Manifold.cube(size).translate((start[0], start[1] + y, 0))

    bodies = (Body("one", "bar 1", lambda: bar(0)), Body("two", "bar 2", lambda: bar(BROAD + gap)))
    return Mechanism("bars", bodies, loose=("one", "two"))


def table(gap: float = HEIGHT) -> Mechanism:
    """A plate on the bed, and a table whose top bridges it, so far above."""
    low, thick = 3 * HEIGHT, 3 * HEIGHT
    plate = Manifold.cube((SPAN - 2, BROAD, low)).translate((1, 0, 0))
    feet = [Manifold.cube((4, BROAD, low + gap)).translate((x, 0, 0)) for x in (-4, SPAN)]
    top = Manifold.cube((SPAN + 8, BROAD, thick)).translate((-4, 0, low + gap))
    up = top + feet[0] + feet[1]
    bodies = (Body("plate", "plate", lambda: plate), Body("table", "table", lambda: up))
    return Mechanism("table", bodies, loose=("plate", "table"))


def bar(z: float, y: float, x: Point = (0.0, LONG)) -> Iterator[Run]:
    """A layer of a bar, solid, by lines along x."""
    half = WIDTH / 2
    for k in range(round(BROAD / WIDTH)):
        level = y + half + k * WIDTH
        yield Run(z, ((x[0] + half, level), (x[1] - half, level)))


def level(k: int) -> float:
    """Height of the nozzle in a layer, counted from 0, mm."""
    return round((k + 1) * HEIGHT, 6)


def whole(gap: float = GAP) -> list[Run]:
    """Both bars, as they should print."""
    return [run for k in range(LAYERS) for y in (0.0, BROAD + gap) for run in bar(level(k), y)]


@dataclass
class Dialect:
    """How moves are written. unit: mm to a unit of the file. comments: whether widths are told."""

    relative: bool = False
    relative_e: bool = False
    unit: float = 1.0
    comments: bool = True
    resets: bool = False
    numbered: bool = False
    moved: Point = (0.0, 0.0)
    head: tuple[str, ...] = ()
    tail: tuple[str, ...] = ()
    _at: list[float] = field(default_factory=list)
    _e: float = 0.0

    def text(self, runs: Iterable[Run]) -> str:
        """The file."""
        self._at, self._e = [0.0, 0.0, 0.0], 0.0
        lines = [*self.head, "G21" if self.unit == 1 else "G20", "G91" if self.relative else "G90"]
        lines += ["M83" if self.relative_e else "M82", "G92 E0"]
        if any(self.moved):
            lines.append(f"G92 X{self._n(-self.moved[0])} Y{self._n(-self.moved[1])}")
        for run in runs:
            lines += self._run(run)
        if self.numbered:
            lines = [self._number(k, line) for k, line in enumerate(lines)]
        return "\n".join([*lines, *self.tail]) + "\n"

    def write(self, path: Path, runs: Iterable[Run]) -> Path:
        """The file, written."""
        path.write_text(self.text(runs), encoding="utf-8")
        return path

    def _run(self, run: Run) -> Iterator[str]:
        if self.comments:
            yield from (f";TYPE:{run.role}", f";WIDTH:{run.wide:g}", f";HEIGHT:{run.high:g}")
        if self.resets:
            self._e = 0.0
            yield "G92 E0"
        yield "G0 " + self._to((*run.points[0], run.z))
        section = (run.wide - run.high * (1 - math.pi / 4)) * run.high
        for start, end in zip(run.points, run.points[1:], strict=False):
            volume = section * math.dist(start, end)
            push = volume / (math.pi * FILAMENT**2 / 4)
            before, self._e = self._e, self._e + push
            e = push if self.relative_e else self._e
            assert self._e > before
            yield f"G1 {self._to((*end, run.z))} E{self._n(e)}"

    def _to(self, point: tuple[float, float, float]) -> str:
        before, self._at = self._at, list(point)
        moved = (*self.moved, 0.0)
        told = [
            new - old if self.relative else new - shift
            for new, old, shift in zip(point, before, moved, strict=True)
        ]
        return " ".join(f"{axis}{self._n(value)}" for axis, value in zip("XYZ", told, strict=True))

    def _n(self, value: float) -> str:
        return f"{value / self.unit:.7f}"

    def _number(self, k: int, line: str) -> str:
        return line if line.startswith(";") else f"N{k} {line}*{k % 256}"
