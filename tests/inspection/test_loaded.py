"""``scadgen inspect --solid``: a model's bearings are loaded, and what was not covered is said."""

from __future__ import annotations

import importlib.util
import json
from pathlib import Path

import pytest
from manifold3d import Manifold

from scadgen import CaptiveCone
from scadgen.cli.main import main
from scadgen.elements import judged
from scadgen.findings.finding import NO_DUTY, NO_FLEET
from scadgen.hinge.meshing import mesh
from scadgen.inspection.loaded import NOT_COVERED
from scadgen.meshfiles.writing import stl

#: Layers in which nothing of it fails, so that its load decides.
BASE = ["--layers", "0.3", "--json"]


@pytest.fixture
def model(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """A captive cone in a file, and cubes that are solved in seconds."""
    monkeypatch.setattr(judged, "SIZES", (1.0, 0.9))
    monkeypatch.setattr(judged, "SETTLED", 1.0)
    path = tmp_path / "model.stl"
    path.write_bytes(stl(mesh(CaptiveCone(facets=16))))
    return str(path)


def test_its_findings_join_the_rest_and_the_verdict_says_what_was_not_covered(
    model: str, capsys: pytest.CaptureFixture[str]
) -> None:
    plain = main(["inspect", model, *BASE])
    before = json.loads(capsys.readouterr().out)
    assert NO_DUTY in before["unasked"]
    load = ["--solid", "--plastic", "petg", "--load", "1", "--pull", "1", "--margin", "1.5"]
    assert main(["inspect", model, *BASE, *load]) == plain == 0
    after = json.loads(capsys.readouterr().out)
    names = [one["name"] for one in after["findings"]]
    assert names[: len(before["findings"])] == [one["name"] for one in before["findings"]]
    found = after["findings"][len(before["findings"]) :]
    assert {one["name"].rpartition(", ")[2] for one in found} == {"load", "pull", "load and pull"}
    assert len(found) == 9
    assert all(one["name"].startswith("solid, ") for one in found)
    assert any("PETG" in one["words"] for one in found)
    assert after["unasked"] == [NO_FLEET, *NOT_COVERED]
    assert after["passed"]
    assert not after["proven"]  # no fleet was asked
    assert main(["inspect", model, *BASE, *load[:3], "--load", "60"]) == 1
    failed = [one["name"] for one in json.loads(capsys.readouterr().out)["findings"]]
    assert "solid, body 1, load" in failed


@pytest.mark.parametrize(
    ("given", "words"),
    [
        (["--load", "3"], "load: asked of its solid only; add --solid"),
        (["--plastic", "petg"], "plastic: asked of its solid only"),
        (["--solid", "--load", "3"], "plastic: missing"),
        (["--solid", "--plastic", "petg"], "neither a load nor a pull"),
        (["--solid", "--plastic", "petk", "--load", "3"], "no plastic"),
        (["--solid", "--plastic", "petg", "--load", "-3"], "load = -3 N"),
        (["--solid", "--plastic", "petg", "--load", "3", "--celsius", "90"], "softens"),
    ],
)
def test_what_cannot_be_asked_is_refused_in_a_sentence(
    model: str, given: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["inspect", model, *BASE, *given]) == 2
    assert words in capsys.readouterr().err


def test_without_a_joint_or_the_libraries_it_is_refused(
    model: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    load = ["--solid", "--plastic", "petg", "--load", "2"]
    block = tmp_path / "block.stl"
    block.write_bytes(stl(Manifold.cube((9, 9, 9))))
    assert main(["inspect", str(block), *BASE, *load]) == 2
    assert "no body turns in another" in capsys.readouterr().err
    real = importlib.util.find_spec
    monkeypatch.setattr(
        importlib.util, "find_spec", lambda name: None if name == "pyamg" else real(name)
    )
    assert main(["inspect", model, *BASE, *load]) == 2
    assert "pip install '.[solid]'" in capsys.readouterr().err
