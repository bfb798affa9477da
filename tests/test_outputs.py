"""What a job gives: files that fit together, and free text that stays text."""

from __future__ import annotations

import subprocess
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from scadgen.findings.finding import Finding, Verdict
from scadgen.handover.outputs import job_files
from scadgen.hinge.meshing import mesh
from scadgen.jobs.job import Job, job_keys, load_job
from scadgen.keeping.files import write_all
from scadgen.meshfiles.stamping import made_of, read_back
from scadgen.meshfiles.writing import stl
from scadgen.openscad.emitter import CAUTION, emit
from scadgen.text.quoting import plain
from scadgen.text.typeset import typeset
from tests.support import ROOT

VERDICT = Verdict("waisted_spindle", (Finding("gap at rest", True, "0.352 mm at rest."),))
HOSTILE = 'a\n cube(9); /* b */ \\ " \r\x00\u2028\u202e\t cube(8); // <b>&amp;</b> ' + "long " * 60


@pytest.fixture
def job() -> Job:
    return load_job(ROOT / "gallery" / "tea_sampler_box.toml")


def texts(job: Job, verdict: Verdict = VERDICT) -> dict[str, str]:
    return {
        name: data.decode()
        for name, data in job_files(job, verdict).items()
        if name.endswith((".scad", ".txt"))
    }


def test_the_files_of_a_job(job: Job) -> None:
    files = job_files(job, VERDICT)
    ends = [".scad", ".stl", ".3mf", ".txt", "_sheet.md", "_sheet.html"]
    assert list(files) == ["waisted_spindle.scad", *(f"tea_sampler_lid{end}" for end in ends)]
    assert files["waisted_spindle.scad"].decode() == emit(type(job.hinge)())
    assert files["tea_sampler_lid.stl"] == stl(mesh(job.hinge))
    bodies = {part: mesh(job.hinge, part) for part in ("fixed", "moving")}
    assert made_of(bodies) == read_back(files["tea_sampler_lid.3mf"])
    assert files == job_files(job, VERDICT)


def test_the_report_tells_findings_values_and_cautions(job: Job) -> None:
    failed = Finding("swing", False, "free from -40.0 to 40.0 deg; -120 to 120 deg are asked.")
    report = texts(job, Verdict(job.family, (*VERDICT.findings, failed)))["tea_sampler_lid.txt"]
    assert report.startswith("Tea-sampler box: lid hinge (invented example)\nTwo rings along")
    assert "\nwaisted_spindle: NOT proven, 1 of 2 measures failed.\n" in report
    assert f"\nFAIL swing: {typeset(failed.words)}\nok   gap at rest: 0.352 mm at rest.\n" in report
    for name, key in job_keys(type(job.hinge)).items():
        line = next(line for line in report.splitlines() if line.split()[:1] == [key])
        assert float(line.split()[1].rstrip("°")) == getattr(job.hinge, name)
    assert all(caution in report for caution in CAUTION)
    proven = "\nwaisted_spindle: proven, all 1 measures passed.\n"
    assert proven in texts(job)["tea_sampler_lid.txt"]


def test_free_text_stays_text(job: Job) -> None:
    hostile = replace(job, title=HOSTILE, note=HOSTILE)
    wild, tame = texts(hostile), texts(replace(job, title="", note=""))
    for name in ("tea_sampler_lid.scad", "tea_sampler_lid.txt"):
        assert {c for c in wild[name] if not c.isprintable()} == {"\n"}
        assert max(map(len, wild[name].split("\n"))) <= 100
        assert wild[name].count("cube(9);") == 2
    assert wild["waisted_spindle.scad"] == tame["waisted_spindle.scad"]
    call, tame_call = wild["tea_sampler_lid.scad"], tame["tea_sampler_lid.scad"]
    assert statements(call) == statements(tame_call)


def statements(source: str) -> list[str]:
    return [line for line in source.split("\n") if not line.startswith("//")]


def test_plain_text_is_one_printable_line() -> None:
    assert plain(HOSTILE).isprintable()
    assert plain("  a\n\tb\u202ec ") == "a b c"
    assert plain("Teedose für Öl") == "Teedose für Öl"


@pytest.mark.openscad
@pytest.mark.parametrize("words", ["plain", HOSTILE])
def test_the_call_draws_the_hinge_of_the_job(job: Job, words: str, tmp_path: Path) -> None:
    import trimesh

    few = replace(job.hinge, facets=24)
    write_all(tmp_path, job_files(replace(job, hinge=few, title=words, note=words), VERDICT))
    drawn = tmp_path / "drawn.stl"
    run = subprocess.run(
        ["openscad", "--hardwarnings", "-q", "-o", drawn, tmp_path / "tea_sampler_lid.scad"],
        capture_output=True,
        text=True,
    )
    assert (run.returncode, run.stderr) == (0, "")
    volume: Any = trimesh.load_mesh(drawn).volume
    assert volume == pytest.approx(mesh(few).volume(), rel=1e-3)
