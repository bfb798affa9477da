"""The command starts quickly: it reads no more than it needs."""

from __future__ import annotations

import subprocess
import sys

import pytest

_LOADED = """\
import contextlib, io, sys
from scadgen.cli.main import main
with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):
    main(sys.argv[1:])
print(*sorted(sys.modules))
"""
COSTLY = {"numpy", "manifold3d", "scipy", "jinja2", "rich", "solid2"}


def loaded(*arguments: str) -> set[str]:
    """The modules that a command has loaded when it ends."""
    command = [sys.executable, "-c", _LOADED, *arguments]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    return set(done.stdout.split())


@pytest.mark.parametrize("argument", ["--version", "list", "--help"])
def test_nothing_costly_is_loaded(argument: str) -> None:
    assert not loaded(argument) & COSTLY


@pytest.mark.parametrize(("argument", "wanted"), [("--version", set()), ("list", {"list"})])
def test_the_files_of_other_commands_stay_unread(argument: str, wanted: set[str]) -> None:
    folder = "scadgen.cli.commands."
    found = {name.removeprefix(folder) for name in loaded(argument) if name.startswith(folder)}
    assert found == wanted
