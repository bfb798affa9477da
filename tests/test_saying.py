"""What a person reads at a terminal: units set, lines that end between words, a table."""

from __future__ import annotations

import argparse
import io
import os
import sys

import pytest

from scadgen.cli.main import main
from scadgen.cli.saying import complain, lines, say
from scadgen.cli.terminal import progress
from scadgen.families.rod_loops import RodLoops
from scadgen.findings.finding import Finding, Verdict
from scadgen.findings.page import page
from scadgen.findings.table import row, table
from scadgen.hinge.family import all_families
from scadgen.proof.fleet.population import ROUGH
from scadgen.proof.fleet.shares import fleet
from scadgen.text.typeset import LETTERS, NO_BREAK, TIMES, encoded, held, message, typeset, unit

OPTIONS = argparse.Namespace(no_color=False, quiet=False)
LONG = (
    "free from -152.5 to 152.5 deg, for certain; 0.35 mm of 12 mm2 are asked of every one of them."
)
SWING = Finding("swing", True, LONG, measured=32.54, needed=0, unit="deg")
GAP = Finding("gap on the way of the second link", False, "0.1 mm.", 0.1, 0.35, "mm")
FUSED = Finding("layers", True, "0 mm2.", 0, 0, "mm2", at_least=False)
SOUND = Finding("fixed link", True, "1 piece, watertight.")
VERDICT = Verdict("rod_loops", (SWING, GAP, FUSED, SOUND), {"torque (N mm)": 3.0})


class Screen(io.StringIO):
    """A terminal that takes down what it shows."""

    encoding = "utf-8"

    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(
    ("plain", "read"),
    [
        ("-90 to 90 deg.", "-90 to 90°."),
        ("turn (deg)", "turn (°)"),
        ("N mm/deg", "N mm/°"),
        ("23 to 150 deg C", "23 to 150 °C"),
        ("3 mm2, 4 mm3, 1.2 g/cm3, 9 m/s2", "3 mm², 4 mm³, 1.2 g/cm³, 9 m/s²"),
        ("40 x 30 x 2.5 mm", f"40 {TIMES} 30 {TIMES} 2.5 mm"),
    ],
)
def test_units_are_set(plain: str, read: str) -> None:
    assert typeset(plain) == read
    assert typeset(read) == read


@pytest.mark.parametrize(
    "text",
    ["volume_mm3", "a 90 deg.toml", "g_per_cm3", "degrees", "4 x 4 boxes", "box 40 x 30 mm.toml"],
)
def test_what_is_no_unit_stays(text: str) -> None:
    assert typeset(text) == text


def test_a_file_that_a_message_names_keeps_its_name() -> None:
    assert message("lid 90 deg: it turns 90 deg") == "lid 90 deg: it turns 90°"


def test_a_unit_follows_its_number() -> None:
    assert [unit(name) for name in ("deg", "mm3", "")] == ["°", " mm³", ""]


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-8", None, "no such"])
def test_what_an_encoding_cannot_write_is_told_in_ascii(encoding: str | None) -> None:
    told = encoded("90° for Zoë ✓", encoding, "90 deg for Zoë ✓")
    assert told == (
        "90° for Zoë ✓" if encoding in ("utf-8", None) else "90 deg for Zo\\xeb \\u2713"
    )


@pytest.mark.parametrize("width", [80, 40, 17])
def test_lines_end_between_words(width: int) -> None:
    broken = lines(f"ok   swing: {typeset(LONG)}", width)
    assert max(map(len, broken)) <= width
    assert " ".join(line.strip() for line in broken) == f"ok   swing: {typeset(LONG)}"
    assert all(line.startswith(" " * 5) for line in broken[1:])
    assert not any(line.endswith(("0.35", "12")) for line in broken)  # a number, its unit below it
    assert NO_BREAK not in "".join(broken)


def test_a_word_that_is_longer_than_a_line_stays_whole() -> None:
    path = "/a/very/long/path/that/is/one/word.scad"
    assert lines(f"wrote {path}", 20)[-1].strip() == path


def test_numbers_hold_their_units() -> None:
    assert held("0.35 mm of 2 N mm") == f"0.35{NO_BREAK}mm of 2{NO_BREAK}N mm"


def test_nothing_is_broken_where_no_terminal_reads(capsys: pytest.CaptureFixture[str]) -> None:
    say(OPTIONS, LONG, "bad")
    assert capsys.readouterr().out == typeset(LONG) + "\n"


