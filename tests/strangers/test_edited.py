"""A module that was edited by hand says so, and inspect measures what it draws then."""

from __future__ import annotations

from pathlib import Path

import pytest

from scadgen import SideCones, emit
from scadgen.inspection import Asked, inspect
from scadgen.keeping.fingerprint import is_as_written
from tests.engine import opened
from tests.support import fewest

HINGE = SideCones(**fewest(SideCones))
#: What a maker may put below a call: a strip that lies across both links.
STRIP = "translate([-20, -20, 0]) cube([40, 40, 1]);\n"


@pytest.mark.parametrize("at", [0.1, 0.5, 0.9])
def test_a_sign_more_or_less_is_an_edit(at: float) -> None:
    text = str(emit(HINGE))
    place = int(len(text) * at)
    assert is_as_written(text)
    assert not is_as_written(text[:place] + "1" + text[place:])
    assert not is_as_written(text[:place] + text[place + 1 :])


@pytest.mark.openscad
def test_a_strip_across_both_links_is_found(tmp_path: Path) -> None:
    path = tmp_path / "edited.scad"
    path.write_text(opened(HINGE) + STRIP, encoding="utf-8")
    found = inspect(path, Asked(layers=(0.3,)))
    assert not found.passed
    failed = {each.name: each.words for each in found.verdict.findings if not each.passed}
    assert "links that are welded together" in failed["joint"]
