"""What a command may take that reads what a stranger may have written: its options."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from scadgen.openscad.bounds import Bounds


def add_bounds(parser: argparse.ArgumentParser, *, renders: bool = False) -> None:
    """Options for time and memory; ``renders``: OpenSCAD is run on it, which may read files."""
    add = parser.add_argument
    whose = "for OpenSCAD, and as much again" if renders else "for reading, and as much again"
    add("--time-limit", metavar="SECONDS", type=float, help=f"{whose}; default: 300")
    add("--memory", metavar="GB", type=float, help="that it may take (Linux); default: 6")
    if renders:
        add(
            "--allow",
            metavar="FOLDER",
            type=Path,
            action="append",
            default=[],
            help="from which a .scad may read files, besides its own folder",
        )


def asked_bounds(options: argparse.Namespace) -> Bounds:
    """What OpenSCAD may take."""
    from scadgen.openscad.bounds import Bounds

    given: dict[str, Any] = {"seconds": options.time_limit, "memory": options.memory}
    known = {name: value for name, value in given.items() if value is not None}
    return Bounds(**known, folders=tuple(getattr(options, "allow", ())))


def whole_bounds(options: argparse.Namespace) -> Bounds:
    """What a command may take in all: as long for its own work as for OpenSCAD."""
    one = asked_bounds(options)
    return replace(one, seconds=2 * one.seconds)
