"""A maker without Python: from opening the page to files that OpenSCAD and the proof take."""

from __future__ import annotations

import re
import time
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
import trimesh
from selenium.webdriver.common.keys import Keys

from scadgen import WaistedSpindle
from scadgen.cli.main import main
from scadgen.gallery.fleet_data import printers
from scadgen.handover.outputs import call
from scadgen.hinge.automatic import given_values
from scadgen.hinge.family import definition, numbers
from scadgen.hinge.meshing import mesh
from scadgen.hinge.rules import HingeError
from scadgen.jobs.job import load_job
from scadgen.openscad.emitter import emit
from scadgen.proof.fleet.findings import percent
from scadgen.proof.fleet.population import ROUGH
from scadgen.proof.fleet.shares import works
from scadgen.text.numbers import digits
from scadgen.text.units import labelled
from tests.browser.browser import PATIENCE, Browser
from tests.browser.conftest import Opened
from tests.engine import run

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("downloads")


@pytest.fixture(scope="module")
def maker(opened: Opened, folder: Path) -> Iterator[Browser]:
    """A browser without a network, whose downloads go into a folder."""
    browser = opened()
    browser.downloads(folder)
    browser.network(there=False)
    yield browser
    browser.network(there=True)


def saved(browser: Browser, folder: Path, kind: str, name: str) -> Path:
    """The file that a button gives."""
    path = folder / name
    path.unlink(missing_ok=True)
    browser.find(f"[data-file='{kind}']").click()
    until = time.monotonic() + PATIENCE
    while not path.exists() and time.monotonic() < until:
        time.sleep(0.05)
    assert path.exists()
    return path


def refused() -> HingeError:
    with pytest.raises(HingeError) as caught:
        WaistedSpindle(waist=1)
    return caught.value


def test_from_the_page_to_a_proven_hinge(maker: Browser, folder: Path) -> None:
    maker.open()
    maker.choose("waisted_spindle")
    assert maker.find("#verdict").get_attribute("data-state") == "proven"
    maker.enter("waist", "1")
    error = refused()
    said = maker.until(lambda: maker.find("#refused-waist p").text)
    assert said == error.rule + error.remedy.partition(" This works")[0]
    maker.until(lambda: maker.find("#heard").get_attribute("textContent") == str(error))
    assert not maker.find("[data-file=call]").is_enabled()
    maker.find("#refused-waist .take").click()
    assert maker.find("#field-waist").get_attribute("value") == "1.5"
    maker.enter("height", "44")
    hinge = WaistedSpindle(height=44, **error.works)
    maker.drawn()
    assert not maker.find("#refused-waist").is_displayed()
    told = maker.find("#told").get_attribute("textContent") or ""
    for one in hinge.exported():
        label, unit = labelled(one.meaning)
        assert f"{label}{digits(one.value)} {unit}" in told
    gap = mesh(hinge, "fixed").min_gap(mesh(hinge, "moving"), 2)
    maker.until(lambda: maker.find("#gap").text == f"{gap:.2f} mm")
    turns, holds = works(definition(WaistedSpindle), numbers(hinge), printers(ROUGH))
    share = f"{percent(float((turns & holds).mean()))} ({ROUGH.needed:g} % wanted)"
    maker.until(lambda: share in (maker.find("#fleets").get_attribute("textContent") or ""))
    verdict = maker.find("#verdict")
    assert "Not proven: run scadgen check" in verdict.text

    module = saved(maker, folder, "scad", "waisted_spindle.scad")
    assert module.read_text() == emit(WaistedSpindle())
    drawn = saved(maker, folder, "call", "my_waisted_spindle.scad")
    job = saved(maker, folder, "job", "my_waisted_spindle.toml")
    assert drawn.read_text() == call(load_job(job))
    assert given_values(load_job(job).hinge) == given_values(hinge)
    maker.run("document.getElementById('prove').open = true")
    assert maker.find("#job").text == job.read_text().rstrip()
    assert maker.find("#command").text == f"scadgen check {job.name}"
    assert main(["check", str(job), "--quiet"]) == 0


def test_by_keyboard_alone_from_a_form_to_a_file(maker: Browser, folder: Path) -> None:
    maker.open(address="#form=side_cones")
    maker.drawn()
    path = folder / "my_waisted_spindle.scad"
    path.unlink(missing_ok=True)

    def go_to(wanted: str, most: int = 60) -> None:
        for _ in range(most):
            maker.press(Keys.TAB)
            if maker.run("return document.activeElement.matches(arguments[0])", wanted):
                return
        raise AssertionError(f"no way by Tab to {wanted}")

    go_to("[data-name=waisted_spindle]")
    maker.press(Keys.ENTER)
    maker.drawn()
    go_to("#field-waist")
    maker.replace("1")
    maker.until(lambda: maker.find("#heard").get_attribute("textContent") == str(refused()))
    go_to("#refused-waist .take", most=1)
    maker.press(Keys.ENTER)
    assert maker.focused() == "field-waist"
    go_to("[data-file=call]")
    maker.press(Keys.ENTER)
    maker.until(path.exists)
    assert read_values(path)["waist"] == refused().works["waist"]


