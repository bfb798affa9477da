"""The page as a person uses it: filters, links, keyboard, small windows, helpers that read it."""

from __future__ import annotations

import json
from typing import Any
from urllib.parse import unquote, urlsplit

import pytest
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import Select

from scadgen.gallery.cards import LINKS, VIEWS, suited
from scadgen.hinge.family import all_families
from tests.browser.browser import PAGE, Browser
from tests.browser.conftest import Opened
from tests.support import ROOT

pytestmark = pytest.mark.browser

AXE = ROOT / "build" / "web" / "node_modules" / "axe-core" / "axe.min.js"
#: How many of its rules hold, and what breaks others; all else that it tells would be a megabyte.
AXES = "axe.run().then(({passes, violations}) => [passes.length, violations])"
SIZES = [(1280, 900), (360, 740)]
each_size = pytest.mark.parametrize("size", SIZES, ids=["desk", "phone"])


def shown(browser: Browser) -> list[str]:
    script = "return [...document.querySelectorAll('.card')].filter(c => c.checkVisibility())"
    return list(browser.run(f"{script}.map(c => c.id)"))


def unfiltered(opened: Opened) -> Browser:
    """The page that is open, with every form shown."""
    browser = opened(anew=False)
    browser.find("#filters button").click()
    browser.until(lambda: shown(browser) == list(all_families()))
    return browser


def faults(browser: Browser) -> list[str]:
    """All that axe-core finds."""
    if browser.run("return typeof axe") == "undefined":
        browser.run(AXE.read_text(encoding="utf-8"))
    passes, violations = browser.run(f"return {AXES}")
    assert passes
    return [
        f"{fault['id']} ({fault['impact']}): {node['html']}"
        for fault in violations
        for node in fault["nodes"]
    ]


def in_light_and_dark(browser: Browser) -> list[str]:
    """All that it finds of the page as it is, in either."""
    found = []
    for dark in (True, False):
        browser.darken(dark)
        found += faults(browser)
    return found


@each_size
def test_every_family_is_shown_without_an_error(size: tuple[int, int], opened: Opened) -> None:
    browser = opened(*size)
    assert shown(browser) == list(all_families())
    browser.run("document.querySelectorAll('img').forEach(i => i.loading = 'eager')")
    browser.until(lambda: browser.run("return [...document.images].every(i => i.complete)"))
    widths = browser.run("return [...document.images].map(i => i.naturalWidth)")
    products = len(browser.all(".product img"))
    of_forms = (len(VIEWS) + 1) * len(all_families()) + len(VIEWS)  # cards, strip, stage
    assert len(widths) == of_forms + products
    assert all(width > 0 for width in widths)
    assert [entry for entry in browser.log("browser") if entry["level"] == "SEVERE"] == []


def test_nothing_comes_from_elsewhere(opened: Opened) -> None:
    browser = opened(anew=False)
    browser.log("performance")
    browser.open()
    browser.choose("rod_loops")
    messages = [json.loads(entry["message"])["message"] for entry in browser.log("performance")]
    sent = [m["params"]["request"]["url"] for m in messages if m["method"].endswith("BeSent")]
    assert PAGE in sent
    assert any(url.endswith("forms/rod_loops.js") for url in sent)
    assert [url for url in sent if not url.startswith(("file:", "data:", "blob:"))] == []


def test_filters_narrow_and_come_back(opened: Opened) -> None:
    browser = opened()
    families = all_families()
    for value in ("pivot", "flexure"):
        Select(browser.find("select[name=kind]")).select_by_value(value)
        wanted = [name for name, cls in families.items() if cls.kind == value]
        assert shown(browser) == wanted
        count = f"{len(wanted)} of {len(families)} hinges shown."
        assert browser.find("#count").text == count
    Select(browser.find("select[name=posture]")).select_by_value("standing")
    assert shown(browser) == []
    assert browser.find("#none").is_displayed()
    browser.find("#filters button").click()
    browser.until(lambda: shown(browser) == list(families))
    assert not browser.find("#none").is_displayed()


