"""The viewer turns, cuts and shows the hinge: told by its state and by what is drawn."""

from __future__ import annotations

import re

import numpy as np
import pytest
from PIL import Image
from selenium.webdriver.common.keys import Keys

from scadgen.hinge.family import Hinge
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.pictures.palette import DARK, LIGHT, rgb
from tests.browser.browser import Browser
from tests.browser.conftest import Opened
from tests.support import ROOT, each_family

pytestmark = pytest.mark.browser

#: Lets every model that is shown tell that its joint moves in mm.
IN_MM = """
  let made;
  const told = (make) => (canvas) => {
    const viewer = make(canvas), show = viewer.show.bind(viewer);
    viewer.show = async (model) => { await show(model); viewer.facts.unit = "mm"; };
    return viewer;
  };
  Object.defineProperty(window, "scadgenViewer", {
    set: (make) => { made = told(make); },
    get: () => made,
  });
"""


def area(picture: Image.Image, colour: str, *, near: float = 0.03) -> int:
    """Pixels of a colour of the light palette, drawn flat as cut faces and the background are."""
    off = np.abs(np.asarray(picture) / 255 - rgb(LIGHT[colour])).max(axis=2)
    return int((off < near).sum())


def moving(picture: Image.Image) -> tuple[float, float]:
    """Middle of the moving side, whose honey colour has far more red than blue in any light."""
    pixels = np.asarray(picture).astype(int)
    rows, columns = np.nonzero(pixels[..., 0] - pixels[..., 2] > 60)
    assert len(rows) > 1000
    return float(columns.mean()), float(rows.mean())


def changed(one: Image.Image, other: Image.Image) -> float:
    """Share of the pixels that differ."""
    differ = np.abs(np.asarray(one).astype(int) - np.asarray(other)).max(axis=2) > 24
    return float(differ.mean())


@each_family
def test_the_slider_turns_the_hinge(cls: type[Hinge], opened: Opened) -> None:
    browser, hinge = opened(), cls()
    browser.turn(cls.family)
    slider = browser.find("#angle")
    ends = float(slider.get_attribute("min") or ""), float(slider.get_attribute("max") or "")
    assert ends == (hinge.lowest(), hinge.swing)
    assert browser.state["angle"] == "0"
    closed = browser.picture()
    browser.slide(Keys.END, 1)
    assert float(browser.state["angle"]) == hinge.swing
    assert browser.find("#angle-value").text == f"{hinge.swing:g}°"
    assert slider.get_attribute("aria-valuetext") == f"{hinge.swing:g} degrees"
    opened_far = browser.picture()
    assert changed(closed, opened_far) > 0.01
    if isinstance(hinge, Pivot):
        (x, y), (to_x, to_y) = moving(closed), moving(opened_far)
        assert np.hypot(to_x - x, to_y - y) > 10
    browser.find("#as-printed").click()
    assert browser.state["angle"] == "0"
    assert changed(closed, browser.picture()) < 0.001


def test_positions_are_told_in_the_unit_of_the_joint(opened: Opened) -> None:
    """The model tells the unit; without one it is degrees."""
    browser = opened()
    browser.turn("slit_lattice")
    assert browser.find("#angle-label").text == "Opening angle"
    browser.open()
    browser.run(IN_MM)
    browser.turn("slit_lattice")
    browser.slide(Keys.ARROW_RIGHT, 2)
    assert browser.find("#angle-label").text == "Position"
    assert browser.find("#angle-value").text == "30 mm"
    assert browser.find("#angle").get_attribute("aria-valuetext") == "30 mm"
    assert browser.find("#viewer-note").text == "Moved by 30 mm."


def test_a_step_of_the_slider_is_a_degree_or_a_bend(opened: Opened) -> None:
    browser = opened()
    for family, step in (("rod_loops", 1), ("slit_lattice", 15)):
        browser.open()
        browser.turn(family)
        browser.slide(Keys.ARROW_RIGHT, 2)
        assert float(browser.state["angle"]) == 2 * step


def test_the_cut_shows_both_sides_and_goes_again(opened: Opened) -> None:
    browser = opened()
    browser.turn("waisted_spindle")
    whole = browser.picture()
    browser.find("#cut").click()
    assert browser.state["cut"] == "true"
    assert browser.find("#viewer-note").text.endswith("cut in half.")
    cut = browser.picture()
    for side in ("fixed_cut", "moving_cut"):
        assert area(cut, side) > 2000
        assert area(whole, side) < 200
    browser.find("#cut").click()
    assert browser.state["cut"] == "false"
    assert changed(whole, browser.picture()) < 0.001


