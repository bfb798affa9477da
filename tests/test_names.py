"""Names that every system takes."""

from __future__ import annotations

from pathlib import Path

import pytest

from scadgen.keeping.files import WriteError, write_all
from scadgen.keeping.names import LONGEST, clash, fault
from tests.test_files import contents


@pytest.mark.parametrize(
    "name", ["lid.scad", "cards/lid.json", ".hidden", "a b.txt", "Öl.txt", "console.scad", "com10"]
)
def test_names_that_work(name: str) -> None:
    assert fault(name) is None


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("", "'' is no file name"),
        ("../lid.scad", "'..' is no file name"),
        ("/etc/lid.scad", "'' is no file name"),
        ("cards//lid.json", "'' is no file name"),
        ("CON", "Windows keeps the name CON for a device"),
        ("nul.txt", "Windows keeps the name nul for a device"),
        ("cards/Lpt1.tar.gz", "Windows keeps the name Lpt1 for a device"),
        ("COM¹.scad", "Windows keeps the name COM¹ for a device"),
        ("lid.", "drops a '.' or a space at the end"),
        ("lid ", "drops a '.' or a space at the end"),
        ("a:b", "must not hold < >"),
        ("..\\lid", "must not hold < >"),
        ("a\nb", "what cannot be printed"),
        ("a\0b", "what cannot be printed"),
        ("a\u202eb", "what cannot be printed"),
        ("a\udcffb", "what cannot be printed"),
        ("ö" * (LONGEST // 2) + "a", "longer than 200 bytes"),
    ],
)
def test_names_that_do_not_work_are_refused(name: str, words: str, tmp_path: Path) -> None:
    with pytest.raises(WriteError) as caught:
        write_all(tmp_path / "parts", {"good.txt": b"", name: b""})
    assert words in str(caught.value)
    assert str(caught.value).endswith(". Nothing was changed; choose another name.")
    assert contents(tmp_path) == {}


def test_the_longest_name_can_be_written(tmp_path: Path) -> None:
    name = "a" * LONGEST
    for data in (b"old", b"new"):
        write_all(tmp_path, {name: data})
        assert contents(tmp_path) == {name: data}


def test_names_that_differ_in_capitals_only_are_refused(tmp_path: Path) -> None:
    assert clash(["a.scad", "a.txt", "b/a.txt"]) is None
    with pytest.raises(WriteError, match=r"Lid\.scad: .* it is the same file as lid\.scad"):
        write_all(tmp_path, {"lid.scad": b"", "Lid.scad": b""})
    assert contents(tmp_path) == {}
