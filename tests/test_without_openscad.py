"""Where OpenSCAD is missing, its tests are not run in silence."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support import ROOT


def outcome(empty: Path, *options: str, **variables: str) -> tuple[int, list[str]]:
    """Exit code and lines of a run of one OpenSCAD test and one other, with nothing on the PATH."""
    files = ["tests/test_expr.py", "tests/openscad/test_values.py"]
    command = [sys.executable, "-m", "pytest", "-k", "trigonometry_is_exact", *options, *files]
    environment = {k: v for k, v in os.environ.items() if k != "SCADGEN_REQUIRE_OPENSCAD"}
    environment |= {"PATH": str(empty), **variables}
    done = subprocess.run(
        command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False
    )
    return done.returncode, done.stdout.splitlines()


@pytest.mark.parametrize("options", [[], ["-n", "1"]], ids=["alone", "with workers"])
def test_a_plain_run_names_what_was_not_run_and_how_to_get_the_engine(
    tmp_path: Path, options: list[str]
) -> None:
    code, lines = outcome(tmp_path, *options)
    loud = next(line for line in lines if "NOT RUN: " in line and "(" in line)
    assert code == 0
    assert loud.startswith("NOT RUN: 1 that need OpenSCAD (tests/openscad/test_values.py). ")
    assert "apt-get install openscad" in loud
    assert "passed, 1 skipped" in lines[-1]


def test_a_run_that_requires_the_engine_fails(tmp_path: Path) -> None:
    code, lines = outcome(tmp_path, SCADGEN_REQUIRE_OPENSCAD="1")
    assert code == 1
    assert any("apt-get install openscad" in line for line in lines)
    assert "1 failed" in lines[-1]
