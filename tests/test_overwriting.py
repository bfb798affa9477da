"""The commands over files that somebody has edited: what they keep, say and leave behind."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from scadgen import emit
from scadgen.cli.main import main
from scadgen.findings.finding import Finding, Verdict
from scadgen.hinge.family import Hinge, all_families
from scadgen.keeping.customizer import settings
from scadgen.openscad.library import check_library
from scadgen.proof import verdict as proof

JOB = 'family = "rod_loops"\nname = "lid"\nsize.facets = 16\ntitle = "{}"\n'
OPENS = "library/rod_loops_customizer.scad"
MODULE = emit(all_families()["rod_loops"]())


@pytest.fixture
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A job that the proof passes at once, in the current folder."""

    def check(hinge: Hinge, *_: Any, **__: Any) -> Verdict:
        return Verdict(hinge.family, (Finding("swing", True, "free."),))

    monkeypatch.setattr(proof, "check", check)
    monkeypatch.chdir(tmp_path)
    Path("job.toml").write_text(JOB.format("One"))
    return Path("job.toml")


def write(*arguments: str) -> int:
    return main(["write", "job.toml", "--out", "parts", *arguments])


def edit(path: str, old: str, new: str) -> str:
    text = Path(path).read_text()
    assert old in text
    Path(path).write_text(text.replace(old, new))
    return Path(path).read_text()


def visible(folder: str) -> list[str]:
    return sorted(path.name for path in Path(folder).glob("[!.]*"))


SHEETS = ["lid_sheet.html", "lid_sheet.md"]
WRITTEN = ["lid.3mf", "lid.scad", "lid.stl", "lid.txt", *SHEETS, "rod_loops.scad"]


