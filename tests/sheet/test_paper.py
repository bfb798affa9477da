"""The page in a real browser: both sides of one sheet of A4, nothing cut off or out of a window."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from scadgen import FacingCones, SlitLattice, WaistedSpindle
from scadgen.handover.outputs import job_file_names
from scadgen.handover.spec_sheet import spec_sheet
from scadgen.hinge.family import Hinge
from scadgen.strength.duty import Duty
from tests.browser.browser import Browser
from tests.sheet.subjects import subject

pytestmark = pytest.mark.browser
A4 = (595, 842)  # points, ISO 216: 210 x 297 mm

LONG = Duty(cycles=2e6, hours=720, celsius=40)
#: The longest that a sheet can be: long texts, screws, a family that hangs, many places.
FULL = {"title": "lid hinge " * 30, "note": "an invented box " * 60, "duty": LONG}


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """One browser for all tests here: its start takes longer than what they ask."""
    started = Browser(webgl=False)
    yield started
    started.driver.quit()


def written(folder: Path, hinge: Hinge) -> Path:
    path = folder / "sheet.html"
    about = subject(hinge, **FULL)
    files = dict.fromkeys(job_file_names(about[0]), b"as if")
    path.write_bytes(spec_sheet(*about, files, pictured=True)["tea_lid_sheet.html"])
    return path


@pytest.mark.parametrize(
    "hinge",
    [FacingCones(screw=1, screws=1, leaf_length=20), SlitLattice(), WaistedSpindle(screw=1)],
    ids=["facing_cones", "slit_lattice", "waisted_spindle"],
)
def test_it_prints_on_both_sides_of_one_sheet_of_a4(
    tmp_path: Path, hinge: Hinge, browser: Browser
) -> None:
    pdf = browser.pdf(written(tmp_path, hinge))
    assert len(re.findall(rb"/Type /Page\b(?!s)", pdf)) == 2, "front and back"
    box = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf)
    assert [round(float(side)) for side in box[0]] == list(A4)


@pytest.mark.parametrize("width", [400, 1280])
def test_nothing_reaches_out_of_the_window(tmp_path: Path, width: int, browser: Browser) -> None:
    size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": False}
    browser.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    browser.driver.get(written(tmp_path, WaistedSpindle(screw=1)).as_uri())
    inner, wide = browser.run("return [innerWidth, document.documentElement.scrollWidth]")
    assert inner == width
    assert wide <= width
    browser.driver.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
