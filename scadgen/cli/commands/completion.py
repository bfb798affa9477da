"""``scadgen completion``."""

from __future__ import annotations

import argparse

from scadgen.cli.completion import SHELLS, completion_script
from scadgen.cli.terminal import PROVEN

WHAT = "print the script that completes this command in a shell"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("shell", choices=list(SHELLS))
    parser.epilog = "To use it: " + "; ".join(f"{shell}: {way}" for shell, way in SHELLS.items())


def run(options: argparse.Namespace) -> int:
    print(completion_script(options.shell))
    return PROVEN
