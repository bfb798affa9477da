"""The page of comparisons is as generated, shows every one, and is written whole or not at all."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from scadgen.keeping.files import WriteError
from tests.solids.table import TITLE
from tests.strength.compared import all_groups
from tests.validation import PAGE, main, page


def test_the_committed_page_is_as_generated() -> None:
    """Mending: python -m tests.validation."""
    assert PAGE.read_text(encoding="utf-8") == page()


def test_every_comparison_is_a_line() -> None:
    comparisons = page().partition(TITLE)[0]
    lines = [line for line in comparisons.splitlines() if line.startswith("| ")]
    groups = list(all_groups().values())
    subjects = {subject for subject, _ in groups}
    assert len(lines) == len(subjects) + sum(len(group()) for _, group in groups)
    for line in lines:
        assert len(re.findall(r" \|", line)) == 8, line


def test_it_is_written_where_asked(tmp_path: Path) -> None:
    out = tmp_path / "new" / "page.md"
    main(["--out", str(out)])
    assert out.read_text(encoding="utf-8") == page()
    assert [path.name for path in out.parent.iterdir()] == ["page.md"]


def test_a_place_that_cannot_be_written_leaves_nothing(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("kept")
    with pytest.raises(WriteError):
        main(["--out", str(tmp_path / "file" / "page.md")])
    assert (tmp_path / "file").read_text() == "kept"
