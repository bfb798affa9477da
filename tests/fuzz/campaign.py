"""Many jobs, in several processes if wanted, and the table of what became of them."""

from __future__ import annotations

import tempfile
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from dataclasses import dataclass
from pathlib import Path

from tests.fuzz.draw import job_bytes, job_text
from tests.fuzz.meshes import ROW, inspected, mesh_file
from tests.fuzz.outcome import DRAWN, FAULTS, NOT_PROVEN, PROVEN, REFUSED, TOO_SLOW, Outcome
from tests.fuzz.outcome import outcome as outcome_of

#: Of so many jobs one is bytes that are hardly a job, and one a mesh file that is inspected.
IN_TURN = 10

ENDS = (REFUSED, PROVEN, NOT_PROVEN, DRAWN, TOO_SLOW, *FAULTS)


@dataclass(frozen=True)
class Campaign:
    """The jobs of a seed, counted from 0; every ``openscad``th is drawn by it (0: none).

    With ``few_facets`` all have few, as those that are drawn do, which makes them quick.
    """

    seed: int
    openscad: int
    few_facets: bool = False

    def one(self, number: int) -> Outcome:
        """What becomes of one job."""
        draw = self.openscad > 0 and number % self.openscad == 0
        with tempfile.TemporaryDirectory() as folder:
            if number % IN_TURN == 2:
                return inspected(*mesh_file(self.seed, number), Path(folder))
            if number % IN_TURN == 1:
                data = job_bytes(self.seed, number)
            else:
                data = job_text(self.seed, number, few_facets=draw or self.few_facets).encode()
            return outcome_of(data, Path(folder), openscad=draw)

    def run(
        self, jobs: int, workers: int = 1, seconds: float = float("inf")
    ) -> Iterator[tuple[int, Outcome]]:
        """Each job and what becomes of it, as they end; none begins after ``seconds``."""
        end = time.monotonic() + seconds
        numbers = iter(range(jobs))
        with ProcessPoolExecutor(workers) as pool:
            running: dict[Future[Outcome], int] = {}
            while True:
                while len(running) < 2 * workers and time.monotonic() < end:
                    number = next(numbers, None)
                    if number is None:
                        break
                    running[pool.submit(self.one, number)] = number
                if not running:
                    return
                for done in wait(running, return_when=FIRST_COMPLETED).done:
                    yield running.pop(done), done.result()


def table(outcomes: Iterable[Outcome]) -> str:
    """Counts of every end, for each family and in all; a job that was mended has two."""
    counts: Counter[tuple[str, str]] = Counter()
    jobs: Counter[str] = Counter()
    for found in outcomes:
        for row in (found.family or "none", "all"):
            jobs[row] += 1
            counts.update((row, end) for end in found.ends)
    shown = [end for end in ENDS if counts["all", end] or end in FAULTS]
    rows = [
        *sorted(jobs.keys() - {ROW, "all", "none"}),
        *[row for row in (ROW, "none", "all") if row in jobs],
    ]
    heads = ["family", "jobs", *shown]
    cells = [[row, str(jobs[row]), *(str(counts[row, end]) for end in shown)] for row in rows]
    widths = [max(map(len, column)) for column in zip(heads, *cells, strict=True)]
    lines = (
        "  ".join(f"{cell:>{width}}" for cell, width in zip(line, widths, strict=True))
        for line in (heads, *cells)
    )
    return "\n".join(lines)
