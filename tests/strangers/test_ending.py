"""A command whose output goes nowhere ends without a traceback, and never as if all were well."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from scadgen.cli.commands import all_names
from scadgen.cli.ending import UNREAD, ended
from scadgen.cli.main import parser
from scadgen.jobs.job import new_job
from tests.support import ROOT

#: An environment with next to nothing in it: no home, no terminal, no encoding but the oldest.
BARE = {"PATH": os.environ["PATH"], "LC_ALL": "C", "PYTHONIOENCODING": "ascii", "COLUMNS": "20"}
#: Commands that read what people write, and so are kept within bounds.
READING = {
    *("check", "choose", "coupon", "fleet", "inspect", "product", "size", "toolpath", "write"),
}


@pytest.fixture
def unread() -> Iterator[int]:
    """A pipe that nobody reads."""
    reading, writing = os.pipe()
    os.close(reading)
    yield writing
    os.close(writing)


def into(output: int, *words: str, folder: Path = ROOT) -> subprocess.CompletedProcess[str]:
    """The command, its output kept by Python until it ends, as it is where no person looks."""
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONUNBUFFERED"}
    command = [sys.executable, "-m", "scadgen", *words]
    return subprocess.run(
        command, stdout=output, stderr=subprocess.PIPE, text=True, env=environment, cwd=folder
    )


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("ending") / "strip.toml"
    path.write_text(new_job("sheet_flexure"), encoding="utf-8")
    return path


@pytest.mark.parametrize(
    "words", [["list"], ["--help"], ["check", "{}", "--json"], ["check", "{}"]]
)
def test_a_pipe_that_nobody_reads(words: list[str], job: Path, unread: int) -> None:
    done = into(unread, *(word.format(job) for word in words))
    assert (done.returncode, done.stderr) == (UNREAD, "")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full disk to be had")
@pytest.mark.parametrize("words", [["list"], ["check", "{}", "--json"]])
def test_a_disk_that_is_full(words: list[str], job: Path) -> None:
    with Path("/dev/full").open("w") as full:
        done = into(full.fileno(), *(word.format(job) for word in words))
    assert done.returncode == 2
    assert done.stderr == "scadgen: the output cannot be written: No space left on device.\n"


def test_signs_that_the_output_lacks_are_printed_by_number(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "scadgen", "new", "side_cones", "--out", "k\u00e4se.toml"]
    environment = BARE | {"PYTHONPATH": str(ROOT)}
    done = subprocess.run(command, capture_output=True, text=True, env=environment, cwd=tmp_path)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == "wrote k\\xe4se.toml\n"
    assert (tmp_path / "k\u00e4se.toml").exists()


def test_its_time_bounds_a_job(job: Path) -> None:
    done = into(subprocess.DEVNULL, "check", str(job), "--time-limit", "0.01")
    assert done.returncode == 2
    assert done.stderr.startswith(f"scadgen: {job}: it took longer than 0.01 s.")


def test_every_command_that_reads_what_people_write_is_bounded() -> None:
    commands = parser(all_names()).commands
    assert {n for n, one in commands.items() if one.get_default("bounds") is not None} == READING


def test_the_status_of_the_work_is_kept() -> None:
    assert [ended(lambda status=status: status) for status in (0, 1, 2)] == [0, 1, 2]  # type: ignore[misc]
    assert ended(lambda: sys.exit(128 + signal.SIGTERM)) == 143
    assert ended(lambda: sys.exit()) == 0


def test_nothing_is_told_twice(capsys: pytest.CaptureFixture[str]) -> None:
    def full() -> int:
        raise OSError(28, "No space left on device")

    assert ended(full) == 2
    assert capsys.readouterr().err == ""
