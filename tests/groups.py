"""Which tests run in one process when several run them: what is made once is shared there only."""

from __future__ import annotations

import re

from xdist.scheduler import LoadScopeScheduling

from scadgen.hinge.family import all_families

#: Files and folders whose tests share a browser, a wheel or a rendered model, and that by which
#: they are known.
TOGETHER = {
    "tests/browser/": "browser",
    "tests/openscad/test_example.py": "example",
    "tests/packaging/test_wheel.py": "wheel",
    "tests/strength/test_compared.py": "comparisons",
    "tests/strength/test_page.py": "comparisons",
    "tests/strength/test_used.py": "comparisons",
}
#: Files and folders with tests that take seconds each: first, so that all processes end together.
LONG = (
    "tests/test_docs.py",
    "tests/test_reference.py",
    "tests/fuzz/",
    "tests/strength/test_compared.py",
    "tests/inspection/",
    "tests/motion/",
    "tests/printing/",
    "tests/proof/",
    "tests/sizing/",
)


class Grouped(LoadScopeScheduling):  # type: ignore[misc]
    """Hands out whole groups, the largest first, then single tests."""

    def _split_scope(self, nodeid: str) -> str:
        return group(nodeid)


def rank(nodeid: str) -> int:
    """Where a test stands among those of its size: what takes long comes first."""
    return next((k for k, path in enumerate(LONG) if nodeid.startswith(path)), len(LONG))


def group(nodeid: str) -> str:
    """What a test shares: its folder or file, or the family that it is of; or else itself."""
    for path, shared in TOGETHER.items():
        if nodeid.startswith(path):
            return shared
    _, _, values = nodeid.removesuffix("]").partition("[")
    named = [value for value in re.split(r"[-\]\[]", values) if value in all_families()]
    return named[-1] if named else nodeid
