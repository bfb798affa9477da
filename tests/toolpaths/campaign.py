"""Random hinges on random slicers: ``python -m tests.toolpaths.campaign --slices 500``.

Each slice is a line of JSON in a file that is kept, so that a run goes on where it was stopped;
``--table`` prints what is kept, by engine, layer, nozzle and walls. A false alarm is a hinge that
the proof refuses and all engines leave free, with spread to spare. A number is another hinge once
the fields of its family have changed: ``--again FAMILY`` slices those anew.
"""

from __future__ import annotations

import argparse
import json
import subprocess
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from scadgen.hinge.family import Hinge
from scadgen.tables.documents import JobError
from tests.toolpaths.against import TO_SPARE, Compared, beside, ours
from tests.toolpaths.drawn import drawn_slice
from tests.toolpaths.engines import ENGINES, Slicing

KEPT = Path(__file__).with_name("slices.jsonl")

Row = Mapping[str, Any]


def one(number: int, family: str = "") -> dict[str, Any]:
    """A slice as plain data."""
    hinge, how = drawn_slice(number, family)
    asked = {
        "number": number,
        "family": hinge.family,
        "engine": how.engine,
        "layer": how.layer,
        "nozzle": how.nozzle,
        "walls": how.walls,
    }
    try:
        found = beside(hinge, "", how)
    except (AssertionError, JobError, subprocess.SubprocessError) as error:
        return asked | {"failed": str(error)[-200:]}
    facts = _facts(found)
    if found.false_alarm:
        others = [replace(how, engine=engine) for engine in ENGINES if engine != how.engine]
        facts["false_alarm"] = all(_free(hinge, other) for other in others)
    return asked | facts


def _free(hinge: Hinge, how: Slicing) -> bool:
    """Whether an engine leaves free to spare, too, what the proof refuses."""
    try:
        return beside(hinge, "", how).false_alarm
    except (AssertionError, JobError, subprocess.SubprocessError):
        return True


def judged_anew(row: Row) -> Row:
    """A kept slice beside what the proof says now."""
    hinge, how = drawn_slice(row["number"], row["family"])
    now = ours(hinge, how)
    if now == row["ours"]:
        return row
    if now != "proven":  # whether all engines leave it free is not known yet
        return one(row["number"], row["family"])
    return {**row, "ours": now, "miss": row["theirs"] == "welded", "false_alarm": False}


def _facts(found: Compared) -> dict[str, Any]:
    return {
        "ours": found.ours,
        "theirs": "welded" if found.welded else "free",
        "spread": None if found.spread is None else round(found.spread, 3),
        "else": found.faults,
        "miss": found.miss,
        "false_alarm": found.false_alarm,
    }


def kept(path: Path = KEPT) -> list[Row]:
    """The slices of earlier runs."""
    if not path.exists():
        return []
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]


def main() -> None:
    """Slice on, or print the tables."""
    parser = argparse.ArgumentParser(prog="python -m tests.toolpaths.campaign", description=__doc__)
    parser.add_argument("--slices", type=int, default=500)
    parser.add_argument("--table", action="store_true", help="print what is kept, slice none")
    parser.add_argument("--judge", action="store_true", help="hold what is kept to the proof anew")
    parser.add_argument("--again", metavar="FAMILY", help="slice what is kept of a family anew")
    given = parser.parse_args()
    if given.judge:
        _keep(row if "failed" in row else judged_anew(row) for row in kept())
    if given.again:
        name = given.again
        _keep(one(row["number"], name) if row["family"] == name else row for row in kept())
    done = {row["number"] for row in kept()}
    for number in () if given.table else range(given.slices):
        if number not in done:
            with KEPT.open("a", encoding="utf-8") as file:
                file.write(json.dumps(one(number)) + "\n")
    print("\n".join((*tables(kept()), "", *wrong(kept()))))


def _keep(rows: Iterable[Row]) -> None:
    """Write all rows anew, once all are there."""
    text = "".join(f"{json.dumps(row)}\n" for row in rows)
    KEPT.write_text(text, encoding="utf-8")


KEYS: tuple[Callable[[Row], str], ...] = (
    lambda row: row["engine"],
    lambda row: f"layers of {row['layer']:g} mm",
    lambda row: f"nozzle of {row['nozzle']:g} mm",
    lambda row: f"{row['walls']} walls",
    lambda row: f"`{row['family']}`",
    lambda row: "all",
)
HEAD = (
    *("", "slices", "proven", "of these welded", "least spread of the others, mm"),
    *("refused", "of these free to spare"),
)


def tables(rows: Iterable[Row]) -> Iterator[str]:
    """The sliced rows by each thing that was drawn."""
    sliced = [row for row in rows if "failed" not in row]
    yield f"| {' | '.join(HEAD)} |"
    yield f"|---|{'---:|' * (len(HEAD) - 1)}"
    for key in KEYS:
        for value in sorted({key(row) for row in sliced}):
            yield _row(value, [row for row in sliced if key(row) == value])


def _row(name: str, rows: list[Row]) -> str:
    proven = [row for row in rows if row["ours"] == "proven"]
    misses = sum(row["miss"] for row in proven)
    alarms = sum(row["false_alarm"] for row in rows)
    spreads = [row["spread"] for row in proven if not row["miss"] and row["spread"] is not None]
    least = f"{min(spreads):.2f}" if spreads else "none joins"
    cells = (name, len(rows), len(proven), misses, least, len(rows) - len(proven), alarms)
    return f"| {' | '.join(map(str, cells))} |"


def wrong(rows: Iterable[Row]) -> Iterator[str]:
    """The misses, the false alarms, and what was not sliced or cannot be followed."""
    for row in rows:
        if "failed" in row or row["miss"] or row["false_alarm"]:
            what = "failed" if "failed" in row else "MISS" if row["miss"] else "false alarm"
            yield f"{what}: {json.dumps(row)}"
    yield f"To spare: {TO_SPARE:g} mm of spread or more, and no other fault."


if __name__ == "__main__":
    main()
