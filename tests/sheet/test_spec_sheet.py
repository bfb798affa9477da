"""The page as Markdown and as HTML: all facts are there, and free text means only itself."""

from __future__ import annotations

import base64
import dataclasses
import functools
import hashlib
import re

import pytest

from scadgen import BreakAwayLink, RodLoops, SlitLattice, WaistedSpindle
from scadgen.handover.facts import Facts, facts
from scadgen.handover.outputs import job_files
from scadgen.handover.spec_sheet import spec_sheet
from scadgen.handover.values import DIGITS
from scadgen.hinge.family import Hinge
from scadgen.pictures.palette import DARK, LIGHT
from scadgen.strength.duty import Duty
from scadgen.text.dates import DATE
from scadgen.text.typeset import typeset
from tests.gallery.pages import Page
from tests.sheet.subjects import COARSE, FINE, Subject, subject
from tests.support import each_family

#: Tags, marks of Markdown, template marks, a line break, a right-to-left mark, a comment's end.
HOSTILE = (
    '<script>alert(1)</script> </title> | `x` **b** [a](http://x) {{ 7*7 }} \n# h \u202e "q" */'
)


@functools.cache
def pictured() -> tuple[dict[str, bytes], str]:
    """The files of a job, its sheet apart: with pictures, drawn once."""
    files = job_files(*subject(WaistedSpindle(facets=24), name="tea_lid"))
    return files, files["tea_lid_sheet.html"].decode()


def test_a_sheet_that_is_handed_over_has_picture_drawing_and_values() -> None:
    _, text = pictured()
    page = Page(text)
    stills = page.every("img")
    assert [still["alt"] for still in stills] == [
        f"As it lies on the bed: {WaistedSpindle.posture}",
        "Opened",
    ]
    png = base64.b64decode((stills[0]["src"] or "").partition(",")[2])
    assert png.startswith(b"\x89PNG")
    assert {"A\u2013A", "B\u2013B", "Material: PETG", f"Date {DATE}"} <= set(texts_of(text))
    for row in facts(*subject(WaistedSpindle(facets=24))).values:
        assert f"{row.label} {typeset(row.words)}" in page.words
    assert not re.search(r"url\((?!#)|@import|https?://", text)


def texts_of(page: str) -> list[str]:
    """What the drawing within a page says."""
    return re.findall(r"<text [^>]*>([^<]*)</text>", page)


def test_a_sheet_names_the_files_that_go_with_it_by_their_hashes() -> None:
    files, text = pictured()
    markdown_ = files["tea_lid_sheet.md"].decode()
    others = {name: data for name, data in files.items() if "_sheet." not in name}
    assert len(others) > 4
    for name, data in others.items():
        begins = hashlib.sha256(data).hexdigest()[:DIGITS]
        assert f"{name} {begins}" in Page(text).words
        assert f"`{begins}`" in markdown_


def test_a_sheet_bears_a_date_that_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    about = subject(RodLoops())
    assert f", {DATE}. Strengths" in markdown(about)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "0")
    assert ", 1970-01-01. Strengths" in markdown(about)


def html(about: Subject) -> str:
    return spec_sheet(*about)[f"{about[0].name}_sheet.html"].decode()


def markdown(about: Subject) -> str:
    return spec_sheet(*about)[f"{about[0].name}_sheet.md"].decode()


def shown(text: str) -> str:
    """Markdown as its reader sees the words: without escapes and cells."""
    return re.sub(r"\\([\\`*_\[\]<>|~&#!+=.)-])", r"\1", text)


def every_word(told: Facts) -> list[str]:
    """All that the facts say."""
    rows = (*told.values, *told.printing, *told.moving, *told.load, *told.cautions)
    words = [told.heading, told.note, told.about, told.verdict, told.weakest]
    words += [text for row in rows for text in (row.label, row.words)]
    words += [
        str(value)
        for place in told.places
        for name, value in dataclasses.asdict(place).items()
        if name not in ("good", "source")
    ]
    return [" ".join(typeset(text).split()) for text in words]


