"""Where there is no browser, its tests are not run in silence."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support import ROOT


@pytest.mark.parametrize(("required", "code", "end"), [("", 0, "1 skipped"), ("1", 1, "1 failed")])
def test_a_run_without_a_browser(required: str, code: int, end: str, tmp_path: Path) -> None:
    files = ["tests/browser/test_page.py", "-k", "links_lead_to_files"]
    done = subprocess.run(
        [sys.executable, "-m", "pytest", *files],
        cwd=ROOT,
        env={**os.environ, "PATH": str(tmp_path), "SCADGEN_REQUIRE_BROWSER": required},
        capture_output=True,
        text=True,
        check=False,
    )
    lines = done.stdout.splitlines()
    assert done.returncode == code
    assert end in lines[-1]
    assert any("apt-get install chromium chromium-driver" in line for line in lines)
    named = "NOT RUN: 1 that need browser with its driver and packages (tests/browser/test_page.py)"
    assert any(named in line for line in lines) == (code == 0)
