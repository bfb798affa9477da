"""What a command may take that reads what a stranger may have written: its options."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from scadgen.openscad.bounds import Bounds

#: How long a job may take, s: finite elements take minutes.
JOB_SECONDS = 1800.0
#: The arguments of the commands that tell what they work on.
SUBJECTS = ("file", "job", "family")


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


def add_job_bounds(parser: argparse.ArgumentParser) -> None:
    """Options for time and memory of what is worked out of values, which takes longer."""
    add = parser.add_argument
    seconds = f"that it may take; default: {JOB_SECONDS:g}"
    add("--time-limit", metavar="SECONDS", type=float, default=JOB_SECONDS, help=seconds)
    add("--memory", metavar="GB", type=float, help="that it may take (Linux); default: 6")


def named(options: argparse.Namespace) -> str:
    """What a command that is bounded works on, for messages."""
    return next(str(getattr(options, name)) for name in SUBJECTS if hasattr(options, name))


def remedy(options: argparse.Namespace) -> str:
    """What to do so that it takes less: with a file from elsewhere, or with values."""
    if isinstance(getattr(options, "file", None), Path):
        return "Leave in it only what is asked about, with fewer facets"
    return "Ask for fewer facets"


def asked_bounds(options: argparse.Namespace) -> Bounds:
    """What OpenSCAD may take, or all of a job."""
    from scadgen.openscad.bounds import Bounds

    given: dict[str, Any] = {"seconds": options.time_limit, "memory": options.memory}
    known = {name: value for name, value in given.items() if value is not None}
    return Bounds(**known, folders=tuple(getattr(options, "allow", ())))


def whole_bounds(options: argparse.Namespace) -> Bounds:
    """What a command may take in all: as long for its own work as for OpenSCAD."""
    from scadgen.openscad.bounds import MOST

    one = asked_bounds(options)
    return replace(one, seconds=min(2 * one.seconds, MOST))
