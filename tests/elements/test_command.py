"""``scadgen check --solid``: what it prints, draws and refuses."""

from __future__ import annotations

import dataclasses
import functools
import importlib.util
import io
import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from scadgen import CaptiveCone
from scadgen.cli.main import main
from scadgen.elements import judged
from scadgen.elements.of_hinge import asked_of
from scadgen.elements.turning import Cut
from scadgen.pictures import stress
from scadgen.pictures.palette import LIGHT, rgb
from scadgen.pictures.stress import coloured
from scadgen.proof import verdict
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material
from tests.support import thorough

JOB = """
family = "captive_cone"
size.facets = 32
printers.material = "petg"
duty = {{ load = {load}, pull = 2 }}
"""


@functools.cache
def cuts_of_default() -> tuple[Cut, Cut]:
    """What both links do does not hang on how much is asked: they are solved once."""
    hinge = CaptiveCone(facets=32)
    asked = asked_of(hinge, Duty(), material("petg"))
    rough = dataclasses.replace(asked, sizes=(1.0, 0.8))
    whole = hinge.mechanism()
    return judged.cut_twice(whole, whole.joints[0], rough)


@pytest.fixture
def coarse(monkeypatch: pytest.MonkeyPatch) -> None:
    """Large cubes, small pictures, nothing but strength: the rest has tests of its own."""
    cuts = cuts_of_default()
    monkeypatch.setattr(judged, "cut_twice", lambda *_: cuts)
    monkeypatch.setattr(judged, "SETTLED", 1.0)
    monkeypatch.setattr(verdict, "prove", lambda *_: _Nothing())
    monkeypatch.setattr(verdict, "parts", lambda *_: [])
    if not thorough():
        monkeypatch.setattr(stress, "PANEL", (320, 280))


class _Nothing:
    findings: tuple[Any, ...] = ()


def job(folder: Path, text: str) -> str:
    """The path of a job."""
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


@pytest.mark.usefixtures("coarse")
def test_it_tells_each_link_under_each_load_after_the_formulas_and_draws_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    picture = tmp_path / "found.png"
    asked = ["check", job(tmp_path, JOB.format(load=0.5)), "--solid", "--json"]
    status = main([*asked, "--picture", str(picture)])
    told = json.loads(capsys.readouterr().out)
    names = [one["name"] for one in told["findings"]]
    solid = [name for name in names if name.startswith("solid, ")]
    assert names[-len(solid) :] == solid
    assert solid == [
        f"solid, {what}, {load}"
        for load in ("load", "pull", "load and pull")
        for what in ("fixed link", "moving link", "give at the bearing", "turn past the stop")
        if (what, load) != ("turn past the stop", "pull")  # a pull along the axis pries nowhere
    ]
    assert status == 0
    assert told["proven"]
    image = Image.open(io.BytesIO(picture.read_bytes()))
    wide, high = stress.PANEL
    assert image.size == (2 * wide, high + stress.CAPTION)
    assert len(image.convert("RGB").getcolors(10**6) or ()) > 500


@pytest.mark.usefixtures("coarse")
def test_too_much_for_the_shape_is_not_proven(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", job(tmp_path, JOB.format(load=60)), "--solid"]) == 1
    out = capsys.readouterr().out
    assert "FAIL solid, moving link, load: " in out
    assert "near: arm of the spindle" in out
    assert "thicken what is named" in out


def test_what_cannot_be_loaded_is_refused_in_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    plain = job(tmp_path, 'family = "captive_cone"\n')
    assert main(["check", plain, "--solid"]) == 2
    assert "it asks for no duty" in capsys.readouterr().err
    wide = 'family = "sheet_flexure"\nprinters.material = "petg"\nduty.load = 1\n'
    sheet = job(tmp_path, f"{wide}size.sheet_width = 300\n")
    assert main(["check", sheet, "--solid"]) == 2
    assert "thousand cubes would be needed" in capsys.readouterr().err
    duty = job(tmp_path, JOB.format(load=1))
    assert main(["check", duty, "--picture", str(tmp_path / "found.jpg")]) == 2
    assert "must end in .png" in capsys.readouterr().err
    real = importlib.util.find_spec
    monkeypatch.setattr(
        importlib.util, "find_spec", lambda name: None if name == "pyamg" else real(name)
    )
    assert main(["check", duty, "--solid"]) == 2
    assert "pip install '.[solid]'" in capsys.readouterr().err


def test_colours_run_from_nothing_to_all_and_differ_beyond() -> None:
    none, some, all_, more, held = coloured(np.array([0, 0.5, 1, 1.01, np.nan]))
    assert none == pytest.approx(rgb(LIGHT["fixed_cut"]))
    assert all_ == pytest.approx(rgb(LIGHT["accent"]))
    assert more == pytest.approx(rgb(LIGHT["ink"]))
    assert held == pytest.approx(rgb(LIGHT["line"]))
    assert not np.allclose(some, none)
