"""The commands, one file each: ``WHAT`` it does, its ``arguments`` and how to ``run`` it.

The name of the file is the name of the command ('_' becomes '-'). A command only parses, calls the
API and prints; costly modules are imported where they are used.
"""

from __future__ import annotations

import argparse
import importlib
from collections.abc import Iterator
from pathlib import Path
from typing import Protocol


class Command(Protocol):
    """What the file of a command holds."""

    __name__: str
    WHAT: str

    def arguments(self, parser: argparse.ArgumentParser) -> None:
        """Add the command's own arguments to its parser."""

    def run(self, options: argparse.Namespace) -> int:
        """Do it and return the exit status."""


def all_commands() -> Iterator[tuple[str, Command]]:
    """Every command with its name: whatever files this folder holds."""
    for name in sorted(path.stem for path in Path(__file__).parent.glob("[!_]*.py")):
        command: Command = importlib.import_module(f"{__name__}.{name}")
        yield name.replace("_", "-"), command
