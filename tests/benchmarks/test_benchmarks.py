"""The script that measures speed compares like with like, and writes its page."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from scadgen import mesh
from scadgen.gallery.build import check_gallery
from scadgen.hinge.family import Hinge, all_families, definition
from scadgen.proof.fleet.shares import CHUNK
from tests.benchmarks.by_hand import Call, calls, solid
from tests.benchmarks.growth import _FLEET, FIELDS, grown, printers
from tests.benchmarks.naive import solids_first, source
from tests.benchmarks.page import shown
from tests.benchmarks.race import Ratio, Times, quick, race
from tests.benchmarks.readings import bodies, outlines_in, plans_of, primitives, printed
from tests.benchmarks.run import main
from tests.benchmarks.starts import python
from tests.engine import run
from tests.support import each_family, fewest, thorough

COMBINED = {"union", "difference", "intersection", "hull"}
MOVED = {"translate", "rotate", "mirror"}


def test_a_race_takes_turns_and_tells_least_and_median() -> None:
    now = [0.0]
    turns: list[str] = []

    def takes(name: str, times: Iterator[float]) -> None:
        turns.append(name)
        now[0] += next(times)

    ours, theirs = iter([100.0, 3, 1, 5]), iter([100.0, 2, 6, 4])
    we, they = race(
        lambda: takes("ours", ours), lambda: takes("theirs", theirs), 3, clock=lambda: now[0]
    )
    assert turns == ["theirs", "ours"] * 4
    assert (we, they) == (Times(1, 3), Times(2, 4))
    ratio = Ratio("this", "that", we, they)
    assert (ratio.least, ratio.middle) == (0.5, 0.75)


def nodes(call: Call) -> Iterator[Call]:
    yield call
    for inner in call[2]:
        yield from nodes(inner)


@each_family
def test_solids_only_combine_no_outlines(cls: type[Hinge]) -> None:
    """Below an extrusion there is one outline, below a revolution one moved or clipped."""
    raised = [
        c for c in nodes(solids_first(calls(cls(), "both"))) if c[0] in ("extrude", "revolve")
    ]
    assert raised
    for what, _, (outline,) in raised:
        below = {inner[0] for inner in nodes(outline)}
        allowed = MOVED | {"intersection", "hull"} if what == "revolve" else set()
        assert below <= allowed | {"polygon", "circle", "square"}


@each_family
def test_solids_only_make_the_same_solid(cls: type[Hinge]) -> None:
    """Of the two reliefs, drawn alike, one will do unless the run is thorough."""
    hinge = cls(**fewest(cls))
    for part in definition(cls).parts:
        if part == "moving_relief" and not thorough():
            continue
        naive = solid(solids_first(calls(hinge, part)))
        assert naive.volume() == pytest.approx(mesh(hinge, part).volume(), rel=1e-6)


@pytest.mark.openscad
def test_openscad_draws_the_same_solid_from_solids_only(tmp_path: Path) -> None:
    hinge = all_families()["rod_loops"](facets=16)
    assert "module" not in source(hinge)
    assert run(source(hinge), tmp_path).mesh.volume == pytest.approx(mesh(hinge).volume(), rel=1e-3)


@each_family
def test_the_other_text_draws_as_many_outlines(cls: type[Hinge]) -> None:
    plans = plans_of(cls())
    assert len(plans) == len(bodies(cls()))
    assert outlines_in(printed(plans)) == sum(map(primitives, plans)) > 0


@pytest.mark.parametrize("field", FIELDS)
def test_a_grown_hinge_has_the_value(field: str) -> None:
    having = [cls for cls in all_families().values() if field in definition(cls).bounds]
    assert having
    for cls in having:
        assert [getattr(grown(cls, field, n), field) for n in FIELDS[field]] == [*FIELDS[field]]


def test_the_memory_of_a_fleet_does_not_grow_beyond_a_chunk() -> None:
    """Ten chunks of printers take about the memory of two: the next is drawn beside the last."""
    two, ten = (
        json.loads(python("-c", _FLEET, "rod_loops", str(n * CHUNK)))["peak"] for n in (2, 10)
    )
    assert two > 8 * CHUNK
    assert ten < 1.1 * two
    (growth,) = printers(quick())
    assert growth.values == (1000, 10_000)


@pytest.mark.parametrize(
    ("seconds", "words"), [(0.001234, "1.23 ms"), (0.5, "500 ms"), (12.34, "12.3 s")]
)
def test_times_are_shown_in_the_unit_that_suits(seconds: float, words: str) -> None:
    assert shown(seconds) == words


def test_the_script_writes_its_page(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One family, once; the parts that take long are left out."""
    out = tmp_path / "speed.md"
    only = ("emit", "mesh", "fleet", "start", "printers")
    assert main(["--quick", "--out", str(out), "--only", *only]) == 0
    page = out.read_text(encoding="utf-8")
    name = next(iter(all_families()))
    for work in (f"emit {name}", f"mesh {name}", "scadgen --version", f"{name}, most memory, MB"):
        assert f"| {work} |" in page
    rows = re.findall(r"^\|.*\| ([\d.e+-]+) \| ([\d.e+-]+) \|$", page, re.MULTILINE)
    assert len(rows) >= 8
    assert all(float(least) > 0 and float(middle) > 0 for least, middle in rows)
    for line in ("Processor", "System", "Python", "Libraries", "OpenSCAD"):
        assert re.search(rf"^- {line}: \S", page, re.MULTILINE)
    assert str(tmp_path) not in page
    assert "of python -c pass" in capsys.readouterr().err


def test_the_page_is_no_stray_of_the_gallery(tmp_path: Path) -> None:
    for name in ("speed.md", "other.md"):
        (tmp_path / name).write_text("", encoding="utf-8")
    strays = [line for line in check_gallery(tmp_path) if "delete it" in line]
    assert strays == [f"{tmp_path / 'other.md'}: nothing makes this file; delete it"]
