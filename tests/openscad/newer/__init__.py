"""Running a newer OpenSCAD than the one that is installed: 2025, as a package for Node.js."""

from __future__ import annotations

import json
import subprocess
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


def run(path: Path, folder: Path, *options: str, **settings: Any) -> Run:
    """Render a file on its own, with ``-D`` for each of ``settings``; the first warning ends it."""
    (done,) = run_each(path, folder, [settings], *options)
    return done


def run_each(
    path: Path, folder: Path, sets: Iterable[Mapping[str, Any]], *options: str
) -> list[Run]:
    """Render a file on its own with each set of settings: the engine is started once for all."""
    jobs, outputs = [], []
    for number, settings in enumerate(sets):
        output = folder / f"newer_{number}.stl"
        output.unlink(missing_ok=True)
        outputs.append(output)
        given = [f"-D{name}={literal(value)}" for name, value in settings.items()]
        named = {"source": str(path), "output": str(output)}
        jobs.append({**named, "options": ["--hardwarnings", *given, *options]})
    command = [*NODE, str(RUNNER), str(PACKAGES), json.dumps(jobs)]
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=300)
    runs = json.loads(done.stdout)
    return [
        Run(made["status"], made["messages"], output)
        for made, output in zip(runs, outputs, strict=True)
    ]
