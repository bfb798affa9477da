"""The command that writes a certificate."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import scadgen
import scadgen.caging.certificate as caging
from scadgen import mesh
from scadgen.caging.checker import check
from scadgen.cli.main import main
from scadgen.meshfiles.writing import stl
from tests.support import ROOT


def test_what_the_verdict_rests_on_is_what_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """It is looked for once."""
    found: list[Any] = []

    def seen(*asked: Any) -> Any:
        found.append(certified(*asked))
        return found[-1]

    certified = caging.certified
    monkeypatch.setattr(caging, "certified", seen)
    job, target = ROOT / "gallery" / "tea_sampler_box.toml", tmp_path / "held.json"
    assert main(["check", str(job), "--json", "--certificate", str(target)]) == 0
    (cage,) = found
    told = json.loads(capsys.readouterr().out)
    (depth,) = (each["measured"] for each in told["findings"] if each["name"] == "hold")
    written = json.loads(target.read_text(encoding="utf-8"))
    assert written["depth"] == depth == cage.depth
    assert check(written) == sum(node.place >= 0 for node in cage.cover.nodes)


def test_a_model_from_elsewhere_has_its_certificate_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """As an STL, whose bodies and axis are found; the checker accepts it."""
    model, target = tmp_path / "edited.stl", tmp_path / "held.json"
    hinge = scadgen.SideCones(facets=32)
    model.write_bytes(stl(mesh(hinge, "fixed") + mesh(hinge, "moving", angle=0)))
    options = ["inspect", str(model), "--swing", "0,110", "--certificate", str(target)]
    main([*options, "--json"])
    told = json.loads(capsys.readouterr().out)
    (depth,) = (each["measured"] for each in told["findings"] if each["name"] == "hold")
    written = json.loads(target.read_text(encoding="utf-8"))
    assert written["depth"] == depth
    assert written["of"] == "edited.stl"
    assert check(written) > 100
    assert main(options) == 2
    assert "exists already" in capsys.readouterr().err


def test_bodies_that_do_not_turn_have_none(tmp_path: Path) -> None:
    job = tmp_path / "sheet.toml"
    job.write_text('family = "sheet_flexure"\n', encoding="utf-8")
    target = tmp_path / "held.json"
    assert main(["check", str(job), "--certificate", str(target)]) == 2
    assert not target.exists()
