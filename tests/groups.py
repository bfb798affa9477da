"""Which tests run in one process when several run them: what is made once is shared there only.

Tests of one family share its hinge, its proofs and its renderings; the others what their file makes
once. What takes longest is handed out first, so that all processes end together.
"""

from __future__ import annotations

import re
from typing import Any

from xdist.scheduler import LoadScopeScheduling

from scadgen.hinge.family import all_families

#: Folders and files that share a browser or comparisons, and that by which they are known.
TOGETHER = {
    "tests/browser/": "browser",
    "tests/sheet/test_paper.py": "paper",
    "tests/strength/test_compared.py": "comparisons",
    "tests/strength/test_page.py": "comparisons",
    "tests/strength/test_used.py": "comparisons",
}
#: Files and folders with tests that take seconds each and share nothing: each goes by itself.
ALONE = (
    "tests/test_docs.py",
    "tests/inspection/test_inspect.py",
    "tests/inspection/test_mechanisms.py",
    "tests/motion/",
    "tests/proof/",
)
#: Where a process is busy for seconds, longest first; all that is of a family goes before.
LONG = (
    "tests/sizing/test_choose.py",
    "tests/test_docs.py",
    "tests/browser/",
    "tests/strength/test_compared.py",
    "tests/strength/test_page.py",
    "tests/strength/test_used.py",
    "tests/test_reference.py",
    "tests/gallery/",
    "tests/inspection/",
    "tests/fuzz/",
    "tests/toolpaths/test_slicers.py",
    "tests/packaging/",
    "tests/openscad/",
    "tests/elements/",
    "tests/product/",
    "tests/coupons/",
    "tests/sheet/",
    "tests/motion/",
    "tests/proof/",
    "tests/printing/",
    "tests/sizing/",
)


class Grouped(LoadScopeScheduling):  # type: ignore[misc]
    """Hands out whole groups, in the order in which they were collected."""

    def __init__(self, config: Any, log: Any = None) -> None:
        config.option.loadscopereorder = False
        super().__init__(config, log)

    def _split_scope(self, nodeid: str) -> str:
        return group(nodeid)


def rank(nodeid: str) -> int:
    """Where a test stands: those of a family come first, then what takes long."""
    if family(nodeid):
        return 0
    found = (k for k, path in enumerate(LONG, 1) if nodeid.startswith(path))
    return next(found, len(LONG) + 1)


def group(nodeid: str) -> str:
    """What a test shares: what its folder starts, its family, or else its file."""
    for path, shared in TOGETHER.items():
        if nodeid.startswith(path):
            return shared
    path = nodeid.partition("::")[0]
    return family(nodeid) or (nodeid if path.startswith(ALONE) else path)


def family(nodeid: str) -> str | None:
    """The family that a test is of: the last that its values name."""
    if nodeid.startswith(tuple(TOGETHER)):
        return None
    _, _, values = nodeid.removesuffix("]").partition("[")
    named = [value for value in re.split(r"[-\]\[:]", values) if value in all_families()]
    return named[-1] if named else None
