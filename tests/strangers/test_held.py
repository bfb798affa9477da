"""The system's own limits, by which a process is held to its bounds."""

from __future__ import annotations

import os
import resource
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from scadgen.openscad.bounds import GIGABYTE, MOST, Bounds
from tests.strangers.test_apart import PATIENCE, run

#: What the started process does before anything else, where a user has limits already.
_USER = "import resource as r; r.setrlimit(r.{}, ({most}, {most})); print(1, flush=True); "


@contextmanager
def started(text: str) -> Iterator[subprocess.Popen[str]]:
    """A Python that has told that it runs."""
    command = [sys.executable, "-c", text]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout
        assert process.stdout.readline() == "1\n"
        try:
            yield process
        finally:
            process.kill()


@pytest.mark.parametrize(
    ("kind", "most"), [("RLIMIT_AS", 2 * GIGABYTE), ("RLIMIT_FSIZE", 10**6), ("RLIMIT_CPU", 7)]
)
def test_what_the_user_allows_is_never_made_more(
    kind: str, most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The system would refuse that to all but its administrator."""
    monkeypatch.setattr(os, "cpu_count", lambda: 1)
    number = getattr(resource, kind)
    with started(f"{_USER.format(kind, most=most)}input()") as process:
        Bounds().hold(process.pid)
        assert resource.prlimit(process.pid, number) == (most, most)
        Bounds(seconds=3, memory=1, output=0.0001).hold(process.pid)
        assert max(resource.prlimit(process.pid, number)) < most


def test_what_nobody_waits_for_ends_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    """As OpenSCAD does, after what started it was killed."""
    monkeypatch.setattr(os, "cpu_count", lambda: 1)
    with started("print(1, flush=True)\nwhile True: pass") as process:
        Bounds(seconds=1).hold(process.pid)
        assert process.wait(PATIENCE) in (-signal.SIGXCPU, -signal.SIGKILL)


def test_a_command_says_how_much_the_user_s_own_limit_leaves(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(resource, "getrlimit", lambda _: (3 * GIGABYTE, -1))
    assert Bounds().room == 3
    assert Bounds(memory=2).room == 2


def test_the_most_that_may_be_asked_for_works() -> None:
    most = f"{MOST:.0f}"
    done = run("check", "no.toml", "--time-limit", most, "--memory", most)
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)
    assert "no.toml" in done.stderr
    done = run("inspect", "no.stl", "--time-limit", most, "--memory", most)
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)
    assert "no.stl" in done.stderr
