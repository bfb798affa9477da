"""``scadgen install-library``."""

from __future__ import annotations

import argparse
from pathlib import Path

from scadgen.cli.terminal import NOT_PROVEN, PROVEN, tell

WHAT = "put the modules where OpenSCAD finds them: use <scadgen/rod_loops.scad>"


def arguments(parser: argparse.ArgumentParser) -> None:
    how = parser.add_mutually_exclusive_group()
    how.add_argument("--link", action="store_true", help="link to the package instead of copying")
    how.add_argument("--remove", action="store_true", help="remove what this command installed")
    where = "default: OpenSCAD's library folder of this user"
    parser.add_argument("--to", metavar="DIR", type=Path, help=where)


def run(options: argparse.Namespace) -> int:
    from scadgen.openscad.userlibrary import install, link, user_folder

    libraries = options.to or user_folder()
    if options.remove:
        return _remove(options, libraries)
    tell(options, [link(libraries)] if options.link else install(libraries))
    return PROVEN


def _remove(options: argparse.Namespace, libraries: Path) -> int:
    """Remove, name what went and what stayed; the status says whether anything stayed."""
    from scadgen.openscad.userlibrary import FOLDER, remove

    done = remove(libraries)
    if not options.quiet:
        for path in done.removed:
            print(f"removed {path}")
        if not done.removed and not done.kept:
            print(f"{libraries / FOLDER}: nothing is installed")
    for path in done.kept:
        print(f"kept {path}: edited or added since it was installed")
    return NOT_PROVEN if done.kept else PROVEN
