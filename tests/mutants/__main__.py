"""Switches off each finding and each measure of the proof, one at a time, until a test fails.

    python -m tests.mutants [--only TEXT ...] [--left] [--deep]

First the test is run that failed the last time, out of ``failed.json``, then those that speak of
what the mutant is of, and the file named after its module; with ``--deep`` then all tests of its
room and of the proof, which may take minutes for each. It prints the table mutant / test that
failed, and keeps it; it ends with status 1 if a mutant survives. It is no part of the test run.
Programs that tests start see no mutant.
"""

from __future__ import annotations

import argparse
import importlib
import json
import sys
from collections.abc import Iterator
from pathlib import Path

from tests.mutants.likely import likely, named_after
from tests.mutants.measures import MEASURES, unswitched
from tests.mutants.running import first_failed
from tests.mutants.sites import ROOT, all_sites
from tests.mutants.switch import module_of

KEPT = Path(__file__).with_name("failed.json")
#: Where the tests of a room are; all other rooms have the tests of the proof alone.
PROOF = ("tests/proof", "tests/mechanism", "tests/product", "tests/inspection", "tests/caging")
ROOMS = {
    "scadgen.elements": ("tests/elements", "tests/solids"),
    "scadgen.findings": ("tests/motion", "tests/printing", "tests/test_hinges.py"),
    "scadgen.motion": ("tests/motion",),
    "scadgen.printing": ("tests/printing",),
    "scadgen.strength": ("tests/strength", "tests/test_strengths.py"),
    "scadgen.toolpaths": ("tests/toolpaths",),
}
#: What was written for those that survived.
EACH = [f"tests/{room}/test_each_fails.py" for room in ("proof", "product", "toolpaths")]
#: What takes long to import and has no mutant.
HEAVY = ("numpy", "manifold3d", "trimesh", "scipy.spatial")


def mutants() -> Iterator[str]:
    """The names of all mutants: measures, then findings and refusals."""
    yield from MEASURES
    yield from all_sites()


def killer(mutant: str, known: str, deep: bool) -> str:
    """The test that fails with a mutant; "" if none of those that are tried does."""
    for tests in _tried(mutant, known, deep):
        if found := first_failed(mutant, tests, ROOT):
            return found
    return ""


def _tried(mutant: str, known: str, deep: bool) -> Iterator[list[str]]:
    if known and (ROOT / known.partition("::")[0]).exists():
        yield [known]
    yield EACH
    if some := likely(mutant):
        yield some
    if named := named_after(mutant):
        yield named
    room = ".".join(module_of(mutant).split(".")[:2])
    if deep:
        yield from ([folder] for folder in (*ROOMS.get(room, ()), *PROOF))


def main() -> int:
    parser = argparse.ArgumentParser(description="Switch off what the proof rests on, in turn.")
    parser.add_argument("--only", nargs="*", default=[""], help="mutants with this in their names")
    parser.add_argument("--left", action="store_true", help="only those that no test failed with")
    parser.add_argument("--deep", action="store_true", help="try all tests of the rooms, too")
    options = parser.parse_args()
    for module in HEAVY:
        importlib.import_module(module)
    kept = json.loads(KEPT.read_text(encoding="utf-8")) if KEPT.exists() else {}
    kept = {name: kept.get(name, "") for name in mutants()}
    for name in kept:
        if not any(text in name for text in options.only) or (options.left and kept[name]):
            continue
        kept[name] = killer(name, kept[name], options.deep)
        print(f"{name}: {kept[name] or 'SURVIVES'}", flush=True)
        KEPT.write_text(json.dumps(kept, indent=1, sort_keys=True) + "\n", encoding="utf-8")
    left = [name for name, test in kept.items() if not test]
    print(f"{len(kept) - len(left)} of {len(kept)} mutants fail a test; {len(left)} survive.")
    for name in sorted(unswitched()):
        print(f"{name}: a measure that nobody has switched off; put it into measures.py.")
    return bool(left or unswitched())


if __name__ == "__main__":
    sys.exit(main())
