"""The kept slices of random hinges: they can be sliced again, and the bars hold."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from scadgen.hinge.family import all_families
from tests.toolpaths import campaign
from tests.toolpaths.drawn import drawn_slice
from tests.toolpaths.engines import ENGINES

#: Slices that there must be at least, and the share of false alarms that is borne.
SLICES, ALARMS = 500, 0.05


def test_no_slice_is_missed_and_false_alarms_are_few() -> None:
    rows = [row for row in campaign.kept() if "failed" not in row]
    assert len({row["number"] for row in rows}) == len(rows) >= SLICES
    assert {row["engine"] for row in rows} == set(ENGINES)
    assert {row["family"] for row in rows} <= set(all_families())
    assert [row["number"] for row in rows if row["miss"]] == []
    assert sum(row["false_alarm"] for row in rows) < ALARMS * len(rows)


@pytest.mark.parametrize("number", [8, 15])
def test_a_number_is_the_same_slice_again(number: int) -> None:
    (row,) = (row for row in campaign.kept() if row["number"] == number)
    hinge, how = drawn_slice(number, row["family"])
    told = (hinge.family, how.engine, how.layer, how.nozzle, how.walls)
    assert told == tuple(row[key] for key in ("family", "engine", "layer", "nozzle", "walls"))
    assert campaign.judged_anew(row) == row


def test_a_table_counts_each_slice_once(tmp_path: Path) -> None:
    row = campaign.kept()[0]
    other = {**row, "number": -1, "ours": "fails: walls", "miss": False, "false_alarm": True}
    failed = {**row, "number": -2, "failed": "an engine ended"}
    path = tmp_path / "kept.jsonl"
    path.write_text("".join(f"{json.dumps(one)}\n" for one in (row, other, failed)))
    lines = list(campaign.tables(campaign.kept(path)))
    assert lines[-1].startswith("| all | 2 | 1 | 0 |")
    assert lines[-1].endswith("| 1 | 1 |")
    assert [line.partition(":")[0] for line in campaign.wrong(campaign.kept(path))] == [
        "false alarm",
        "failed",
        "To spare",
    ]
