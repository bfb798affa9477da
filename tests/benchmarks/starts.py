"""Cold beside warm: a command's start, a proof, the gallery."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from unittest.mock import patch

from scadgen.gallery import build
from scadgen.jobs.job import load_job, new_job
from tests.benchmarks.race import Effort, Ratio, race

BARE = ("-c", "pass")
STARTS = {
    "import scadgen": ("-c", "import scadgen"),
    "scadgen --version": ("-m", "scadgen", "--version"),
    "scadgen list": ("-m", "scadgen", "list"),
}


def starting(effort: Effort) -> Iterator[Ratio]:
    """The command's start beside that of Python itself."""
    for what, arguments in STARTS.items():
        works = partial(python, *arguments), partial(python, *BARE)
        yield Ratio(what, "python -c pass", *race(*works, effort.repeats))


def checking(effort: Effort) -> Iterator[Ratio]:
    """A proof in a process that has proven before, beside the command's."""
    with tempfile.TemporaryDirectory() as folder:
        for name in effort.families:
            path = Path(folder) / f"{name}.toml"
            path.write_text(new_job(name), encoding="utf-8")
            job = load_job(path)
            job.prove()
            cold = partial(python, "-m", "scadgen", "check", str(path), "--json", status=(0, 1))
            times = race(job.prove, cold, 1, warm=False)
            yield Ratio(f"check {name} once more", "scadgen check, a new process", *times)


def gallery(effort: Effort) -> Iterator[Ratio]:
    """The gallery with nothing to draw beside the gallery from nothing."""
    with (
        tempfile.TemporaryDirectory() as made,
        patch.object(build, "all_families", lambda: effort.families),
    ):
        folder = Path(made)
        anew = partial(build.write_gallery, folder / "new", None, 1)
        again = partial(build.write_gallery, folder / "new", None, 1)
        first = race(again, anew, 1, warm=False)
        yield Ratio("gallery, nothing changed", "gallery from nothing", *first)
        assert again() == []
        checked = partial(build.check_gallery, folder / "new")
        second = race(checked, again, effort.slow, warm=False)
        yield Ratio("gallery --check", "gallery, nothing changed", *second)


def python(*arguments: str, status: tuple[int, ...] = (0,)) -> str:
    """What Python prints in a process of its own; it must end with one of the statuses."""
    command = [sys.executable, *arguments]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    if done.returncode not in status:
        raise RuntimeError(f"{arguments} ended with {done.returncode}: {done.stderr}")
    return done.stdout
