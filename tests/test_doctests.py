"""The examples in the package's docstrings give what they say."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import scadgen


def test_examples_in_docstrings_hold() -> None:
    found = pkgutil.walk_packages(scadgen.__path__, "scadgen.")
    names = ["scadgen", *(module.name for module in found if "__main__" not in module.name)]
    results = [doctest.testmod(importlib.import_module(name)) for name in names]
    assert sum(result.attempted for result in results) > 0
    assert sum(result.failed for result in results) == 0
