"""Populations out of files, and the job's key for them."""

from __future__ import annotations

from pathlib import Path

import pytest

from scadgen.jobs.job import JobError, load_job
from scadgen.proof.fleet.population import CAREFUL, POPULATIONS, ROUGH
from scadgen.proof.fleet.reading import load_population

GROWTH = """
name = "attic"
[growth]
mean = 0.04
std = 0.01
low = 0.0
high = 0.1
source = "measured on one print"
"""


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "attic.toml"


def test_missing_tables_are_the_careful_fleets(file: Path) -> None:
    file.write_text(GROWTH, encoding="utf-8")
    found = load_population(file)
    assert found.name == "attic"
    assert (found.growth.mean, found.growth.std) == (0.04, 0.01)
    assert (found.growth.low, found.growth.high) == (0.0, 0.1)
    assert found.growth.source == "measured on one print"
    for name in ("hole_shrinkage", "first_layer_spread", "layer", "sag", "needed"):
        assert getattr(found, name) == getattr(CAREFUL, name)


def test_every_table_is_read(file: Path) -> None:
    table = "mean = 0.1\nstd = 0.02\nlow = 0\nhigh = 0.3\nsource = 'assumed'\n"
    layer = "heights = [0.1, 0.2]\nweights = [1, 3]\nsource = 'assumed'\n"
    heads = ("growth", "hole_shrinkage", "first_layer_spread", "sag")
    text = "".join(f"[{head}]\n{table}" for head in heads) + f"[layer]\n{layer}"
    file.write_text(f"name = 'all'\nneeded = 97\n{text}", encoding="utf-8")
    found = load_population(file)
    assert found.needed == 97
    assert {spread.mean for spread in found.spreads.values()} == {0.1}
    assert (found.layer.heights, found.layer.weights) == ((0.1, 0.2), (1, 3))


def test_a_shop_that_prints_many_walls_is_not_taken_for_a_weak_one(file: Path) -> None:
    tables = "[walls]\nvalues = [4, 6]\nweights = [1, 1]\nsource = 'theirs'\n"
    tables += "[infill]\nvalues = [20, 50]\nweights = [1, 99]\nsource = 'theirs'\n"
    file.write_text(f"name = 'shop'\nneeded = 98\n{tables}", encoding="utf-8")
    filling = load_population(file).filling(0.4)
    assert (filling.walls, filling.infill) == (4, 0.5)
    file.write_text(f"name = 'shop'\nneeded = 100\n{tables}", encoding="utf-8")
    assert load_population(file).filling(0.4).infill == 0.2


