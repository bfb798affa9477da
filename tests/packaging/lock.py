"""Writes the versions of all that the tests have installed: ``python -m tests.packaging.lock``.

Run it in an environment of the newest versions that all tests pass in:

    SCADGEN_NEWEST=1 tests/run && .venv/bin/python -m tests.packaging.lock
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.metadata import distributions

from tests.support import ROOT

LOCK = ROOT / "tests" / "lock.txt"
HEAD = """\
# Versions that the tests are run with, so that a verdict belongs to the commit: tests/run installs
# them on Python 3.11 to 3.13. Brought up to date by python -m tests.packaging.lock.
"""
#: What an environment holds that no test asks for, and the package itself.
LEFT_OUT = {"pip", "setuptools", "wheel", "scadgen-hinges"}

#: Where one version is not there for all Pythons: those that it is for.
ONLY = {"cytriangle": 'python_version < "3.12"'}


def plain(name: str) -> str:
    """A name as package indexes compare it."""
    return re.sub(r"[-_.]+", "-", name).lower()


def locked() -> dict[str, str]:
    """The versions in the lock, by plain names."""
    lines = LOCK.read_text(encoding="utf-8").splitlines()
    pairs = (line.split(";")[0].split("==") for line in lines if not line.startswith("#"))
    return {plain(name): version for name, version in pairs}


def installed() -> Iterator[str]:
    """A line for each distribution here."""
    found = {plain(each.name): each.version for each in distributions()}
    for name, version in sorted(found.items()):
        if name not in LEFT_OUT:
            yield f"{name}=={version}" + (f"; {ONLY[name]}" if name in ONLY else "")


if __name__ == "__main__":
    LOCK.write_text(HEAD + "\n".join(installed()) + "\n", encoding="utf-8")
