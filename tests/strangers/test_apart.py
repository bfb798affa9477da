"""Work in a process of its own: it ends with its time, its memory, and whoever waits for it."""

from __future__ import annotations

import faulthandler
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import numpy as np
import pytest

from scadgen.cli.apart import apart
from scadgen.meshfiles.writing import STL_COUNT, STL_FACET, STL_HEAD, stl
from scadgen.openscad.bounds import Bounds
from scadgen.tables.documents import JobError
from tests.inspection.models import Array

#: How long a test waits for what is bound to happen on a busy machine, s.
PATIENCE = 60.0
#: A file that OpenSCAD never comes to the end of.
ENDLESS = "for (i = [0:999], j = [0:999], k = [0:999], l = [0:999]) cube(i);\n"

pytestmark = pytest.mark.filterwarnings("ignore:.*multi-threaded.*fork:DeprecationWarning")


def until(met: Callable[[], bool]) -> bool:
    late = time.monotonic() + PATIENCE
    while not met() and time.monotonic() < late:
        time.sleep(0.02)
    return met()


def gone(pid: int) -> bool:
    """Whether a process has ended, or has only not been waited for."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] == "Z"
    except OSError:
        return True


def stl_of(triangles: Array) -> bytes:
    facets = np.zeros(len(triangles), STL_FACET)
    facets["corners"] = triangles
    return bytes(STL_HEAD) + len(triangles).to_bytes(STL_COUNT, "little") + facets.tobytes()


def command(*words: str) -> list[str]:
    return [sys.executable, "-m", "scadgen", *words]


def run(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        command(*words), capture_output=True, text=True, timeout=PATIENCE, check=False
    )


def test_its_status_is_that_of_the_work() -> None:
    for status in range(3):
        assert apart(partial(int, status), "x.stl", Bounds()) == status


def test_it_ends_with_its_time(tmp_path: Path) -> None:
    def endless() -> int:
        (tmp_path / "pid").write_text(str(os.getpid()))
        while True:
            time.sleep(1)

    with pytest.raises(JobError, match=r"x\.stl: it took longer than 0\.5 s\. Ask for fewer"):
        apart(endless, "x.stl", Bounds(0.5))
    assert until(lambda: gone(int((tmp_path / "pid").read_text())))


def test_what_hears_nothing_ends_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """As the kernel of solids, while it computes."""
    monkeypatch.setattr("scadgen.cli.apart.PATIENCE", 0.1)

    def deaf() -> int:
        signal.signal(signal.SIGTERM, signal.SIG_IGN)
        while True:
            time.sleep(1)

    with pytest.raises(JobError, match="it took longer"):
        apart(deaf, "x.stl", Bounds(0.5))


def test_what_breaks_is_said() -> None:
    def broken() -> int:
        faulthandler.disable()
        os.kill(os.getpid(), signal.SIGSEGV)
        return 0

    with pytest.raises(JobError, match=r"x\.stl: the kernel of solids broke .*SIGSEGV"):
        apart(broken, "x.stl", Bounds())


def test_memory_is_bounded(tmp_path: Path) -> None:
    path = tmp_path / "many.stl"
    path.write_bytes(stl_of(np.random.default_rng(1).uniform(0, 90, (300_000, 3, 3))))
    asked = run("inspect", str(path), "--memory", "0.35")
    assert asked.returncode == 2
    assert f"{path}: more memory is needed than there is, or is allowed: 0.35 GB" in asked.stderr
    assert asked.stderr.count("\n") == 1


def test_the_command_is_bounded_by_its_option(tmp_path: Path) -> None:
    path = tmp_path / "balls.stl"
    from manifold3d import Manifold

    balls = [Manifold.sphere(9, 300).translate((20 * k, 0, 0)) for k in range(12)]
    path.write_bytes(stl(Manifold.compose(balls)))
    asked = run("inspect", str(path), "--time-limit", "0.2")
    assert asked.returncode == 2
    assert asked.stderr == (
        f"scadgen: {path}: it took longer than 0.4 s. Leave in it only what is asked "
        "about, with fewer facets, or allow more with --time-limit.\n"
    )


@pytest.mark.openscad
@pytest.mark.parametrize("sent", [signal.SIGINT, signal.SIGTERM])
def test_a_signal_ends_openscad_too(tmp_path: Path, sent: signal.Signals) -> None:
    path = tmp_path / "endless.scad"
    path.write_text(ENDLESS)
    with subprocess.Popen(
        command("inspect", str(path)), stderr=subprocess.PIPE, text=True, start_new_session=True
    ) as process:
        drawing: list[int] = []

        def started() -> bool:
            drawing[:] = _of(str(path), "openscad")
            return bool(drawing)

        assert until(started)
        os.killpg(process.pid, sent)  # as a terminal does: to the command and its child
        _, said = process.communicate(timeout=PATIENCE)
    assert until(lambda: all(map(gone, drawing)))
    if sent == signal.SIGINT:
        assert process.returncode == 130
        assert said == "scadgen: interrupted; nothing was changed.\n"
    else:
        assert process.returncode == 128 + sent
        assert said == ""


def _of(word: str, program: str) -> list[int]:
    """The processes of a program that were given a word."""
    found = []
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            words = (folder / "cmdline").read_text().split("\0")
        except OSError:
            continue
        if word in words and program in words[0]:
            found.append(int(folder.name))
    return found


def test_a_model_is_measured_as_ever(tmp_path: Path) -> None:
    from scadgen import SideCones, mesh

    path = tmp_path / "hinge.stl"
    path.write_bytes(stl(mesh(SideCones(facets=32))))
    asked = run("inspect", str(path), "--layers", "0.2")
    assert asked.returncode == 0, asked.stderr
    assert "hinge.stl: " in asked.stdout