def test_two_files_by_the_name_of_the_job() -> None:
    files = spec_sheet(*subject(WaistedSpindle(), name="tea_lid"))
    assert list(files) == ["tea_lid_sheet.md", "tea_lid_sheet.html"]
    assert files == spec_sheet(*subject(WaistedSpindle(), name="tea_lid"))


@each_family
def test_both_pages_show_every_fact(cls: type[Hinge]) -> None:
    about = subject(cls())
    made = {name.rpartition(".")[2]: data.decode() for name, data in spec_sheet(*about).items()}
    page, text = Page(made["html"]).words, " ".join(shown(made["md"]).split())
    for words in every_word(facts(*about)):
        assert words in page
        assert words in text


def test_html_is_whole_and_loads_nothing() -> None:
    text = html(subject(RodLoops()))
    page = Page(text)
    assert list(page.paths()) == []
    assert not page.every("script")
    assert not re.search(r"url\(|@import|https?://", text)
    assert [tag for tag, _ in page.tags].count("h1") == 1
    assert page.every("html")[0]["lang"] == "en"


@pytest.mark.parametrize(
    ("cls", "stance"), [(WaistedSpindle, "standing"), (RodLoops, "lying"), (SlitLattice, "flat")]
)
def test_the_drawing_is_the_one_of_the_posture(cls: type[Hinge], stance: str) -> None:
    page = Page(html(subject(cls())))
    (used,) = page.every("use")
    assert used["href"] == f"#icon-{stance}"
    assert f"icon-{stance}" in {symbol.get("id") for symbol in page.every("symbol")}
    label = next(tag["aria-label"] for tag in page.every("svg") if "aria-label" in tag)
    assert cls.posture in label


def test_both_schemes_and_paper_have_their_colours() -> None:
    text = html(subject(WaistedSpindle()))
    bright, dark = text.split("@media screen and (prefers-color-scheme: dark)")
    assert all(f"--{name}: {colour};" in bright for name, colour in LIGHT.items())
    assert all(f"--{name}: {colour};" in dark for name, colour in DARK.items())
    assert "size: A4" in text


def test_what_bears_too_little_stands_out() -> None:
    failing = subject(SlitLattice())
    bearing = subject(WaistedSpindle(), duty=Duty(load=1, pull=1))
    for about, bad in ((failing, True), (bearing, False)):
        marked = [tag for tag in Page(html(about)).every("td") if tag.get("class") == "bad"]
        assert bool(marked) is bad
        assert ("**too little**" in markdown(about)) is bad
    assert "not kept" in markdown(subject(BreakAwayLink()))


def test_a_proof_that_failed_is_told_at_the_top() -> None:
    about = subject(WaistedSpindle(), FINE, COARSE)
    assert "NOT proven" in markdown(about).split("## Printing")[0]
    assert "verdict bad" in html(about)
    assert "verdict bad" not in html(subject(WaistedSpindle()))


def test_free_text_means_only_itself_in_html() -> None:
    about = subject(WaistedSpindle(), title=HOSTILE, note=HOSTILE)
    page, usual = Page(html(about)), Page(html(subject(WaistedSpindle())))
    assert [tag for tag, _ in page.tags] == [tag for tag, _ in usual.tags]
    assert "<script>alert(1)</script> </title> | `x`" in page.words
    assert "{{ 7*7 }}" in page.words
    assert "\u202e" not in page.words


def test_free_text_means_only_itself_in_markdown() -> None:
    about = subject(WaistedSpindle(), title=HOSTILE, note=HOSTILE)
    text, usual = markdown(about), markdown(subject(WaistedSpindle()))
    assert [line[:1] for line in text.splitlines()][4:] == [
        line[:1] for line in usual.splitlines()
    ][4:]
    assert not re.search(r"(?<!\\)<", text)
    assert r"\<script\>" in text
    assert r"\[a\](http" in text
