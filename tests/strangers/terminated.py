"""Ends every command that writes at random moments: ``python -m tests.strangers.terminated 5``.

It is a script and no test. Each command runs to its end first, for what it writes and how long it
takes; then, over the files of an older job, it is sent SIGTERM so many times, alone or with its
whole process group. Afterwards all files must be the old ones or all the new ones, nothing else may
lie there, no process may be left, and its status must be 143, or that of its end.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path

from scadgen.cli.ending import SIGNALLED
from scadgen.keeping.record import NAME
from tests.product.test_reading import TEXT
from tests.support import ROOT
from tests.test_files import contents
from tests.toolpaths.made import Dialect, Run, bar, level

ENDED = SIGNALLED + signal.SIGTERM
OLD, NEW = 16, 20
PETG = "[printers]\nmaterial = 'petg'\n"
#: What is run, in a folder with the files that ``prepared`` puts there.
COMMANDS = {
    "write": "write job.toml --out made",
    "coupon": "coupon rod_loops --out made",
    "library": "library --out made",
    "product": "product product.toml --out made",
    "check": "check job.toml --certificate made/x.json",
    "size": "size wish.toml --out made/sized.toml",
    "choose": "choose wish.toml --out made/chosen.toml",
    "toolpath": "toolpath x.gcode --picture made/x.png",
    "inspect": "inspect x.stl --picture made/x.png",
    "gallery": "gallery --out made",
}
#: What would take minutes, and is ended within so many seconds.
LONG = {"choose": 15.0, "gallery": 20.0}
#: How long a process may take to end that was told to, s: it may be in the middle of the kernel.
PATIENCE = 60.0


def prepared(folder: Path, facets: int) -> None:
    """The files that commands read."""
    job = f"family = 'side_cones'\n[size]\nfacets = {facets}\n"
    product = f"{TEXT}bed = [{200 + facets}, 200]\n"
    wish = f"{job}{PETG}[duty]\nload = 5\n"
    for name, text in {"job": job, "product": product, "wish": wish}.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    hanging = Run(level(1), ((2.0, 2.0), (2.0, 9.0)))  # so that there is something to draw
    Dialect().write(folder / "x.gcode", [*bar(level(0), 0), hanging])


def started(words: str, folder: Path) -> subprocess.Popen[str]:
    """The command, in a process group of its own."""
    return subprocess.Popen(
        [sys.executable, "-m", "scadgen", *words.split()],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )


def made(folder: Path) -> Mapping[str, bytes | None]:
    """All files that were written; the record of what was written is not told."""
    there = contents(folder / "made") if (folder / "made").exists() else {}
    return {name: data for name, data in there.items() if name != NAME}


def faults(
    words: str, folder: Path, delay: float, group: bool, new: Mapping[str, bytes | None]
) -> Iterator[str]:
    """What is wrong after the command was told to end; its status last."""
    old = made(folder)
    process = started(words, folder)
    time.sleep(delay)
    (os.killpg if group else os.kill)(process.pid, signal.SIGTERM)
    try:
        _, said = process.communicate(timeout=PATIENCE)
    except subprocess.TimeoutExpired:
        os.killpg(process.pid, signal.SIGKILL)
        _, said = process.communicate()
        yield "it did not end"
    if left := of_group(process.pid):
        os.killpg(process.pid, signal.SIGKILL)
        yield f"{left} processes are left"
    if made(folder) not in (old, new):
        yield f"files are neither the old nor the new ones: {sorted(made(folder))}"
    if "Traceback" in said:
        yield said
    if process.returncode not in (0, 1, ENDED, -signal.SIGTERM):
        yield f"status {process.returncode}"


def of_group(group: int) -> int:
    """How many processes of a group are there, once they have had a moment to end."""
    for _ in range(20):
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return 0
        time.sleep(0.1)
    return 1


def main() -> int:
    parser = argparse.ArgumentParser(description="End commands at random moments.")
    parser.add_argument("times", type=int, nargs="?", default=5)
    parser.add_argument("--only", nargs="*", default=[*COMMANDS], choices=COMMANDS)
    options = parser.parse_args()
    rng, bad = random.Random(1), 0
    for name in options.only:
        with tempfile.TemporaryDirectory() as place:
            bad += ended(name, Path(place), options.times, rng)
    return bool(bad)


def ended(name: str, place: Path, times: int, rng: random.Random) -> int:
    """A line of the table on one command; how many times something was wrong."""
    words, took = COMMANDS[name], 0.0
    for version, facets in (("old", OLD), ("new", NEW)):
        (place / version).mkdir()
        prepared(place / version, facets)
        if name == "inspect":
            models(place / version, facets)
        start = time.monotonic()
        if name not in LONG:
            started(words, place / version).communicate()
        took = LONG.get(name, time.monotonic() - start)
    written = sum(data is not None for data in made(place / "new").values())
    found: Counter[str] = Counter()
    for k in range(times):
        folder = place / str(k)
        shutil.copytree(place / "new", folder)
        shutil.rmtree(folder / "made", ignore_errors=True)
        if (place / "old" / "made" / NAME).exists():  # the others write over no file
            shutil.copytree(place / "old" / "made", folder / "made")
        found.update(
            faults(words, folder, rng.uniform(0.05, took), k % 2 == 1, made(place / "new"))
        )
    told = "; ".join(f"{count} x {words}" for words, count in found.items()) or "sound"
    print(f"{name}: {times} ends, {written} files: {told}", flush=True)
    return found.total()


def models(folder: Path, facets: int) -> None:
    """A hinge in a file."""
    from scadgen import SideCones, mesh
    from scadgen.meshfiles.writing import stl

    (folder / "x.stl").write_bytes(stl(mesh(SideCones(facets=facets))))


if __name__ == "__main__":
    sys.exit(main())
