"""The stage turns, cuts and shows the hinge: told by its state and by what is drawn."""

from __future__ import annotations

import numpy as np
import pytest
from PIL import Image
from selenium.webdriver.common.keys import Keys

from scadgen.hinge.ends import ends
from scadgen.hinge.family import Hinge, definition, numbers
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.meshing import mesh
from scadgen.pictures.palette import DARK, LIGHT, rgb
from tests.browser.browser import Browser
from tests.browser.conftest import Opened
from tests.support import ROOT, each_family

pytestmark = pytest.mark.browser


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
    """One after the other on one page: nothing of the last is left in the next."""
    browser, hinge = opened(anew=False), cls()
    browser.choose(cls.family)
    slider = browser.find("#angle")
    reach = [float(slider.get_attribute(end) or "") for end in ("min", "max")]
    assert reach == [end.at for end in ends(definition(cls), "angle", numbers(hinge))]
    assert browser.angle == "0"
    low, high = np.reshape(mesh(hinge, angle=0).bounding_box(), (2, 3))
    sides = " \N{MULTIPLICATION SIGN} ".join(f"{side:.1f}" for side in high - low)
    assert browser.find("#size").text == f"{sides} mm"
    closed = browser.picture()
    browser.slide(Keys.END, 1)
    assert float(browser.angle) == reach[1]
    assert browser.find("#angle-value").text == f"{reach[1]:g}°"
    assert slider.get_attribute("aria-valuetext") == f"{reach[1]:g} degrees"
    opened_far = browser.picture()
    assert changed(closed, opened_far) > 0.01
    if isinstance(hinge, Pivot):
        (x, y), (to_x, to_y) = moving(closed), moving(opened_far)
        assert np.hypot(to_x - x, to_y - y) > 10
    browser.find("#as-printed").click()
    browser.drawn()
    assert browser.angle == "0"
    assert changed(closed, browser.picture()) < 0.001


def test_the_cut_shows_both_sides_and_goes_again(opened: Opened) -> None:
    browser = opened(anew=False)
    browser.first_seen("waisted_spindle")
    whole = browser.picture()
    browser.pick("cut", "y")
    assert browser.state["cut"] == "y"
    cut = browser.picture()
    for side in ("fixed_cut", "moving_cut"):
        assert area(cut, side) > 2000
        assert area(whole, side) < 200
    browser.point("cut-at", 5)
    assert changed(cut, browser.picture()) > 0.005
    browser.point("cut-at", 0)
    assert changed(cut, browser.picture()) < 0.001
    browser.pick("cut", "")
    assert changed(whole, browser.picture()) < 0.001


@pytest.mark.parametrize("axis", ["x", "y", "z"])
def test_an_opened_hinge_keeps_both_its_sides_when_cut(axis: str, opened: Opened) -> None:
    browser = opened(anew=False)
    browser.first_seen("rod_loops")
    browser.slide(Keys.END, 1)
    browser.pick("cut", axis)
    assert area(browser.picture(), "fixed_cut") + area(browser.picture(), "moving_cut") > 1000
    moving(browser.picture())


def test_the_bed_is_there_as_it_prints_only(opened: Opened) -> None:
    browser = opened(anew=False)
    browser.first_seen("waisted_spindle")
    lines = area(browser.picture(), "line", near=0.05)
    browser.slide(Keys.ARROW_RIGHT, 1)
    assert browser.angle == "1"
    assert area(browser.picture(), "line", near=0.05) < lines / 2


def test_keys_turn_the_view(opened: Opened) -> None:
    browser = opened(anew=False)
    browser.first_seen("rod_loops")
    seen = browser.picture()
    canvas = browser.find("#canvas")
    for there, back in ((Keys.ARROW_LEFT, Keys.ARROW_RIGHT), (Keys.ARROW_UP, Keys.ARROW_DOWN)):
        canvas.send_keys(there)
        assert changed(seen, browser.picture()) > 0.005
        canvas.send_keys(back)
        assert changed(seen, browser.picture()) < 0.005
    canvas.send_keys("+")
    assert area(browser.picture(), "background") < area(seen, "background")
    assert browser.angle == "0"


def test_another_hinge_replaces_the_first(opened: Opened) -> None:
    browser = opened(anew=False)
    browser.first_seen("rod_loops")
    browser.slide(Keys.END, 1)
    browser.choose("slit_lattice")
    assert browser.find("#form-name").text == "Slit lattice"
    assert browser.angle == "0"
    pixels = np.asarray(browser.picture()).astype(int)
    assert (pixels[..., 0] - pixels[..., 2] > 60).sum() == 0  # nothing honey-coloured is left


@pytest.mark.parametrize("size", [(1280, 900), (360, 740)], ids=["desk", "phone"])
def test_nothing_of_the_hinge_is_cropped_on_its_way(size: tuple[int, int], opened: Opened) -> None:
    browser = opened(*size)
    for family in ("rod_loops", "slit_lattice", "waisted_spindle"):
        browser.choose(family)
        if family == "slit_lattice":
            browser.enter("rows", "34")  # so long that it rises far
            browser.until(lambda: browser.find("#verdict").get_attribute("data-state") == "held")
            browser.drawn()
        for key in (Keys.HOME, Keys.END):
            browser.slide(key, 1)
            if browser.angle == "0":
                browser.slide(Keys.ARROW_RIGHT, 1)  # the bed may reach out of the picture
            assert _rim_is_free(browser), family


def _rim_is_free(browser: Browser) -> bool:
    pixels = np.asarray(browser.picture()) / 255
    off = np.abs(pixels - rgb(LIGHT["background"])).max(axis=2) > 0.03
    off[:16, :16] = off[:16, -16:] = off[-16:, :16] = off[-16:, -16:] = False  # rounded corners
    rim = np.concatenate([off[1], off[-2], off[:, 1], off[:, -2]])
    return not rim.any() and bool(off.any())


def test_dark_has_its_own_colours(opened: Opened) -> None:
    browser = opened(dark=True)
    browser.choose("rod_loops")
    browser.slide(Keys.ARROW_RIGHT, 1)
    pixels = np.asarray(browser.picture()) / 255
    assert np.abs(pixels[20, 20] - rgb(DARK["background"])).max() < 0.02


def test_without_webgl_there_are_stills_and_all_else_works(opened: Opened) -> None:
    browser = opened(webgl=False)
    browser.find("#forms a[data-name=rod_loops]").click()
    browser.until(lambda: "WebGL is missing" in browser.find("#stage-note").text)
    assert not browser.find("#canvas").is_displayed()
    browser.until(lambda: browser.find("#form-name").text == "Rod loops")
    pictures = browser.all("#stills img")
    assert [p.get_attribute("alt") for p in pictures] == [
        f"Rod loops, {view}" for view in ("as it prints", "opened", "cut in half")
    ]
    browser.until(lambda: browser.find("#size").text.endswith(" mm"))
    browser.enter("rod", "99")
    assert "it must be 3 to " in browser.find("#refused-rod").text


@pytest.mark.parametrize("name", ["page", "viewer", "kernel"])
def test_a_bundle_is_what_its_sources_give(name: str) -> None:
    """tests/run has built it anew from its sources and the packages that the lock file fixes."""
    built = ROOT / "build" / "web" / f"{name}.bundle.js"
    committed = ROOT / "scadgen" / "gallery" / "web" / f"{name}.bundle.js"
    assert built.read_bytes() == committed.read_bytes()
