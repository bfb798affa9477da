"""Wishes, and the commands that answer them."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from scadgen.cli.main import main
from scadgen.hinge.family import all_families
from scadgen.jobs.job import load_job
from scadgen.sizing.size import Refused, Sized, size
from scadgen.sizing.wish import load_wish
from scadgen.tables.documents import JobError
from tests.support import ROOT, few_candidates, hinges

WISH = ROOT / "gallery" / "tea_sampler_wish.toml"
#: Few facets keep a proof quick.
PETG = '[printers]\nmaterial = "petg"\n'
FEW = "[size]\nfacets = 16\n"


@pytest.fixture
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    """Few candidates: what the command says of them is what is tested here."""
    few_candidates(monkeypatch)


@pytest.fixture
def quick(tmp_path: Path, few: None) -> Path:
    """The example's wish, of few facets: what is sized for one test serves the others."""
    return written(tmp_path, f"{WISH.read_text(encoding='utf-8')}\n{FEW}")


def written(folder: Path, text: str) -> Path:
    path = folder / "wish.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_wish_says_what_is_wanted() -> None:
    wish = load_wish(WISH)
    assert (wish.family, wish.posture) == (None, "lying")
    assert wish.wanted.fixed == {"swing": 100, "layer": 0.3}
    assert (wish.wanted.duty.load, wish.wanted.duty.cycles) == (5, 2000)
    assert (wish.wanted.envelope.x, wish.wanted.envelope.z) == (80, 60)
    assert wish.wanted.plastic.name == "PETG"


def test_a_job_is_a_wish_with_a_family(tmp_path: Path) -> None:
    text = 'family = "rod_loops"\n[size]\nlength = 30\n[printers]\nmaterial = "PLA+"\n'
    path = written(tmp_path, text)
    wish = load_wish(path)
    assert wish.family == "rod_loops"
    assert wish.wanted.fixed["length"] == 30
    assert wish.wanted.plastic.name == "PLA+"


def test_a_wish_says_what_else_is_wanted_of_the_form(tmp_path: Path) -> None:
    text = PETG + '[part]\none_piece = true\nmust_not_come_off = true\naim = "quickest"\n'
    prefers = load_wish(written(tmp_path, text)).wanted.prefers
    assert (prefers.one_piece, prefers.must_not_come_off, prefers.aim) == (True, True, "quickest")
    usual = load_wish(written(tmp_path, f"{PETG}[duty]\nload = 3\n")).wanted.prefers
    assert (usual.one_piece, usual.must_not_come_off, usual.aim) == (False, False, None)


def test_a_part_lies_as_its_family_prints_where_nothing_is_said(tmp_path: Path) -> None:
    for family, posture in (("captive_cone", "standing"), ("slit_lattice", "lying")):
        wish = load_wish(written(tmp_path, f'family = "{family}"\n{PETG}'))
        assert (wish.posture, wish.says_posture) == (posture, False)
    assert load_wish(written(tmp_path, f"{PETG}[duty]\nload = 3\n")).posture == "lying"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            '[part]\nposture = "upside down"',
            'part.posture = "upside down"; it must be one of standing, lying',
        ),
        ("[part]\nroom = [1, 2]", "part.room = [1, 2]; it must be three lengths above 0"),
        ("[part]\nroom = [1, 2, -3]", "This works: [60, 40, inf]"),
        ("[part]\nroom = [1, 2, nan]", "it must be three lengths above 0"),
        (
            "[part]\none_piece = 1",
            "part.one_piece = 1; it must be true or false, without quotes.",
        ),
        ('[part]\nmust_not_come_off = "yes"', "part.must_not_come_off = "),
        (
            '[part]\naim = "small"',
            "It must be one of smallest, strongest, quickest: what counts most.",
        ),
        ("[part]\nrom = 3", "part.rom: no such key; did you mean part.room?"),
        ("part = 3", "part: it must be a table"),
        ("[duty]\nangle = 200", "duty.angle = 200 deg; it must be 10 to 180 deg."),
        ('[duty]\nload = "much"', 'duty.load = "much"; it must be a number, 0 to 2000 N.'),
        ("[duty]\nforce = 3", "duty.force: no such key"),
        ("[duty]\nload = 3", "printers.material: missing; what it bears depends on its plastic: "),
        ("[duty]\nangle = 90", 'This works: printers.material = "petg".'),
        ('[printers]\nmaterial = "pla++"', 'printers.material = "pla++"; no plastic'),
        ('[printers]\nmaterial = "pet"', 'printers.material = "pet"; no plastic'),
        ('[printers]\nmaterial = "gone.toml"', "no such file; it must be"),
        ("[size]\nlength = 30", "size.length: no such key"),
    ],
)
def test_a_wish_that_says_nonsense_is_refused(text: str, said: str, tmp_path: Path) -> None:
    path = written(tmp_path, text)
    with pytest.raises(JobError) as caught:
        load_wish(path)
    assert said in str(caught.value)
    assert str(path) in str(caught.value)


