"""A 3MF carries its own proof: proven anew, and believed only while the file is the same."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from scadgen.findings.finding import Verdict
from scadgen.handover.outputs import job_files
from scadgen.inspection.carried import NAME, Carried, found_proof, with_proof
from scadgen.inspection.measure import inspect
from scadgen.jobs.job import Job, read_job
from scadgen.jobs.written import job_text
from scadgen.keeping.fingerprint import sealed_json
from scadgen.mechanism.joint import silent
from scadgen.meshfiles import carried as carrying
from scadgen.meshfiles.carried import JOB, PROOF, NotBelievedError, carried, geometry, hashed
from scadgen.meshfiles.reading import read

TOML = """family = "side_cones"
name = "lid"
title = 'A "lid"'
size = {facets = 16, length = 24, leaf_length = 6}
printers = {layer_heights = [0.2], material = "petg", closing_radius = 0.03}
duty = {load = 2}
"""
MODEL = "3D/3dmodel.model"

Parts = dict[str, str]


@pytest.fixture(scope="module")
def job() -> Job:
    return read_job(TOML, Path())


@pytest.fixture(scope="module")
def verdict(job: Job) -> Verdict:
    return job.prove()


@pytest.fixture(scope="module")
def data(job: Job, verdict: Verdict) -> bytes:
    return job_files(job, verdict)["lid.3mf"]


@pytest.fixture
def path(data: bytes, tmp_path: Path) -> Path:
    (tmp_path / "lid.3mf").write_bytes(data)
    return tmp_path / "lid.3mf"


def parts_of(path: Path) -> Parts:
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name).decode() for name in archive.namelist()}


def packed(parts: Parts, path: Path) -> Path:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in parts.items():
            archive.writestr(name, text)
    path.write_bytes(out.getvalue())
    return path


def forged(parts: Parts, change: Callable[[dict[str, object]], object]) -> None:
    """The proof changed by somebody who knows how to seal it."""
    facts = json.loads(parts[PROOF])
    del facts["fingerprint"]
    change(facts)
    parts[PROOF] = sealed_json(facts)


def with_text(parts: Parts, name: str, text: str) -> None:
    """Another text, the proof sealed to fit it."""
    parts[f"Metadata/scadgen/{name}"] = text

    def change(facts: dict[str, object]) -> None:
        texts = facts["texts"]
        assert isinstance(texts, dict)
        texts[name] = hashed(text)

    forged(parts, change)


def test_the_job_in_it_is_the_job(job: Job) -> None:
    assert read_job(job_text(job), Path()) == job


def test_it_is_found_and_proven_anew(path: Path, verdict: Verdict) -> None:
    found = inspect(path)
    assert found.carried
    assert found.carried.holds
    assert found.carried.anew == verdict
    told = next(one for one in found.verdict.findings if one.name == NAME)
    assert told.passed
    assert "proven anew from the job in it" in told.words
    assert json.loads(json.dumps(found.to_dict()))["carried"]["holds"] is True


def test_a_proof_that_is_not_made_again_fails(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        Job,
        "prove",
        lambda job, tell: Verdict("side_cones", (), unasked=("no fleet of printers was asked",)),
    )
    found = found_proof(path, read(path), silent)
    assert found
    assert found.finding
    assert not found.finding.passed


def test_geometry_is_told_apart_from_its_order(path: Path) -> None:
    soup = read(path)
    shuffled = np.roll(soup[::-1], 1, axis=1)
    assert geometry(shuffled) == geometry(soup)
    assert geometry(soup[:, ::-1]) != geometry(soup)
    assert geometry(soup + 0.001) != geometry(soup)


def moved_corner(parts: Parts) -> None:
    before, mark, after = parts[MODEL].partition('z="4.00000"')
    parts[MODEL] = f'{before}z="4.00100"{after}'
    assert mark


HOSTILE: dict[str, tuple[Callable[[Parts], object], str]] = {
    "another geometry": (moved_corner, "its geometry is not the one that was proven"),
    "changed": (
        lambda parts: parts.update({PROOF: parts[PROOF].replace('"proven": true', '"proven": 1')}),
        "it was changed after it was written",
    ),
    "cut short": (lambda parts: parts.update({PROOF: parts[PROOF][:300]}), "it cannot be read"),
    "no facts": (lambda parts: parts.update({PROOF: "[]"}), "not of the form"),
    "newer": (
        lambda parts: forged(parts, lambda facts: facts.update(form=99, written_by="scadgen 9")),
        "it is of a newer form, written by scadgen 9",
    ),
    "module changed": (
        lambda parts: parts.update({"Metadata/scadgen/side_cones.scad": "cube(1);"}),
        "its side_cones.scad was changed",
    ),
    "text missing": (
        lambda parts: parts.pop("Metadata/scadgen/report.txt"),
        "report.txt is missing",
    ),
    "no texts": (
        lambda parts: forged(parts, lambda facts: facts.update(texts=3)),
        "it must name its texts",
    ),
    "text elsewhere": (
        lambda parts: forged(parts, lambda facts: facts.update(texts={"../../x": ""})),
        "a text of it lies elsewhere",
    ),
    "too large": (
        lambda parts: with_text(parts, "report.txt", "x" * (carrying.LARGEST + 1)),
        "its report.txt is larger than",
    ),
    "other printers": (
        lambda parts: forged(parts, lambda facts: facts.update(printing={})),
        "it tells of other printers than the job in it",
    ),
    "a file of the reader's": (
        lambda parts: with_text(
            parts, JOB, 'family = "side_cones"\nprinters.fleet = "/etc/passwd"\n'
        ),
        "the job in it names a file (printers.fleet)",
    ),
    "no job": (lambda parts: with_text(parts, JOB, "family = 3"), "the job in it is none"),
    "another job": (
        lambda parts: with_text(parts, JOB, parts[f"Metadata/scadgen/{JOB}"].replace("24", "25")),
        "the job in it makes other triangles here",
    ),
}


def not_believed(found: Carried | None, why: str) -> None:
    assert found
    assert not found.holds
    assert why in found.why
    assert found.anew is None
    assert found.finding is None


@pytest.mark.parametrize(("change", "why"), HOSTILE.values(), ids=HOSTILE)
def test_what_was_changed_is_not_believed(
    change: Callable[[Parts], object], why: str, path: Path
) -> None:
    parts = parts_of(path)
    change(parts)
    packed(parts, path)
    not_believed(found_proof(path, read(path), silent), why)


def test_a_proof_that_is_not_believed_is_told_of(path: Path) -> None:
    parts = parts_of(path)
    moved_corner(parts)
    found = inspect(packed(parts, path))
    assert "it carries a proof that is not believed: its geometry" in found.notes[0]
    assert NAME not in [one.name for one in found.verdict.findings]


def test_a_file_without_a_proof_carries_none(path: Path) -> None:
    parts = {name: text for name, text in parts_of(path).items() if "rels" not in name}
    assert carried(packed(parts, path)) is None
    found = inspect(path)
    assert found.carried is None
    assert with_proof(found, None) is found


def test_relationships_that_declare_entities_are_not_read(path: Path) -> None:
    parts = parts_of(path)
    parts["_rels/.rels"] = "<!DOCTYPE a [<!ENTITY b 'c'>]><a/>"
    with pytest.raises(NotBelievedError, match="declare a document type"):
        carried(packed(parts, path))
