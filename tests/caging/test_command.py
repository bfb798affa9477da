"""The command that writes a certificate."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

import scadgen.caging.certificate as caging
from scadgen.caging.checker import check
from scadgen.cli.main import main
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
