"""The page in a real browser: both sides of one sheet of A4, nothing cut off or out of a window."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from scadgen import FacingCones, SlitLattice, WaistedSpindle
from scadgen.handover.outputs import job_file_names
from scadgen.handover.spec_sheet import spec_sheet
from scadgen.hinge.family import Hinge
from scadgen.strength.duty import Duty
from tests.sheet.subjects import subject

pytestmark = pytest.mark.browser
PATIENCE = 60  # s
A4 = (595, 842)  # points, ISO 216: 210 x 297 mm

LONG = Duty(cycles=2e6, hours=720, celsius=40)
#: The longest that a sheet can be: long texts, screws, a family that hangs, many places.
FULL = {"title": "lid hinge " * 30, "note": "an invented box " * 60, "duty": LONG}


def chromium(*options: str) -> bytes:
    """Run the browser without a window."""
    command = [shutil.which("chromium") or "", "--headless", "--no-sandbox", "--disable-gpu"]
    return subprocess.run(
        [*command, *options], capture_output=True, check=True, timeout=PATIENCE
    ).stdout


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
def test_it_prints_on_both_sides_of_one_sheet_of_a4(tmp_path: Path, hinge: Hinge) -> None:
    page, paper = written(tmp_path, hinge), tmp_path / "sheet.pdf"
    chromium("--no-pdf-header-footer", f"--print-to-pdf={paper}", page.as_uri())
    pdf = paper.read_bytes()
    assert len(re.findall(rb"/Type /Page\b(?!s)", pdf)) == 2, "front and back"
    box = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf)
    assert [round(float(side)) for side in box[0]] == list(A4)


@pytest.mark.parametrize("width", [400, 1280])
def test_nothing_reaches_out_of_the_window(tmp_path: Path, width: int) -> None:
    page = written(tmp_path, WaistedSpindle(screw=1))
    probe = (
        "<script>onload = () => document.title = "
        "`wide ${document.documentElement.scrollWidth} of ${innerWidth}`</script>"
    )
    page.write_text(page.read_text(encoding="utf-8") + probe, encoding="utf-8")
    dumped = chromium(f"--window-size={width},900", "--dump-dom", page.as_uri()).decode()
    found = re.search(r"<title>wide (\d+) of (\d+)</title>", dumped)
    assert found
    assert int(found[1]) <= int(found[2])
