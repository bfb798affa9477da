"""Running a newer OpenSCAD than the one that is installed: 2025, as a package for Node.js."""

from __future__ import annotations

import atexit
import functools
import json
import subprocess
import threading
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from tests.engine import Run, literal
from tests.support import ROOT

#: Where tests/run puts the package; never committed.
PACKAGES = ROOT / "build" / "newer" / "node_modules"
RUNNER = Path(__file__).with_name("render.mjs")
#: Most files take less time than to make its code quick would.
NODE = ("node", "--liftoff-only")
#: How long it may take over one line of jobs, s.
PATIENCE = 300


def run(path: Path, folder: Path, *options: str, **settings: Any) -> Run:
    """Render a file on its own, with ``-D`` for each of ``settings``; the first warning ends it."""
    (done,) = run_each(path, folder, [settings], *options)
    return done


def run_each(
    path: Path,
    folder: Path,
    sets: Iterable[Mapping[str, Any]],
    *options: str,
    beside: Iterable[Path] = (),
) -> list[Run]:
    """Render a file on its own, or with those ``beside`` it, with each set of settings; no run
    takes longer than minutes.
    """
    given = [[f"-D{name}={literal(value)}" for name, value in one.items()] for one in sets]
    return _rendered(path, folder, [[*one, *options] for one in given], beside=beside)


def choose_each(path: Path, folder: Path, sets: Path, names: Iterable[str]) -> list[Run]:
    """Render a file on its own with each of the named parameter sets of the file ``sets``."""
    return _rendered(path, folder, [["-p", "/sets.json", "-P", name] for name in names], sets)


def _rendered(
    path: Path,
    folder: Path,
    options: Iterable[list[str]],
    sets: Path | None = None,
    beside: Iterable[Path] = (),
) -> list[Run]:
    jobs, outputs, others = [], [], list(map(str, beside))
    for number, given in enumerate(options):
        output = folder / f"newer_{number}.stl"
        output.unlink(missing_ok=True)
        outputs.append(output)
        named = {"source": str(path), "output": str(output), "sets": str(sets or "")}
        jobs.append({**named, "beside": others, "options": ["--hardwarnings", *given]})
    runs = json.loads(_answer(json.dumps(jobs)))
    return [
        Run(made["status"], made["messages"], output)
        for made, output in zip(runs, outputs, strict=True)
    ]


def _answer(jobs: str) -> str:
    """What the engine answers to a line of jobs. Raises OSError where it ends instead."""
    engine = _engine()
    assert engine.stdin is not None
    assert engine.stdout is not None
    late = threading.Timer(PATIENCE, engine.kill)
    late.start()
    try:
        engine.stdin.write(f"{jobs}\n")
        engine.stdin.flush()
        answer = engine.stdout.readline()
    finally:
        late.cancel()
    if not answer:
        raise OSError(f"the newer OpenSCAD ended with status {engine.wait()}")
    return answer


@functools.cache
def _engine() -> subprocess.Popen[str]:
    """The engine, started once for all tests of a process: its start takes most of the time."""
    command = [*NODE, str(RUNNER), str(PACKAGES)]
    engine = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    atexit.register(engine.communicate)
    return engine
