"""The time that files took is told, of all steps of their tests and of programs that they start."""

from __future__ import annotations

import subprocess
import sys
from types import SimpleNamespace

from tests.spent import Spent, spent, table

BUSY = "sum(i * i for i in range(2_000_000))"


def test_programs_that_have_ended_count() -> None:
    before = spent()
    subprocess.run([sys.executable, "-c", BUSY], check=True)
    assert spent() - before > 0.03


def test_the_most_come_first_and_all_are_summed() -> None:
    steps = [("a.py::one", 1.0), ("b.py::two", 2.5), ("a.py::one", 0.5), ("c.py::it[b.py]", 0.25)]
    reports = [SimpleNamespace(nodeid=name, spent=seconds) for name, seconds in steps]
    first, second, whole = table([*reports, SimpleNamespace(nodeid="d.py::old")], 2)
    assert first.split() == ["2.5", "s", "b.py"]
    assert second.split() == ["1.5", "s", "a.py"]
    assert whole.split()[0] == "4.2"


def test_each_step_has_its_own_time() -> None:
    taken = Spent(1)
    taken.pytest_runtest_logstart()
    found = []
    for _ in range(2):
        step = taken.pytest_runtest_makereport()
        next(step)
        try:
            step.send(SimpleNamespace())  # type: ignore[arg-type]
        except StopIteration as done:
            found.append(done.value.spent)
    assert all(0 <= seconds < 1 for seconds in found)
    assert len(found) == 2
