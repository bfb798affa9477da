"""Settings of the whole test run: how much is drawn, and what happens without OpenSCAD."""

from __future__ import annotations

import os
import shutil

import pytest
from hypothesis import settings

NOT_RUN = "no OpenSCAD on the PATH"
REMEDY = (
    "Install OpenSCAD 2021.01 or newer (Debian and Ubuntu: apt-get install openscad), "
    "or run tests/run, which does."
)

pytest.register_assert_rewrite("tests.support")

settings.register_profile("fast", max_examples=60, deadline=None)
settings.register_profile("ci", settings.get_profile("fast"), derandomize=True)
settings.register_profile("thorough", settings.get_profile("fast"), max_examples=2000)
settings.load_profile(
    os.environ.get("HYPOTHESIS_PROFILE") or ("ci" if os.environ.get("CI") else "fast")
)


def pytest_configure(config: pytest.Config) -> None:
    config.addinivalue_line("markers", "openscad: runs the real OpenSCAD")


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_call(item: pytest.Item) -> None:
    if item.get_closest_marker("openscad") is None or shutil.which("openscad"):
        return
    if os.environ.get("SCADGEN_REQUIRE_OPENSCAD") == "1":
        pytest.fail(f"{NOT_RUN}. {REMEDY}", pytrace=False)
    pytest.skip(NOT_RUN)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say loudly what was not run: a skipped test has shown nothing."""
    skipped = terminalreporter.stats.get("skipped", [])
    missed = [r.nodeid for r in skipped if NOT_RUN in str(r.longrepr)]
    if missed:
        files = ", ".join(sorted({nodeid.split("::")[0] for nodeid in missed}))
        terminalreporter.section("SOME TESTS WERE NOT RUN", red=True, bold=True)
        words = f"NOT RUN: {len(missed)} that need OpenSCAD ({files}). {REMEDY}"
        terminalreporter.line(words, red=True, bold=True)
