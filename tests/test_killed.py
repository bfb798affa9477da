"""Writers are killed at any moment: a file is wholly old or wholly new, and nothing piles up.

``SCADGEN_KILLS`` is the number of kills at random moments.
"""

from __future__ import annotations

import itertools
import os
import random
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from scadgen.keeping.edits import write_keeping
from scadgen.keeping.record import NAME
from tests.killed import FAULT, files
from tests.support import ROOT

KILLS = int(os.environ.get("SCADGEN_KILLS", "40"))
LONGEST = 0.15  # s from a writer's start to its end; one writing takes a fraction of it


class Writers:
    """Processes that write into a folder, one after the other."""

    def __init__(self, process: subprocess.Popen[str], folder: Path) -> None:
        assert process.stdin
        assert process.stdout
        self.ask, self.answer, self.folder = process.stdin, process.stdout, folder

    def start(self, line: str) -> int:
        """A new writer's number."""
        self.ask.write(f"{line}\n")
        self.ask.flush()
        return int(self.answer.readline())

    def killed(self) -> bool:
        """Whether the writer was killed: known when it is gone."""
        status = int(self.answer.readline())
        assert status in (0, signal.SIGKILL)
        return status == signal.SIGKILL


@pytest.fixture
def writers(tmp_path: Path) -> Iterator[Writers]:
    folder = tmp_path / "parts"
    write_keeping(folder, files(1_000_000))
    with subprocess.Popen(
        [sys.executable, "-m", "tests.killed", str(folder)],
        cwd=ROOT,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        yield Writers(process, folder)
        assert process.stdin
        process.stdin.close()


def versions_of_whole_files(folder: Path, most: int = 2) -> set[int]:
    """The versions in the folder: each file is the whole of one, and so many there are at most."""
    versions = set()
    for path in folder.glob("[!.]*"):
        data = path.read_bytes()
        found = re.search(rb"\d{6,}", data[:100])
        assert found
        versions.add(int(found[0]))
        assert data == files(int(found[0]))[path.name]
    assert len(versions) <= most
    assert not (folder.parent / FAULT).exists()
    return versions


def left_over(folder: Path) -> int:
    return len([path for path in folder.glob(".*") if path.name != NAME])


def assert_finished(folder: Path) -> None:
    """Writing again finishes what was begun and clears away what was left."""
    assert write_keeping(folder, files(2_000_000)).kept == []
    assert {path.name: path.read_bytes() for path in folder.glob("[!.]*")} == files(2_000_000)
    assert left_over(folder) == 0


def test_killed_at_any_moment(writers: Writers) -> None:
    delays = random.Random(1)
    left, most = [], 2
    for _ in range(KILLS):
        writer = writers.start("")
        time.sleep(delays.uniform(0.002, LONGEST))
        os.kill(writer, signal.SIGKILL)
        assert writers.killed()
        found = versions_of_whole_files(writers.folder, most)
        assert found
        most = max(2, len(found) + 1)  # one that is killed in its first writing adds a version
        left.append(left_over(writers.folder))
        assert left[-1] <= 2 * len([NAME, *files(0)])
    assert any(left), "no kill came in the middle of a writing"
    assert_finished(writers.folder)


def test_killed_before_any_operation_on_files(writers: Writers) -> None:
    mixed = 0
    for operation in itertools.count(1):
        writers.start(str(operation))
        if not writers.killed():
            break
        mixed += len(versions_of_whole_files(writers.folder)) == 2
        assert_finished(writers.folder)
    assert operation > 3 * len(files(0))
    assert mixed, "no kill came between two files"
