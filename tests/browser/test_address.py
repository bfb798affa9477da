"""Addresses are anybody's: what of them cannot be read is told, and breaks nothing."""

from __future__ import annotations

import functools
from pathlib import Path
from urllib.parse import quote

import pytest

from tests.browser.browser import Browser
from tests.browser.conftest import Opened

pytestmark = pytest.mark.browser

SCRIPT = "<img src=x onerror=document.title=1>"
#: An address, and what is told of it.
HOSTILE = {
    "#form=no_such": "No form here is called \N{LEFT DOUBLE QUOTATION MARK}no_such",
    "#form=constructor&__proto__=1": "No form here is called",
    "#form=../../x": "No form here is called",
    f"#form={quote(SCRIPT)}": "No form here is called \N{LEFT DOUBLE QUOTATION MARK}<img src=x",
    "#%E0%A4%A&=&&=": "It names no form.",
    "#form=rod_loops&__proto__=3&constructor=3": "no field of it",
    f"#form=rod_loops&{quote(SCRIPT)}=3&rod=NaN&wall=0x10&gap=": "no number for rod",
    "#form=rod_loops&angle=90": "no field of it",
    "#form=rod_loops&rod=1e999": "no number for rod",
    "#form=rod_loops&rod=" + "9" * 1_000_000: "1000020 letters long, and not read",
}


def told(browser: Browser) -> str:
    return str(browser.run("return document.getElementById('said').textContent"))


def tells(browser: Browser, words: str) -> bool:
    return words in told(browser)


def test_none_breaks_the_page(opened: Opened) -> None:
    browser = opened(address="#form=side_cones&clearance=0.35")
    browser.drawn()
    title = browser.driver.title
    for address, words in HOSTILE.items():
        browser.run("document.getElementById('said').textContent = ''")
        browser.run("location.hash = arguments[0]", address)
        browser.until(functools.partial(tells, browser, words))
        browser.until(lambda: len(browser.driver.current_url) < 200)
        shown = browser.find("#form-name").text
        assert shown in ("Side cones", "Rod loops")
        assert browser.find("#verdict").text
    browser.find("#forms a[data-name=side_cones]").click()
    assert browser.find("#field-clearance").get_attribute("value") == "0.35"
    assert browser.driver.title == title
    assert [line for line in browser.log("browser") if line["level"] == "SEVERE"] == []


def test_a_first_one_shows_the_first_form(opened: Opened) -> None:
    browser = opened(address="#form=no_such&rod=3")
    browser.drawn()
    assert "No form here is called" in told(browser)
    first = browser.find("#forms a[data-name]").get_attribute("data-name")
    browser.until(lambda: browser.driver.current_url.endswith(f"#form={first}"))


def test_huge_numbers_are_refused_as_if_they_were_typed(opened: Opened) -> None:
    browser = opened(address="#form=rod_loops&length=1e300&facets=-5")
    browser.drawn()
    assert browser.find("#verdict").get_attribute("data-state") == "refused"
    browser.until(lambda: "length=1e%2B300" in browser.driver.current_url)
    browser.driver.refresh()
    browser.drawn()
    assert browser.find("#field-length").get_attribute("value") == "1e+300"
    while browser.all(".refused:not([hidden]) .take"):
        browser.find(".refused:not([hidden]) .take").click()
    assert browser.find("#verdict").get_attribute("data-state") == "held"


def test_a_page_of_a_form_leads_to_it(opened: Opened) -> None:
    browser = opened(address="#form=side_cones")
    browser.drawn()
    page = browser.find("[data-about=side_cones] a[href^='families/']")
    browser.driver.get(page.get_attribute("href") or "")
    assert Path(browser.driver.current_url).name == "side_cones.html"
    browser.find(".go a").click()
    browser.until(lambda: browser.find("#form-name").text == "Side cones")