def read_values(path: Path) -> dict[str, float]:
    """The values at the top of a file that draws a hinge."""
    rows = re.finditer(r"^waisted_spindle_(\w+) = ([\d.]+);", path.read_text(), re.MULTILINE)
    return {row[1]: float(row[2]) for row in rows}


def test_its_models_are_the_same_solids(maker: Browser, folder: Path) -> None:
    maker.open(address="#form=waisted_spindle&height=44")
    maker.drawn()
    wanted = mesh(WaistedSpindle(height=44))
    solid = trimesh.load_mesh(saved(maker, folder, "stl", "my_waisted_spindle.stl"))
    assert solid.is_watertight
    assert solid.volume == pytest.approx(wanted.volume(), rel=1e-5)
    assert solid.bounds.ravel() == pytest.approx(wanted.bounding_box(), abs=1e-4)
    packed = saved(maker, folder, "3mf", "my_waisted_spindle.3mf")
    with zipfile.ZipFile(packed) as held:
        assert held.testzip() is None
    scene = trimesh.load_scene(packed)
    assert len(scene.geometry) == len(["fixed", "moving"])
    assert scene.to_mesh().volume == pytest.approx(wanted.volume(), rel=1e-5)


@pytest.mark.openscad
def test_openscad_renders_what_the_page_gives(maker: Browser, folder: Path, tmp_path: Path) -> None:
    maker.open(address="#form=rod_loops&length=30&facets=24")
    maker.until(lambda: maker.find("#field-length").get_attribute("value") == "30")
    maker.drawn()
    saved(maker, folder, "scad", "rod_loops.scad")
    opened = saved(maker, folder, "call", "my_rod_loops.scad")
    drawn = run(opened, tmp_path).mesh
    from scadgen import RodLoops

    assert drawn.volume == pytest.approx(mesh(RodLoops(length=30, facets=24)).volume(), rel=1e-4)


def test_a_design_is_an_address_and_undo_goes_back(opened: Opened) -> None:
    browser = opened(address="#form=side_cones&clearance=0.35&no_such=3&leaf_length=x")
    browser.drawn()
    assert browser.find("#form-name").text == "Side cones"
    assert browser.find("#field-clearance").get_attribute("value") == "0.35"
    assert not browser.find("#undo").is_enabled()
    browser.enter("clearance", "0.4")
    address = "#form=side_cones&clearance=0.4"
    browser.until(lambda: browser.driver.current_url.endswith(address))
    browser.choose("rod_loops")
    browser.find("#undo").click()
    browser.until(lambda: browser.find("#form-name").text == "Side cones")
    assert browser.find("#field-clearance").get_attribute("value") == "0.35"
    assert not browser.find("#undo").is_enabled()
    assert browser.focused() == "redo"
    browser.find("#redo").click()
    assert browser.find("#field-clearance").get_attribute("value") == "0.4"
    browser.until(lambda: browser.driver.current_url.endswith(address))
    assert not browser.find("#redo").is_enabled()
    browser.find("#undo").click()
    browser.enter("clearance", "0.5")
    assert not browser.find("#redo").is_enabled()
    browser.find("#usual").click()
    browser.until(lambda: browser.driver.current_url.endswith("#form=side_cones"))
    assert browser.find("#verdict").get_attribute("data-state") == "proven"


def test_words_in_a_number_are_refused_too(opened: Opened) -> None:
    browser = opened(address="#form=rod_loops")
    browser.drawn()
    browser.enter("rod", " ")
    browser.run("document.getElementById('field-rod').value = '';")
    browser.run("document.getElementById('field-rod').dispatchEvent(new Event('input'))")
    assert "it must be 3 to 16 mm." in browser.find("#refused-rod").text
    assert "Take rod = 5" in browser.find("#refused-rod .take").text


def test_free_ranges_are_told_and_end_the_sliders(opened: Opened) -> None:
    from scadgen.hinge.free import free

    browser = opened(address="#form=waisted_spindle")
    browser.drawn()
    found = free(WaistedSpindle, given_values(WaistedSpindle()), "waist")
    browser.until(lambda: browser.find("#free-waist").text == f"free: {found}")
    slider = browser.find("[data-name=waist] input[type=range]")
    assert found is not None
    ends = (found.values[0], found.values[-1])
    assert (
        float(slider.get_attribute("min") or ""),
        float(slider.get_attribute("max") or ""),
    ) == ends
