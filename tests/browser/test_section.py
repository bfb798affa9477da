"""The live section: its dimensions are typed into, by hand or by keyboard alone."""

from __future__ import annotations

import pytest
from selenium.webdriver.common.keys import Keys

from scadgen import WaistedSpindle
from tests.browser.conftest import Opened
from tests.browser.test_maker import refused

pytestmark = pytest.mark.browser


def test_a_dimension_sets_its_field_where_there_is_no_webgl_too(opened: Opened) -> None:
    browser = opened(webgl=False, address="#form=waisted_spindle")
    browser.until(lambda: browser.find("#size").text.endswith(" mm"))
    browser.pick("shown", "0")
    browser.until(lambda: browser.all("#dimension-shaft"))
    entry = browser.find("#dimension-shaft")
    assert entry.get_attribute("value") == str(WaistedSpindle().shaft).removesuffix(".0")
    outline = "return document.querySelector('#section path.moving').getAttribute('d')"
    before = browser.run(outline)
    entry.send_keys(Keys.CONTROL, "a")
    entry.send_keys("10")
    assert browser.find("#field-shaft").get_attribute("value") == "10"
    browser.until(lambda: browser.run(outline) != before)
    assert browser.focused() == "dimension-shaft"
    browser.until(lambda: browser.driver.current_url.endswith("&shaft=10"))


def test_what_it_refuses_is_told_there_and_the_remedy_is_taken_by_keyboard(opened: Opened) -> None:
    browser = opened(address="#form=waisted_spindle")
    browser.drawn()
    browser.pick("shown", "0")
    browser.until(lambda: browser.all("#dimension-waist"))
    browser.enter("waist", "1.6")
    entry = browser.find("#dimension-waist")
    assert entry.get_attribute("value") == "1.6"
    entry.send_keys(Keys.CONTROL, "a")
    entry.send_keys("1")
    error = refused()
    assert error.rule in browser.find("#section-refused").text
    assert entry.get_attribute("aria-invalid") == "true"
    assert "section-refused" in (entry.get_attribute("aria-describedby") or "")
    browser.run("document.querySelector('#section-refused .take').focus()")
    browser.press(Keys.ENTER)
    assert browser.focused() == "dimension-waist"
    browser.press(Keys.TAB)
    browser.until(lambda: entry.get_attribute("value") == "1.5")
    assert not browser.find("#section-refused").is_displayed()
    browser.pick("shown", "")
    assert browser.find("#canvas").is_displayed()
    assert not entry.is_displayed()
