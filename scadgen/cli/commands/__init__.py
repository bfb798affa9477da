"""The commands, one file each: ``WHAT`` it does, its ``arguments`` and how to ``run`` it.

The name of the file is the name of the command ('_' becomes '-'). A command only parses, calls the
API and prints; costly modules are imported where they are used. One that reads a ``file`` that a
stranger may have written has ``bounds(options)``: what it may take, in a process of its own.
"""

from __future__ import annotations

import argparse
import importlib
import os
from collections.abc import Iterable, Iterator
from typing import Protocol


class Command(Protocol):
    """What the file of a command holds."""

    __name__: str
    WHAT: str

    def arguments(self, parser: argparse.ArgumentParser) -> None:
        """Add the command's own arguments to its parser."""

    def run(self, options: argparse.Namespace) -> int:
        """Do it and return the exit status."""


def all_names() -> list[str]:
    """The names of all commands: whatever files this folder holds."""
    files = (entry.name for entry in os.scandir(__path__[0]))  # pathlib is slow to import
    stems = sorted(name[:-3] for name in files if name.endswith(".py") and name[0] != "_")
    return [stem.replace("_", "-") for stem in stems]


def all_commands(names: Iterable[str] | None = None) -> Iterator[tuple[str, Command]]:
    """Every command with its name, or only those with the names."""
    for name in all_names() if names is None else names:
        command: Command = importlib.import_module(f"{__name__}.{name.replace('-', '_')}")
        yield name, command
