"""Where the processor's time goes: ``pytest --spent 25`` tells the files that took most of it.

Unlike seconds on the wall these stay the same beside other work. Programs that a test started are
counted when they end: a browser or an engine that several tests share, with the last of them.
"""

from __future__ import annotations

import resource
import time
from collections import defaultdict
from collections.abc import Generator
from typing import Any

import pytest


def spent() -> float:
    """Processor seconds of this process so far, and of the programs that it started."""
    ended = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.process_time() + ended.ru_utime + ended.ru_stime


def table(reports: list[Any], most: int) -> list[str]:
    """A line for each of the files that took most, and one for all."""
    files: defaultdict[str, float] = defaultdict(float)
    for report in reports:
        files[report.nodeid.partition("::")[0]] += getattr(report, "spent", 0.0)
    long = sorted(files, key=lambda path: -files[path])[:most]
    lines = [f"{files[path]:8.1f} s  {path}" for path in long]
    whole = sum(files.values())
    return [*lines, f"{whole:8.1f} s  in all, but for what the processes do around tests"]


class Spent:
    """Takes the time of every step of a test, in whatever process it runs."""

    def __init__(self, most: int) -> None:
        self.most, self.before = most, 0.0

    def pytest_runtest_logstart(self) -> None:
        self.before = spent()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_makereport(
        self,
    ) -> Generator[None, pytest.TestReport, pytest.TestReport]:
        report = yield
        now = spent()
        report.spent = now - self.before  # type: ignore[attr-defined]
        self.before = now
        return report

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        every = [report for reports in terminalreporter.stats.values() for report in reports]
        ran = [report for report in every if isinstance(report, pytest.TestReport)]
        terminalreporter.section("processor time")
        for line in table(ran, self.most):
            terminalreporter.line(line)
