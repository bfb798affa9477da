"""Running a newer OpenSCAD than the one that is installed: 2025, as a package for Node.js."""

from __future__ import annotations

import subprocess
from pathlib import Path
from typing import Any

from tests.engine import Run, literal
from tests.support import ROOT

#: Where tests/run puts the package; never committed.
PACKAGES = ROOT / "build" / "newer" / "node_modules"
RUNNER = Path(__file__).with_name("render.mjs")


def run(path: Path, folder: Path, *options: str, **settings: Any) -> Run:
    """Render a file on its own, with ``-D`` for each of ``settings``; the first warning ends it."""
    output = folder / "newer.stl"
    output.unlink(missing_ok=True)
    command = ["node", str(RUNNER), str(PACKAGES), str(path), str(output), "--hardwarnings"]
    for name, value in settings.items():
        command += ["-D", f"{name}={literal(value)}"]
    done = subprocess.run(
        [*command, *options], capture_output=True, text=True, check=False, timeout=300
    )
    return Run(done.returncode, done.stdout + done.stderr, output)
