"""The JSON Schema of jobs refuses what the loader refuses, but for the rules between values."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from scadgen.cli.main import main
from scadgen.hinge.family import Hinge, all_families, bounds
from scadgen.jobs.job import JobError, job_keys, load_job, new_job
from scadgen.jobs.schema import job_schema
from tests.support import ROOT, each_family

#: How a message of the loader begins where a rule between values is broken.
RULE = re.compile(r" [^ ]+; it must be (at (least|most) |[^,]+ here, )")


def allows(job: dict[str, Any], family: str | None = None) -> bool:
    return bool(Draft202012Validator(job_schema(family)).is_valid(job))


def keys(schema: dict[str, Any]) -> Iterator[str]:
    """The dotted keys of a job's schema."""
    for name, value in schema["properties"].items():
        if "properties" in value:
            yield from (f"{name}.{deep}" for deep in keys(value))
        else:
            yield name


@pytest.mark.parametrize("family", [None, *all_families()])
def test_it_is_a_schema(family: str | None) -> None:
    Draft202012Validator.check_schema(job_schema(family))
    assert job_schema(family)["$schema"] == Draft202012Validator.META_SCHEMA["$id"]


@each_family
def test_it_allows_a_new_job_and_the_jobs_of_the_gallery(cls: type[Hinge]) -> None:
    job = tomllib.loads(new_job(cls.family))
    assert allows(job)
    assert [other for other in all_families() if allows(job, other)] == [cls.family]
    found = [tomllib.loads(path.read_text()) for path in (ROOT / "gallery").glob("*.toml")]
    jobs = [job for job in found if "family" in job]  # a wish is no job
    assert jobs
    assert all(map(allows, jobs))


@each_family
def test_its_keys_are_those_that_the_loader_names(cls: type[Hinge], tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(f'family = "{cls.family}"\n"?" = 1\n')
    with pytest.raises(JobError, match="no such key; there are ") as caught:
        load_job(path)
    named = caught.value.words.partition("there are ")[2].rstrip(".").split(", ")
    assert sorted(keys(job_schema(cls.family))) == sorted(named)


@each_family
def test_an_editor_can_say_what_every_value_is(cls: type[Hinge]) -> None:
    text = json.dumps(job_schema(cls.family))
    for name in job_keys(cls):
        limits = bounds(cls)[name]
        assert json.dumps(f"{limits.meaning}; {limits.words}") in text


@pytest.mark.parametrize("job", [{}, {"family": "rodloops"}, {"family": 3}, [], 3])
def test_a_job_without_a_family_is_refused(job: Any) -> None:
    assert not allows(job)


def around(low: float, high: float, step: float) -> st.SearchStrategy[float]:
    """Numbers in a range, at its ends, and beyond."""
    edges = [low, high, low - step, high + step, low - 1e-9, high + 1e-9, int(low), int(high)]
    return (
        st.sampled_from(edges) | st.floats(low, high) | st.integers() | st.floats(allow_nan=False)
    )


def numbers_of(cls: type[Hinge]) -> dict[str, st.SearchStrategy[str]]:
    fields = bounds(cls)
    return {
        key: around(fields[name].low, fields[name].high, fields[name].step).map(repr)
        for name, key in job_keys(cls).items()
    }


ANYTHING = st.sampled_from(["true", '""', '"a"', "[]", "[[0.2]]", "{}", "{a = 1}", "07:32:00"])
STEMS = st.sampled_from(["", "lid", "a-b", "3a", "é", "A_1"]).map(json.dumps)
UNKNOWN = ["height", "sizes", "size.angle", "duty.swing", "printers", "size", "printers.layer"]


@st.composite
def jobs(draw: st.DrawFn) -> str:
    """A job with a few keys: most have values of their kind, around what is allowed."""
    cls = draw(st.sampled_from([*all_families().values()]))
    own = STEMS | st.sampled_from([cls.family, cls.family.title()]).map(json.dumps)
    heights = st.lists(around(0.04, 0.8, 0.02), max_size=3).map(repr)
    kinds = numbers_of(cls) | {"name": own, "title": STEMS, "printers.layer_heights": heights}
    chosen = draw(st.lists(st.sampled_from([*kinds]), max_size=3, unique=True))
    values = {key: draw(kinds[key]) for key in chosen}
    if draw(st.booleans()):
        values[draw(st.sampled_from([*UNKNOWN, *kinds]))] = draw(ANYTHING)
    return f'family = "{cls.family}"\n' + "".join(f"{key} = {v}\n" for key, v in values.items())


@given(jobs())
def test_it_refuses_what_the_loader_refuses_but_for_rules(
    tmp_path_factory: pytest.TempPathFactory, text: str
) -> None:
    """Where the loader takes the job or finds only a rule broken, the schema allows it."""
    path = tmp_path_factory.getbasetemp() / "any.toml"
    path.write_text(text, encoding="utf-8")
    try:
        job = tomllib.loads(text)
    except ValueError:  # such as a table that is a number too
        assume(False)
    try:
        load_job(path)
        wanted = True
    except JobError as error:
        wanted = error.key != "name" and RULE.search(error.words) is not None
    assert allows(job) == allows(job, job["family"]) == wanted


def test_the_command_prints_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["schema"]) == 0
    assert json.loads(capsys.readouterr().out) == job_schema()
    assert main(["schema", "rod_loops"]) == 0
    assert json.loads(capsys.readouterr().out) == job_schema("rod_loops")
    assert main(["schema", "rodloops"]) == 2
    assert "did you mean rod_loops?" in capsys.readouterr().err