def test_choose_prints_its_table_and_writes_the_favourite(
    quick: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "favourite.toml"
    assert main(["choose", str(quick), "--out", str(path)]) == 0
    lines = capsys.readouterr().out.splitlines()
    told = {line.split()[0] for line in lines}
    assert hinges() <= told
    favourite = next(line for line in lines if line.startswith("favourite: ")).split()[1]
    job = load_job(path)
    assert job.family == favourite.rstrip(";")
    assert job.note == "Invented for this gallery."
    assert job.duty is not None
    assert job.duty.cycles == 2000
    verdict = job.prove()
    assert verdict.passed, [finding for finding in verdict.findings if not finding.passed]
    assert main(["choose", str(quick), "--out", str(path)]) == 2
    assert "exists already" in capsys.readouterr().err


def test_choose_as_data(quick: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["choose", str(quick), "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["favourite"] == said["choices"][0]["family"]
    assert {c["family"] for c in said["choices"] + said["refused"]} == hinges()


def test_size_finds_what_bears_the_duty(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    wish = 'family = "rod_loops"\n[duty]\nload = 20\nlever = 40\n[printers]\nmaterial = "pla"\n'
    path, out = written(tmp_path, wish + FEW), tmp_path / "sized.toml"
    assert main(["size", str(path), "--out", str(out)]) == 0
    assert f"wrote {out}" in capsys.readouterr().out
    job = load_job(out)
    found = load_wish(path)
    sized = size(all_families()["rod_loops"], found.wanted)
    assert isinstance(sized, Sized)
    assert job.hinge == sized.hinge
    assert main(["check", str(out), "--quiet"]) == 0


def test_size_says_what_stands_in_the_way(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = 'family = "sheet_flexure"\n[printers]\nmaterial = "pla"\n[duty]\ncycles = 5000\n'
    path, out = written(tmp_path, text), tmp_path / "sized.toml"
    assert main(["size", str(path), "--out", str(out)]) == 1
    said = capsys.readouterr()
    assert "PLA bears" in said.err
    assert not out.exists()
    assert main(["size", str(WISH)]) == 2
    assert "family: missing" in capsys.readouterr().err


def test_a_refusal_is_data_too(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = 'family = "break_away_link"\n[printers]\nmaterial = "petg"\n[duty]\ncycles = 5\n'
    path = written(tmp_path, text)
    assert main(["size", str(path), "--json"]) == 1
    assert "it moves once" in json.loads(capsys.readouterr().out)["refused"]["why"]
    found = size(all_families()["break_away_link"], load_wish(path).wanted)
    assert isinstance(found, Refused)


def test_size_knows_how_the_part_lies(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = written(tmp_path, f'family = "captive_cone"\n{PETG}[part]\nposture = "lying"\n')
    assert main(["size", str(path)]) == 1
    said = capsys.readouterr().err
    assert "it prints standing" in said
    assert "the part has its axis parallel to the bed. Turn it." in said


def test_choose_takes_the_family_that_is_asked_for(
    quick: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, f'family = "rod_loops"\n{quick.read_text(encoding="utf-8")}')
    out = tmp_path / "rod.toml"
    assert main(["choose", str(path), "--out", str(out)]) == 0
    said = capsys.readouterr().out
    assert "favourite: rod_loops; " in said
    told = re.search(r"^rod_loops was asked for; it ranks (\d) of \d", said, re.MULTILINE)
    assert told
    assert load_job(out).family == "rod_loops"
    assert "\nanother form would be first\n" in said


def test_choose_refuses_the_family_that_is_asked_for_with_the_reason(
    quick: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, f'family = "sheet_flexure"\n{quick.read_text(encoding="utf-8")}')
    out = tmp_path / "sheet.toml"
    assert main(["choose", str(path), "--out", str(out), "--json"]) == 1
    said = json.loads(capsys.readouterr().out)
    assert said["favourite"] is None
    assert said["given"] == "sheet_flexure"
    assert any(one["family"] == "sheet_flexure" for one in said["refused"])
    assert said["choices"]
    assert not out.exists()
    for choice in said["choices"]:
        assert choice["words"].keys() == choice["points"].keys() == said["weights"].keys()


def test_size_and_choose_make_the_same_of_a_family(tmp_path: Path) -> None:
    text = f'family = "rod_loops"\n{PETG}[part]\naim = "strongest"\n{FEW}[duty]\nload = 2\n'
    path = written(tmp_path, text)
    outs = [tmp_path / f"{command}.toml" for command in ("size", "choose")]
    for out in outs:
        assert main([out.stem, str(path), "--out", str(out), "--quiet"]) == 0
    one, other = (load_job(out) for out in outs)
    assert one.hinge == other.hinge
    sized = size(type(one.hinge), load_wish(path).wanted)
    assert isinstance(sized, Sized)
    assert one.hinge.bulk() > sized.hinge.bulk()


def test_size_refuses_what_is_not_preferred(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path, f'family = "rod_loops"\n{PETG}[part]\none_piece = true\n')
    assert main(["size", str(path)]) == 1
    assert "it prints as two links; one flat piece is wanted." in capsys.readouterr().err