def on_a_screen(monkeypatch: pytest.MonkeyPatch, columns: int, **environment: str) -> str:
    screen = Screen()
    for name in ("NO_COLOR", "TERM", "FORCE_COLOR"):
        monkeypatch.delenv(name, raising=False)
    for name, value in {"COLUMNS": str(columns), "TERM": "xterm", **environment}.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr(sys, "stdout", screen)
    say(OPTIONS, LONG, "bad")
    return screen.getvalue()


def test_colours_are_for_terminals_that_want_them(monkeypatch: pytest.MonkeyPatch) -> None:
    assert "\x1b[" in on_a_screen(monkeypatch, 80)
    for unwanted in ({"NO_COLOR": "1"}, {"TERM": "dumb"}):
        told = on_a_screen(monkeypatch, 40, **unwanted)
        assert "\x1b[" not in told
        assert max(map(len, told.splitlines())) <= 40


def test_an_error_is_set_and_broken_too(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    complain("size.swing = 200: it must be 0 to 180 deg")
    assert capsys.readouterr().err == "scadgen: size.swing = 200: it must be 0 to 180°\n"
    screen = Screen()
    monkeypatch.setenv("COLUMNS", "40")
    monkeypatch.setattr(sys, "stderr", screen)
    complain(f"a job: {LONG}")
    assert max(map(len, screen.getvalue().splitlines())) <= 40


@pytest.mark.parametrize("width", [100, 80, 60, 30])
def test_the_table_tells_number_need_and_slack(width: int) -> None:
    told = [line.text for line in table(VERDICT, width)]
    for finding in (SWING, GAP, FUSED):
        one = row(finding)
        start = f"{one.mark:<5}{finding.name[:12]}"
        line = next(t for t in told if t.startswith(start) and one.needed in t)
        assert one.found in line
        assert one.spare in line
    assert row(GAP)[1:4] == ("0.1 mm", "at least 0.35 mm", "-0.25 mm")
    assert row(FUSED).needed == "at most 0 mm²"
    assert row(SWING).spare == "32.5°"


def test_the_table_says_all_that_the_sentences_mark() -> None:
    """Each finding with its mark; what failed, and what is no number, in its words, too."""
    told = [line.text for line in table(VERDICT, 80)]
    said = [line.text for line in page(VERDICT)]
    assert told[0] == said[0]
    assert [t for t in said if t.startswith("FAIL")] == [t for t in told if t in said[1:2]]
    assert "ok   fixed link: 1 piece, watertight." in told
    marked = {t[:5].strip() for t in told if t[5:].startswith("swing")}
    assert marked == {"ok"}


def test_the_columns_of_the_table_stand_below_each_other() -> None:
    whole = [line.text for line in table(VERDICT, 80) if line.text]
    head = next(k for k, text in enumerate(whole) if "to spare" in text and "found" in text)
    width = len(whole[head])
    rows = [text for text in whole[head + 1 :] if "at least" in text or "at most" in text]
    assert {len(text) for text in rows} == {width}
    assert len(rows) == 3


def test_where_a_terminal_has_no_degrees_the_table_has_none(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    told = "\n".join(line.text for line in table(VERDICT, 80, str))
    assert "32.5 deg" in told
    assert not set(told) & set(LETTERS)


def test_list_fits_a_screen(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    screen = Screen()
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setattr(sys, "stdout", screen)
    assert main(["list"]) == 0
    told = screen.getvalue().splitlines()
    assert len(told) <= os.terminal_size((80, 24)).lines - 2
    assert max(map(len, told)) <= 80
    text = " ".join(" ".join(told).split())
    for name, cls in all_families().items():
        assert name in text
        assert cls.kind in text


def test_a_fleet_tells_how_many_printers_it_has_looked_at() -> None:
    told: list[str] = []
    fleet(RodLoops(), ROUGH, 1000, tell=told.append)
    assert told[-1] == "1000 of 1000 printers"


def test_progress_counts_and_takes_the_time_on_a_terminal_alone(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    screen = Screen()
    monkeypatch.setenv("COLUMNS", "60")
    monkeypatch.setattr(sys, "stderr", screen)
    with progress(OPTIONS, "sizing") as tell:
        assert tell is not None
        tell("sizing rod_loops, 3 of 9")
    assert "3 of 9" in screen.getvalue()
    assert "0:00:0" in screen.getvalue()
    monkeypatch.setattr(sys, "stderr", io.StringIO())
    with progress(OPTIONS) as nobody:
        assert nobody is None


def test_what_does_not_fit_hangs_below_its_column() -> None:
    broken = lines("  practice  29.4 of 40   strong in every direction square to the rod", 50)
    assert len(broken) == 2
    assert len(broken[1]) - len(broken[1].lstrip()) == broken[0].index("strong")
