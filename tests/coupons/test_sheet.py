"""The sheet of a coupon: each piece, what to do with it, what to write down; one page of A4."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from scadgen.coupons.plan import Plan
from scadgen.coupons.results import WORDS, results_file, words_of
from scadgen.coupons.sheet import coupon_sheet
from scadgen.coupons.text import where_free
from scadgen.text.numbers import shown
from tests.browser.browser import Browser
from tests.coupons.support import CALIBRATING, PLANS, each_of
from tests.gallery.pages import Page


@each_of(PLANS)
def test_each_piece_has_a_line_by_its_number(printed: Plan) -> None:
    text = coupon_sheet(printed).decode()
    page = Page(text)
    for value in printed.values:
        assert f"{printed.number(value)} {shown(value)} mm" in page.words
    if printed.calibrates:
        assert all(where_free(printed, value) in page.words for value in printed.values)
    assert " ".join(printed.steps.look.split()) in page.words
    assert not re.search(r"url\(|@import|https?://", text)
    assert list(page.paths()) == []
    boxes = sum(tag.get("class") == "box" for tag in page.every("span"))
    fitted = printed.calibrates or printed.steps.strains
    assert boxes == len(printed.values) * (len(words_of(printed)) if fitted else 2)


@each_of(CALIBRATING)
def test_what_is_to_be_written_is_what_the_results_ask_for(printed: Plan) -> None:
    words = Page(coupon_sheet(printed).decode()).words
    asked = tomllib.loads(results_file(printed))["steps"]
    assert list(asked)
    assert all(f'"{key}" = "' in words for key in asked)
    assert all(word in words for word in WORDS)
    assert f"scadgen calibrate {printed.name}_results.toml" in words


@pytest.mark.browser
def test_it_prints_on_one_page(tmp_path: Path) -> None:
    longest = max(PLANS, key=lambda one: (one.calibrates, len(one.values), len(one.family.hangs)))
    page, browser = tmp_path / "sheet.html", Browser(webgl=False)
    page.write_bytes(coupon_sheet(longest))
    try:
        pdf = browser.pdf(page)
    finally:
        browser.driver.quit()
    assert len(re.findall(rb"/Type /Page\b(?!s)", pdf)) == 1
