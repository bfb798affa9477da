"""Running what the written pages tell their readers to run.

- ``blocks``: a page taken apart into its fenced blocks and the remarks above them.
- ``lighter``: what a plain run spares a reader of pictures and facets.
- ``commands``: the commands that a page shows, started by a shell or called here.
- ``session``: a reader who follows one page, block by block, in a copy of the checkout.
- ``told``: text that a page shows as output, held against what came, and brought up to date.
"""

from __future__ import annotations

from tests.support import ROOT

GUIDES = ROOT / "gallery" / "guide"
#: Every written page whose blocks are run, by its path in the checkout.
PAGES = [
    "README.md",
    "DEVELOPERS.md",
    *sorted(path.relative_to(ROOT).as_posix() for path in GUIDES.glob("*.md")),
]