def test_the_bed_is_there_as_it_prints_only(opened: Opened) -> None:
    browser = opened()
    browser.turn("waisted_spindle")
    assert "As it prints, on a bed with squares of 10 mm" in browser.find("#viewer-note").text
    lines = area(browser.picture(), "line", near=0.05)
    browser.slide(Keys.ARROW_RIGHT, 1)
    assert browser.find("#viewer-note").text == "Opened by 1°."
    assert area(browser.picture(), "line", near=0.05) < lines / 2


def test_keys_turn_the_view(opened: Opened) -> None:
    browser = opened()
    browser.turn("rod_loops")
    seen = browser.picture()
    canvas = browser.find("#canvas")
    for there, back in ((Keys.ARROW_LEFT, Keys.ARROW_RIGHT), (Keys.ARROW_UP, Keys.ARROW_DOWN)):
        canvas.send_keys(there)
        assert changed(seen, browser.picture()) > 0.005
        canvas.send_keys(back)
        assert changed(seen, browser.picture()) < 0.005
    canvas.send_keys("+")
    assert area(browser.picture(), "background") < area(seen, "background")
    assert browser.state["angle"] == "0"


def test_nothing_of_the_hinge_is_cropped_on_its_way(opened: Opened) -> None:
    for size in ((1280, 900), (360, 740)):
        browser = opened(*size)
        for family in ("rod_loops", "slit_lattice", "waisted_spindle"):
            browser.open(*size)
            browser.turn(family)
            for key in (Keys.HOME, Keys.END):
                browser.slide(key, 1)
                if browser.state["angle"] == "0":
                    browser.slide(Keys.ARROW_RIGHT, 1)  # the bed may reach out of the picture
                assert _rim_is_free(browser)


def _rim_is_free(browser: Browser) -> bool:
    pixels = np.asarray(browser.picture()) / 255
    off = np.abs(pixels - rgb(LIGHT["background"])).max(axis=2) > 0.03
    off[:12, :12] = off[:12, -12:] = off[-12:, :12] = off[-12:, -12:] = False  # rounded corners
    rim = np.concatenate([off[1], off[-2], off[:, 1], off[:, -2]])
    return not rim.any() and bool(off.any())


def test_dark_has_its_own_colours(opened: Opened) -> None:
    browser = opened(dark=True)
    browser.turn("rod_loops")
    pixels = np.asarray(browser.picture()) / 255
    assert np.abs(pixels[20, 20] - rgb(DARK["background"])).max() < 0.02


def test_another_hinge_replaces_the_first(opened: Opened) -> None:
    browser = opened()
    browser.turn("rod_loops")
    browser.slide(Keys.END, 1)
    browser.escape()
    browser.turn("slit_lattice")
    assert browser.find("#viewer-title").text == "Slit lattice"
    assert browser.state["angle"] == "0"
    pixels = np.asarray(browser.picture()).astype(int)
    assert (pixels[..., 0] - pixels[..., 2] > 60).sum() == 0  # nothing honey-coloured is left


def test_without_webgl_there_are_stills_and_a_word(opened: Opened) -> None:
    browser = opened(webgl=False)
    browser.view("rod_loops")
    browser.until(lambda: "WebGL is missing" in browser.find("#viewer-note").text)
    assert not browser.find("#controls").is_displayed()
    assert not browser.find("#canvas").is_displayed()
    pictures = browser.all("#stills img")
    assert [p.get_attribute("alt") for p in pictures] == [
        f"Rod loops, {view}" for view in ("as it prints", "opened", "cut in half")
    ]
    browser.until(lambda: browser.run("return arguments[0].naturalWidth", pictures[0]) == 800)
    assert browser.focused() == "close"


def test_the_bundle_is_what_its_source_gives() -> None:
    """tests/run has built it anew from viewer.js and the packages that the lock file fixes."""
    built = ROOT / "build" / "web" / "viewer.bundle.js"
    committed = ROOT / "scadgen" / "gallery" / "web" / "viewer.bundle.js"
    assert built.read_bytes() == committed.read_bytes()
    assert re.search(rb"@license|Permission is hereby granted", committed.read_bytes())
