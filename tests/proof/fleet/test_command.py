"""``scadgen fleet`` and the curves."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from lxml import etree

from scadgen.cli.main import main
from scadgen.gallery.curves import fleet_table
from scadgen.hinge.family import all_families
from scadgen.jobs.job import new_job
from tests.support import ROOT

JOB = str(ROOT / "gallery" / "tea_sampler_box.toml")


def test_the_command_prints_shares_and_ends_well(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fleet", JOB, "--count", "2000"]) == 0
    out = capsys.readouterr().out
    assert out.startswith("2000 printers of the rough fleet")
    for words in ("moves freely", "holds", "95 % interval", "worst printer", "best clearance"):
        assert words in out


def test_json_holds_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["fleet", JOB, "--json", "--count", "2000"]) == 0
    found = json.loads(capsys.readouterr().out)
    both = found["share_both"]
    assert both["low"] <= both["value"] <= both["high"]
    assert (found["count"], found["population"], found["passed"]) == (2000, "rough", True)
    assert found["clearance"]["best"] in map(float, found["clearance"]["shares"])


def test_too_small_a_share_is_not_proven(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    hanging = next(name for name, cls in all_families().items() if cls.hangs)
    job = tmp_path / "job.toml"
    job.write_text(new_job(hanging), encoding="utf-8")
    assert main(["fleet", str(job), "--count", "2000", "--quiet"]) == 1
    assert "commonest failure: under the" in capsys.readouterr().out
    assert main(["fleet", JOB, "--count", "2000", "--quiet"]) == 0
    assert not capsys.readouterr().out


@pytest.mark.parametrize("count", ["0", "99", "1e5", "-3", "many", "999999999"])
def test_a_count_that_tells_nothing_is_refused(count: str) -> None:
    with pytest.raises(SystemExit) as caught:
        main(["fleet", JOB, "--count", count])
    assert caught.value.code == 2


def test_the_table_has_every_family() -> None:
    head, rule, *rows = fleet_table().splitlines()
    assert re.findall(r"`(\w+)`", "".join(rows)) == list(all_families())
    assert {row.count("|") for row in (head, rule, *rows)} == {12}
    for row in rows:
        for cell in row.split("|")[2:-1]:
            assert re.fullmatch(r" (-|>?[\d.]+ %) ", cell)


def test_a_curve_is_the_same_each_time(monkeypatch: pytest.MonkeyPatch) -> None:
    from scadgen.gallery import curves

    monkeypatch.setattr(curves, "COUNT", 500)
    for cls in list(all_families().values())[:2]:
        drawn = curves.fleet_curve(cls())
        assert drawn == curves.fleet_curve(cls())
        root = etree.fromstring(drawn)
        assert root.tag.endswith("svg")
        assert b"<dc:date>" not in drawn
        assert drawn.count(b'id="axes_') == 1