@pytest.mark.parametrize("name", ["posture", "proof"])
def test_each_value_of_a_filter_shows_what_has_it(name: str, opened: Opened) -> None:
    browser = unfiltered(opened)
    select = Select(browser.find(f"select[name={name}]"))
    values = [option.get_attribute("value") or "" for option in select.options][1:]
    seen = []
    for value in values:
        select.select_by_value(value)
        cards = shown(browser)
        assert cards
        assert all(browser.find(f"#{c}").get_attribute(f"data-{name}") == value for c in cards)
        seen += cards
    assert sorted(seen) == list(all_families())


def test_a_plastic_shows_what_can_be_made_of_it(opened: Opened) -> None:
    browser = unfiltered(opened)
    Select(browser.find("select[name=material]")).select_by_value("pla")
    wanted = [name for name, cls in all_families().items() if "pla" in suited(cls)]
    assert shown(browser) == wanted
    assert 0 < len(wanted) < len(all_families())  # brittle: the sheet is not among them


def test_all_links_lead_to_files(opened: Opened) -> None:
    browser = opened(anew=False)
    links = browser.run("return [...document.querySelectorAll('a[href]')].map(a => a.href)")
    assert len(links) > (len(VIEWS) + len(LINKS) + 1) * len(all_families())
    assert {f"{PAGE}#form={name}" for name in all_families()} <= set(links)
    gone = [url for url in links if not _file(url).is_file()]
    assert gone == []


def _file(url: str) -> Any:
    parts = urlsplit(url)
    assert parts.scheme == "file"
    return ROOT / unquote(parts.path)


@each_size
def test_helpers_that_read_the_page_find_their_way(size: tuple[int, int], opened: Opened) -> None:
    browser = opened(*size)
    assert in_light_and_dark(browser) == []
    browser.run("document.querySelectorAll('details').forEach(d => d.open = true)")
    assert in_light_and_dark(browser) == []
    browser.choose("waisted_spindle")
    browser.pick("shown", "0")
    browser.until(lambda: browser.all("#dimension-waist"))
    browser.enter("waist", "1")
    browser.until(lambda: browser.find("#refused-waist").is_displayed())
    assert in_light_and_dark(browser) == []


def test_and_where_there_is_no_webgl(opened: Opened) -> None:
    browser = opened(webgl=False)
    browser.until(lambda: "WebGL" in browser.find("#stage-note").text)
    assert faults(browser) == []


@each_size
def test_nothing_is_wider_than_the_window(size: tuple[int, int], opened: Opened) -> None:
    browser = opened(*size)
    wide = (
        "return [...document.querySelectorAll('body *')].filter(e =>"
        " e.getBoundingClientRect().right > innerWidth + 1).map(e => e.outerHTML.slice(0, 80))"
    )
    browser.run("document.querySelectorAll('details').forEach(d => d.open = true)")
    browser.choose("rod_loops")
    browser.enter("rod", "99")
    sizes = "const d = document.scrollingElement; return [d.scrollWidth, innerWidth]"
    scrolled, window = browser.run(sizes)
    assert window == size[0]
    assert scrolled <= window
    strip = set(browser.run(wide.replace("body *", "#forms li, #forms li *")))  # it scrolls itself
    assert set(browser.run(wide)) <= strip


def test_one_screen_shows_form_values_solid_and_files(opened: Opened) -> None:
    browser = opened(1280, 800)
    browser.drawn()
    for place in ("#forms", "#values", "#stage", "#angle", "[data-file=call]", "#verdict"):
        box = browser.find(place).rect
        assert box["y"] >= 0, place
        assert box["y"] + box["height"] <= 800, place


def test_all_is_done_with_the_keyboard(opened: Opened) -> None:
    browser = opened()
    browser.drawn()
    browser.run("document.querySelector('#forms a[data-name=waisted_spindle]').focus()")
    browser.press(Keys.ENTER)
    browser.until(lambda: browser.find("#form-name").text == "Waisted spindle")
    browser.drawn()
    reached = []
    for _ in range(60):
        browser.press(Keys.TAB)
        reached.append(browser.focused())
    wanted = ["field-waist", "canvas", "angle", "cut", "as-printed", "copy-address"]
    assert [name for name in wanted if name not in reached] == []
    assert reached.index("field-waist") < reached.index("angle") < reached.index("copy-address")
