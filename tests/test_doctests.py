"""The examples in the package's docstrings give what they say."""

from __future__ import annotations

import doctest
import importlib

from tests.support import ROOT


def test_examples_in_docstrings_hold() -> None:
    """Of modules that have any: others need not be loaded for it."""
    paths = sorted((ROOT / "scadgen").rglob("*.py"))
    told = [path for path in paths if ">>>" in path.read_text(encoding="utf-8")]
    parts = [path.relative_to(ROOT).with_suffix("").parts for path in told]
    names = [".".join(part for part in each if part != "__init__") for each in parts]
    results = [doctest.testmod(importlib.import_module(name)) for name in names]
    assert len(results) > 0
    assert sum(result.attempted for result in results) >= len(results)
    assert sum(result.failed for result in results) == 0