BAD = {
    "no TOML": ("name = ", "not TOML"),
    "no name": ("[growth]\n", "name: missing; it must be text"),
    "empty name": ('name = " "', 'name = " "; it must be text'),
    "unknown table": ('name = "a"\n[tilt]\n', "tilt: no such key; there are name, "),
    "no table": ('name = "a"\ngrowth = 3', r"growth: it must be a table, headed by \[growth\]"),
    "unknown key": (GROWTH + "median = 1\n", r"no such key; did you mean growth.mean\?$"),
    "missing key": (GROWTH.replace("std = 0.01\n", ""), "growth.std: missing"),
    "half a wall": (
        'name = "a"\n[walls]\nvalues = [2.5]\nweights = [1]\nsource = "b"',
        "walls.values",
    ),
    "too few weights": (
        'name = "a"\n[infill]\nvalues = [10, 20]\nweights = [1]\nsource = "b"',
        "infill.weights: 1 numbers; it must have one for each of the 2 values",
    ),
    "no number": (
        GROWTH.replace("0.01", '"wide"'),
        'growth.std = "wide"; it must be a number, 0 to 5 mm',
    ),
    "not finite": (GROWTH.replace("0.01", "nan"), "growth.std = nan mm; it must be 0 to 5 mm"),
    "negative": (GROWTH.replace("0.01", "-0.1"), "growth.std = -0.1 mm; .* This works: 0"),
    "mean beyond": (GROWTH.replace("0.04", "0.4"), "growth.mean = 0.4 mm; .*0 to 0.1 mm.*: 0.1"),
    "ends swapped": (
        GROWTH.replace("= 0.1", "= -0.1"),
        "growth.high = -0.1 mm; it must be 0 to 5 mm",
    ),
    "no source": (GROWTH.replace("measured on one print", ""), "growth.source = .*assumed"),
    "needed": (
        'name = "a"\nneeded = 101',
        "needed = 101 %; it must be 50 to 100 %. This works: 100",
    ),
    "none needed": (
        'name = "a"\nneeded = 0',
        "needed = 0 %; it must be 50 to 100 %. This works: 50",
    ),
    "thick layer": (
        'name = "a"\n[layer]\nheights = [9]\nweights = [1]\nsource = "b"',
        "layer.heights = 9 mm; it must be 0.04 to 0.8 mm. This works: 0.8",
    ),
    "no layers": (
        'name = "a"\n[layer]\nheights = []\nweights = [1]\nsource = "b"',
        r"layer.heights = \[\]; it must be a list",
    ),
    "weights": (
        'name = "a"\n[layer]\nheights = [0.2]\nweights = [1, 2]\nsource = "b"',
        "layer.weights: 2 numbers; it must have one for each of the 1 heights",
    ),
    "no weight": (
        'name = "a"\n[layer]\nheights = [0.2]\nweights = [0]\nsource = "b"',
        "layer.weights: all are 0",
    ),
}


@pytest.mark.parametrize(("text", "words"), BAD.values(), ids=BAD)
def test_a_bad_file_is_refused(file: Path, text: str, words: str) -> None:
    file.write_text(text, encoding="utf-8")
    with pytest.raises(JobError, match=words) as caught:
        load_population(file)
    assert str(caught.value).startswith(f"{file}: ")
    assert len(str(caught.value).splitlines()) == 1


def test_what_is_no_file_of_text_is_refused(file: Path) -> None:
    with pytest.raises(JobError, match="cannot be read"):
        load_population(file)
    file.write_bytes(b'name = "\xff"')
    with pytest.raises(JobError, match="not UTF-8"):
        load_population(file)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    return tmp_path / "job.toml"


def write(job: Path, fleet: str) -> Path:
    text = f'family = "rod_loops"\n[printers]\nfleet = {fleet}\n'
    job.write_text(text, encoding="utf-8")
    return job


@pytest.mark.parametrize("name", POPULATIONS)
def test_a_job_names_its_fleet(job: Path, name: str) -> None:
    assert load_job(write(job, f'"{name}"')).population == POPULATIONS[name]


def test_a_job_without_a_fleet_has_the_rough_one(job: Path) -> None:
    job.write_text('family = "rod_loops"\n', encoding="utf-8")
    assert load_job(job).population == ROUGH


def test_a_jobs_file_of_printers_lies_beside_it(job: Path, file: Path) -> None:
    file.write_text(GROWTH, encoding="utf-8")
    assert load_job(write(job, '"attic.toml"')).population == load_population(file)


@pytest.mark.parametrize("fleet", ['"swarm"', '""', "3", "true", '"a\\u0000b"', '"."'])
def test_a_fleet_that_is_none_is_refused(job: Path, fleet: str) -> None:
    words = r'printers.fleet = .* it must be "rough" or "careful", or the path of a file'
    with pytest.raises(JobError, match=words) as caught:
        load_job(write(job, fleet))
    assert caught.value.key == "printers.fleet"
    assert caught.value.path == job


def test_a_bad_file_of_printers_is_the_one_at_fault(job: Path, file: Path) -> None:
    file.write_text(GROWTH.replace("0.01", "9"), encoding="utf-8")
    with pytest.raises(JobError, match=r"growth\.std = 9") as caught:
        load_job(write(job, '"attic.toml"'))
    assert caught.value.path == file
