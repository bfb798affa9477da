"""Runs tests with a mutant, in a child that forgets it: what takes long to import is there once."""

from __future__ import annotations

import contextlib
import os
import signal
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from tests.mutants.switch import Finder

#: How long the tests that are run at once may take, s.
PATIENCE = 900
#: How pytest ends that has run: all well, something failed, nothing there to run.
RAN = (0, 1, 5)


class First:
    """Keeps the first test that fails."""

    def __init__(self) -> None:
        self.failed = ""

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed and not self.failed:
            self.failed = report.nodeid

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed and not self.failed:
            self.failed = f"{report.nodeid} (does not load)"


def first_failed(mutant: str, tests: Sequence[str], root: Path) -> str:
    """The first of the tests that fails with the mutant; "" if none does."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        signal.alarm(PATIENCE)
        with contextlib.suppress(BaseException):
            os.write(writing, _in_child(mutant, tests, root).encode())
            os._exit(0)
        os._exit(1)
    os.close(writing)
    with open(reading, encoding="utf-8") as told:  # noqa: PTH123 - a pipe
        found = told.read()
    _, status = os.waitpid(child, 0)
    if status:
        raise RuntimeError(f"{mutant}: the tests never ended or did not run: {tests}")
    return found


def _in_child(mutant: str, tests: Sequence[str], root: Path) -> str:
    os.chdir(root)
    os.environ["CI"] = "1"
    sys.meta_path.insert(0, Finder(mutant))
    first = First()
    with Path(os.devnull).open("w") as nowhere:
        os.dup2(nowhere.fileno(), 1)
        os.dup2(nowhere.fileno(), 2)
        status = pytest.main(["-q", "-x", *tests], plugins=[first])
    if status not in RAN and not first.failed:
        raise RuntimeError(f"pytest ended with {status}")
    return first.failed