def test_an_edited_call_is_kept_and_told(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert write("--quiet") == 0
    mine = edit("parts/lid.scad", "rod_loops(", "translate([1, 2, 3]) rod_loops(")
    job.write_text(JOB.format("Two"))
    assert write() == 0
    said = capsys.readouterr()
    assert Path("parts/lid.scad").read_text() == mine
    assert "lid.scad - Two" in Path("parts/lid.new.scad").read_text()
    assert visible("parts") == sorted([*WRITTEN, "lid.new.scad", "lid.new.3mf"])
    assert "wrote parts/lid.new.scad\n" in said.out
    for line in ("-// lid.scad - One", "+// lid.scad - Two", "+translate([1, 2, 3]) rod_loops("):
        assert f"\n{line}" in said.out
    assert said.err.splitlines() == [
        "scadgen: kept parts/lid.scad: edited since it was written; the new one is "
        "parts/lid.new.scad.",
        "scadgen: To take the new one: rename it, or add --accept lid.scad to the command.",
        "scadgen: kept parts/lid.3mf: it goes with lid.scad, which stays; the new one is "
        "parts/lid.new.3mf.",
    ]


def test_meshes_stay_with_a_call_that_stays(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write("--quiet")
    edit("parts/lid.scad", "rod_loops(", "translate([1, 2, 3]) rod_loops(")
    before = {kind: Path(f"parts/lid.{kind}").read_bytes() for kind in ("stl", "3mf")}
    Path("parts/lid.3mf").unlink()
    job.write_text(JOB.format("One") + "size.length = 60\n")
    assert write("--quiet") == 0
    assert Path("parts/lid.stl").read_bytes() == before["stl"]
    assert not Path("parts/lid.3mf").exists()
    assert {"lid.new.stl", "lid.new.3mf", "lid.new.scad"} < set(visible("parts"))
    said = capsys.readouterr().err
    assert "kept parts/lid.stl: it goes with lid.scad, which stays; the new one is" in said
    assert "did not write parts/lid.3mf: it goes with lid.scad" in said
    assert write("--quiet", "--accept", "lid.scad") == 0
    assert Path("parts/lid.stl").read_bytes() != before["stl"]
    assert visible("parts") == sorted([*WRITTEN, "lid.old.scad"])


def test_what_is_replaced_is_kept_beside_it(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each time under a name that is free; what was not edited needs none."""
    write("--quiet")
    for name in ("lid.old.scad", "lid.old2.scad"):
        mine = edit("parts/lid.scad", "rod_loops(", "translate([1, 2, 3]) rod_loops(")
        assert write("--quiet", "--force") == 0
        assert Path("parts", name).read_text() == mine
        told = f"replaced parts/lid.scad; what was there is parts/{name}."
        assert capsys.readouterr().err == f"scadgen: {told}\n"
    assert write("--quiet", "--force") == 0
    assert capsys.readouterr().err == ""
    assert visible("parts") == sorted([*WRITTEN, "lid.old.scad", "lid.old2.scad"])


def test_quiet_tells_only_what_was_kept(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write("--quiet")
    edit("parts/lid.txt", "free.", "free!")
    assert write("--quiet") == 0
    assert capsys.readouterr() == ("", "")
    job.write_text(JOB.format("Two"))
    assert write("--quiet") == 0
    said = capsys.readouterr()
    assert said.out == ""
    assert "kept parts/lid.txt: edited" in said.err


@pytest.mark.parametrize(
    "how", [["--accept", "lid.scad", "--accept", "rod_loops.scad"], ["--force"]]
)
def test_edits_are_replaced_only_if_told_so(job: Path, how: list[str]) -> None:
    write("--quiet")
    edit("parts/lid.scad", "rod_loops(", "translate([1, 2, 3]) rod_loops(")
    Path("parts/rod_loops.scad").write_text("mine")
    job.write_text(JOB.format("Two"))
    write("--quiet")
    assert visible("parts") == sorted([*WRITTEN, "lid.new.scad", "lid.new.3mf"])
    assert write("--quiet", *how) == 0
    assert visible("parts") == sorted([*WRITTEN, "lid.old.scad", "rod_loops.old.scad"])
    assert "lid.scad - Two" in Path("parts/lid.scad").read_text()
    assert Path("parts/rod_loops.scad").read_text() == MODULE


def test_only_a_file_that_is_written_can_be_accepted(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert write("--accept", "box.scad") == 2
    names = "rod_loops.scad, lid.scad, lid.stl, lid.3mf, lid.txt, lid_sheet.md, lid_sheet.html"
    told = f"--accept box.scad: not written; it must be one of {names}. Nothing was changed."
    assert capsys.readouterr() == ("", f"scadgen: {told}\n")
    assert visible(".") == [job.name]


def test_a_file_of_somebody_else_is_kept(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Path("parts").mkdir()
    Path("parts/lid.stl").write_bytes(b"solid mine")
    assert write() == 0
    assert Path("parts/lid.stl").read_bytes() == b"solid mine"
    assert "kept parts/lid.stl: not written by scadgen; the new one is" in capsys.readouterr().err


def test_an_edited_module_is_no_longer_what_was_proven(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write("--quiet")
    mine = edit("parts/rod_loops.scad", "wall = 2.4,", "wall = 2.6,")
    assert write() == 0
    said = capsys.readouterr()
    assert Path("parts/rod_loops.scad").read_text() == mine
    kept = "kept parts/rod_loops.scad: edited since it was written; there is nothing new to put in"
    assert kept in said.out
    told = "lid.scad draws with your rod_loops.scad; the proof is of the one scadgen writes."
    assert said.err == f"scadgen: {told}\n"


def test_values_are_carried_over_if_asked_for(job: Path) -> None:
    write("--quiet")
    written = Path("parts/lid.scad").read_text()
    edit("parts/lid.scad", "rod_loops_wall = 2.4;", "rod_loops_wall = 2.60;")
    assert write("--quiet", "--keep-values") == 0
    kept = Path("parts/lid.scad").read_text()
    assert kept == written.replace("rod_loops_wall = 2.4;", "rod_loops_wall = 2.6;")
    assert write("--quiet") == 0
    assert Path("parts/lid.scad").read_text() == kept
    assert visible("parts") == WRITTEN


def test_values_that_do_not_work_end_with_2(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write("--quiet")
    mine = edit("parts/lid.scad", "rod_loops_wall = 2.4;", "rod_loops_wall = 24;")
    job.write_text(JOB.format("Two"))
    assert write("--quiet", "--keep-values") == 2
    words = "parts/lid.scad: rod_loops_wall = 24 mm; it must be 0.8 to 8 mm. With the rest "
    assert capsys.readouterr().err.startswith(f"scadgen: {words}")
    assert Path("parts/lid.scad").read_text() == mine


def test_the_library_keeps_edits_and_its_check_shows_them(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["library", "--quiet"]) == 0
    mine = edit(
        "library/rod_loops_customizer.scad", "rod_loops_wall = 2.4;", "rod_loops_wall = 2.6;"
    )
    edit("library/rod_loops_customizer.json", '"snug"', '"my own"')
    assert main(["library", "--check"]) == 1
    assert "-rod_loops_wall = 2.6;" in capsys.readouterr().out
    assert main(["library", "--quiet"]) == 0
    assert Path(OPENS).read_text() == mine
    assert "my own" in Path("library/rod_loops_customizer.json").read_text()
    assert main(["library", "--quiet", "--keep-values"]) == 0
    found = settings(all_families()["rod_loops"], Path(OPENS).read_text())
    assert found["wall"] == "2.6"
    assert main(["library", "--quiet", "--force"]) == 0
    assert check_library() == []
    assert not [name for name in visible("library") if re.search(r"\.new", name)]


def test_a_path_that_cannot_be_printed_is_no_trouble(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    odd = "od\udcffd\x1b[2J"
    assert main(["write", "job.toml", "--out", odd]) == 0
    assert "wrote od\\udcffd\\x1b[2J/lid.scad\n" in capsys.readouterr().out
    assert visible(odd) == WRITTEN
