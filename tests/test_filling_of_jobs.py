"""How solid a job says that it prints: what is given, what the fleet has, what it needs."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest

import scadgen
from scadgen.handover.facts import facts
from scadgen.jobs.job import JobError, load_job
from scadgen.sizing.wanted import Wanted
from scadgen.sizing.wish import load_wish
from scadgen.strength.bearing import bears
from scadgen.strength.duty import Duty
from scadgen.strength.filling import Filling
from scadgen.strength.materials import material
from tests.sheet.subjects import subject

JOB = """\
family = "side_cones"

[size]
facets = 16

[printers]
material = "petg"
{settings}

[duty]
load = 6
"""


def written(folder: Path, settings: str = "") -> Path:
    path = folder / "job.toml"
    path.write_text(JOB.format(settings=settings), encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("settings", "walls", "infill"),
    [
        ("", 2, 0.1),
        ("walls = 4", 4, 0.1),
        ("infill = 35", 2, 0.35),
        ("walls = 3\ninfill = 100", 3, 1.0),
    ],
)
def test_what_a_job_does_not_say_is_that_of_the_weakest_printers(
    settings: str, walls: int, infill: float, tmp_path: Path
) -> None:
    path = written(tmp_path, settings)
    job = load_job(path)
    assert job.plastic is not None
    assert job.plastic.filling == Filling(walls, infill, job.hinge.line_width)
    assert load_wish(path).wanted.plastic.filling == job.plastic.filling


@pytest.mark.parametrize("settings", ["walls = 0", "walls = 2.5", "infill = 101", "infill = -1"])
def test_what_no_slicer_takes_is_refused(settings: str, tmp_path: Path) -> None:
    with pytest.raises(JobError, match=r"printers\.(walls|infill) = .*it must be"):
        load_job(written(tmp_path, settings))


def test_a_wish_without_a_filling_is_for_the_weakest_printers() -> None:
    wanted = Wanted(Duty(), material("petg"), fixed={"line_width": 0.6})
    assert wanted.plastic.filling == Filling(2, 0.1, 0.6)
    solid = dataclasses.replace(material("petg"), filling=Filling(9, 1.0, 0.4))
    assert Wanted(Duty(), solid).plastic.filling == solid.filling


@pytest.mark.parametrize("load", [1.0, 3.0, 5.0, 6.0, 7.0, 9.0, 40.0])
def test_the_sheet_says_what_walls_it_needs(load: float) -> None:
    hinge, duty = scadgen.SideCones(), Duty(load=load)
    filling = Filling(2, 0.1, hinge.line_width)
    plastic = dataclasses.replace(material("petg"), filling=filling)
    job, verdict = subject(hinge, duty=duty, plastic=plastic)
    enough = []
    for walls in range(1, 12):
        told = dataclasses.replace(plastic, filling=dataclasses.replace(filling, walls=walls))
        if bears(hinge, duty, told):
            enough.append(walls)
    (row,) = (row for row in facts(job, verdict).load if row.label == "Walls and infill")
    assert row.words.startswith("reckoned with 2 walls and 10 % infill")
    if not enough:
        assert "nor are more walls" in row.words
    elif enough[0] <= 2:
        assert f"ask for {enough[0]} wall" in row.words
    else:
        assert f"it needs {enough[0]} walls" in row.words


def test_a_job_made_in_python_is_proven_and_shown_as_printed_alike() -> None:
    hinge = scadgen.SideCones()
    job, verdict = subject(hinge, duty=Duty(load=6), plastic=material("petg"))
    assert job.plastic is not None
    assert job.plastic.filling == job.population.filling(hinge.line_width)
    (row,) = (row for row in facts(job, verdict).load if row.label == "Walls and infill")
    assert f"reckoned with {job.plastic.filling.words}" in row.words
    solid = dataclasses.replace(material("petg"), filling=Filling(9, 1.0, 0.4))
    assert subject(hinge, duty=Duty(), plastic=solid)[0].plastic == solid
