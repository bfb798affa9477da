"""``python -m scadgen``: the command."""

from __future__ import annotations

import sys

from scadgen.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
