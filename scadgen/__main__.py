"""``python -m scadgen``: the command."""

from __future__ import annotations

import sys

from scadgen.cli.main import command

if __name__ == "__main__":
    sys.exit(command())
