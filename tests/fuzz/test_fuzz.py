"""A few random jobs in every run, and what the fuzzing itself would see."""

from __future__ import annotations

import functools
import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest

from scadgen.findings.finding import Verdict
from scadgen.hinge.family import all_families
from scadgen.jobs.job import JobError, new_job
from scadgen.jobs.keys import SECTIONS
from scadgen.tables.reading import flat
from tests.fuzz import outcome as module
from tests.fuzz.campaign import Campaign, table
from tests.fuzz.draw import job_bytes, job_text, with_changes
from tests.fuzz.meshes import inspected, mesh_file
from tests.fuzz.outcome import (
    CRASH,
    DRAWN,
    NO_REMEDY,
    NOT_PROVEN,
    PROVEN,
    REFUSED,
    TOO_SLOW,
    UNCLEAR,
    WRONG_FILES,
    Outcome,
    outcome,
)
from tests.support import thorough

SPINDLE = b'family = "waisted_spindle"\n'
TOO_LOW = SPINDLE + b"size.height = 20\n"


#: Every second is drawn too, where there is an OpenSCAD.
CAMPAIGN = Campaign(seed=1, openscad=2 if shutil.which("openscad") else 0, few_facets=True)
#: Its first two jobs are a quick proof and a refusal, and neither is drawn.
LIGHT = Campaign(seed=9, openscad=0, few_facets=True)


@functools.cache
def one(number: int) -> Outcome:
    """What becomes of a job of the campaign, made once for all tests."""
    return CAMPAIGN.one(number)


def ends(outcomes: list[Outcome]) -> set[str]:
    return {end for found in outcomes for end in found.ends}


def assert_no_faults(outcomes: list[Outcome]) -> None:
    print(table(outcomes))
    assert [(found.faults, found.detail, found.job) for found in outcomes if found.faults] == []


@pytest.mark.parametrize("start", [0, 8, 16] if thorough() else [0])
def test_random_jobs_are_refused_proven_or_not_proven(start: int) -> None:
    """Each is refused, proven or not, and nothing else happens."""
    outcomes = [one(number) for number in range(start, start + 8)]
    assert_no_faults(outcomes)
    assert ends(outcomes) <= {REFUSED, PROVEN, NOT_PROVEN, DRAWN, TOO_SLOW}
    assert REFUSED in ends(outcomes)
    assert ends(outcomes) & {PROVEN, NOT_PROVEN}


@pytest.mark.openscad
@pytest.mark.parametrize("number", [0, 4, 6])
def test_openscad_draws_random_jobs(number: int) -> None:
    assert_no_faults([one(number)])
    assert DRAWN in one(number).ends


def test_bytes_that_are_hardly_a_job_are_refused(tmp_path: Path) -> None:
    outcomes = [outcome(b"family = " + job_bytes(1, k), tmp_path) for k in range(300)]
    assert_no_faults(outcomes)
    assert ends(outcomes) == {REFUSED}


def test_random_mesh_files_are_refused_proven_or_not_proven(tmp_path: Path) -> None:
    outcomes = [inspected(*mesh_file(1, number), tmp_path) for number in range(40)]
    assert_no_faults(outcomes)
    assert ends(outcomes) == {REFUSED, PROVEN, NOT_PROVEN}
    assert mesh_file(1, 3) == mesh_file(1, 3) != mesh_file(2, 3)


def test_a_job_is_the_same_every_time_and_they_differ() -> None:
    texts = [job_text(1, number) for number in range(50)]
    assert texts == [job_text(1, number) for number in range(50)]
    assert len(set(texts)) == 50
    assert job_bytes(1, 2) == job_bytes(1, 2) != job_bytes(2, 2)
    assert {text.split('"')[1] for text in texts} == set(all_families())


def test_workers_give_every_job_once() -> None:
    found = {number: outcome.ends for number, outcome in LIGHT.run(2, workers=2)}
    assert found == {number: LIGHT.one(number).ends for number in range(2)}
    assert PROVEN in found[0]
    assert found[1] == (REFUSED,)
    assert list(LIGHT.run(100, seconds=0)) == []


def raiser(error: Exception) -> Any:
    def raise_it(*_: object) -> Any:
        raise error

    return raise_it


@pytest.mark.parametrize(
    ("error", "fault"),
    [
        (KeyError("a bug"), CRASH),
        (JobError("two\nlines."), UNCLEAR),
        (JobError("no full stop"), UNCLEAR),
        (JobError("size.height = 1 mm; too low. This works: size.height = 2."), NO_REMEDY),
    ],
)
def test_it_sees_a_loader_at_fault(
    error: Exception, fault: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "load_job", raiser(error))
    found = outcome(SPINDLE, tmp_path)
    assert found.faults == (fault,)
    assert found.job.startswith(SPINDLE)
    assert found.detail


def test_it_sees_empty_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    verdict = Verdict("waisted_spindle", ())
    monkeypatch.setattr("scadgen.proof.verdict.check", lambda *_, **__: verdict)
    files = {"my_waisted_spindle.scad": b"", "my_waisted_spindle.stl": b"solid"}
    monkeypatch.setattr(module, "job_files", lambda *_: files)
    assert outcome(SPINDLE, tmp_path).faults == (WRONG_FILES,)


def test_a_refused_hinge_goes_on_with_its_remedy(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("scadgen.proof.verdict.check", lambda h, *_, **__: Verdict(h.family, ()))
    found = outcome(TOO_LOW, tmp_path)
    assert found.ends[0] == REFUSED
    assert found.ends[1] in (PROVEN, NOT_PROVEN)
    assert found.family == "waisted_spindle"


def test_a_remedy_reaches_into_sections() -> None:
    job = with_changes(
        new_job("rod_loops") + "load = 3e0\n", {"size.wall": "3", "clearance": "0.4"}
    )
    told = flat(tomllib.loads(new_job("rod_loops")), SECTIONS) | {"duty.load": 3.0}
    assert flat(tomllib.loads(job), SECTIONS) == told | {"size.wall": 3, "clearance": 0.4}


def test_the_table_counts_every_end() -> None:
    outcomes = [Outcome((REFUSED,)), Outcome((REFUSED, PROVEN), "a"), Outcome((CRASH,), "a", "x")]
    head, a, none, whole = (line.split("  ") for line in table(outcomes).splitlines())
    named = [cell.strip() for cell in head if cell.strip()]
    rows = [[cell.strip() for cell in row if cell.strip()] for row in (a, none, whole)]
    counts = {row[0]: dict(zip(named[1:], map(int, row[1:]), strict=True)) for row in rows}
    assert counts["a"] | {"jobs": 2, REFUSED: 1, PROVEN: 1, CRASH: 1} == counts["a"]
    assert counts["none"] | {"jobs": 1, REFUSED: 1, PROVEN: 0, CRASH: 0} == counts["none"]
    assert counts["all"] | {"jobs": 3, REFUSED: 2, PROVEN: 1, CRASH: 1} == counts["all"]
