"""The guide for contributors is right: its example is a whole family, added as one file."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import scadgen.families
from scadgen import check, emit, mesh
from scadgen.hinge import family as registry
from scadgen.hinge.family import Hinge, all_families
from scadgen.hinge.rules import HingeError
from tests.support import ROOT

NAME = "grooved_strip"


@pytest.fixture
def example(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[type[Hinge]]:
    """The family of the guide's example, its file lying in a folder of families."""
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    (code,) = (c for c in re.findall(r"```python\n(.*?)```", guide, re.DOTALL) if "@family" in c)
    (tmp_path / f"{NAME}.py").write_text(code, encoding="utf-8")
    monkeypatch.setattr(scadgen.families, "__path__", [*scadgen.families.__path__, str(tmp_path)])
    monkeypatch.setattr(registry, "_registry", dict(registry._registry))
    all_families.cache_clear()
    yield all_families()[NAME]
    sys.modules.pop(f"scadgen.families.{NAME}")
    registry._definitions.pop(NAME)
    monkeypatch.undo()
    all_families.cache_clear()


def test_the_example_family_is_found_emitted_and_proven(example: type[Hinge]) -> None:
    hinge = example()
    assert f"module {NAME}(" in emit(hinge)
    assert mesh(hinge).genus() == 0
    verdict = check(hinge)
    assert verdict.passed, verdict.findings
    with pytest.raises(HingeError, match="or the edges of the groove meet before"):
        example(swing=120)


def test_the_example_leaves_nothing_behind() -> None:
    assert NAME not in all_families()
