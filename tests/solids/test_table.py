"""The table of formulas beside solids is of these very solids, and its bars hold."""

from __future__ import annotations

import dataclasses
from pathlib import Path
from typing import Any

import pytest

from scadgen.hinge.family import all_families
from scadgen.strength.place import Strength
from tests.solids import kept, measured
from tests.solids.subjects import DUTIES, SMALLER, Pulled, Solved, carrier_of, subject, told
from tests.solids.table import SAFE, UNSAFE, Governed, governed, section, share

#: A family that is solved in seconds.
CHEAPEST = "sheet_flexure"
#: Where the solid gives way first at another place than the formulas name, by family and duty.
ELSEWHERE = {
    ("sheet_flexure", "pull 10 N"): "a twist has no section; at the web's corners it is as told",
    ("slit_lattice", "load 10 N"): "at the roots of strips, as told; their section is half-way",
    ("slit_lattice", "pull 10 N"): "at the roots of strips, as told; their section is half-way",
    ("waisted_spindle", "pull 10 N"): "the neck, bent by arms that share the pull: 0.64 of the arm",
}


def subject_of(family: str) -> Any:
    """What is loaded of a family that answers loads."""
    found = subject(all_families()[family])
    assert found is not None
    return found


def test_the_figures_are_of_these_solids() -> None:
    """Mending: python -m tests.solid_table, then python -m tests.validation."""
    assert kept.stale() == []
    assert set(kept.load()) == {name for name, cls in all_families().items() if subject(cls)}


def test_a_change_of_what_they_hang_on_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    one = subject_of(CHEAPEST)
    first = kept.fingerprint(one)
    assert kept.fingerprint(Pulled(one.hinge)) == first
    wider = type(one.hinge)(**SMALLER[CHEAPEST] | {"web_length": 11})
    assert kept.fingerprint(Pulled(wider)) != first
    assert kept.fingerprint(Pulled(one.hinge, reach=0.7)) != first
    fewer = kept.sources()[1:]
    monkeypatch.setattr(kept, "sources", lambda: fewer)
    assert kept.fingerprint(one) != first


def test_words_about_the_code_are_none_of_it(tmp_path: Path) -> None:
    path, other = tmp_path / "one.py", tmp_path / "other.py"
    path.write_text('"""Told."""\nx = f"{1} a"  # why\n\n\ndef f():\n    """It."""\n    return 1\n')
    other.write_text('x = f"{1} a"\ndef f():\n  return 1\n')
    assert kept.code(path) == kept.code(other)
    other.write_text('x = f"{2} a"\ndef f():\n  return 1\n')
    assert kept.code(path) != kept.code(other)


def test_a_family_is_measured_as_it_is_kept() -> None:
    now, then = measured.figures(subject_of(CHEAPEST)), kept.load()[CHEAPEST]
    for duty in DUTIES:
        here, there = now["duties"][duty], then["duties"][duty]
        assert here["places"].keys() == there["places"].keys()
        for place, shares in here["places"].items():
            assert shares == pytest.approx(there["places"][place], rel=0.01)
        for gaps, worst in here["governs"].items():
            assert worst["share"] == pytest.approx(there["governs"][gaps]["share"], rel=0.01)
            assert worst["way"] == there["governs"][gaps]["way"]


@pytest.mark.parametrize(
    "one", list(governed(kept.load())), ids=lambda one: f"{one.family}, {one.duty}"
)
def test_no_formula_is_unsafe_or_wasteful_where_it_governs(one: Governed) -> None:
    assert SAFE <= round(one.ratio, 2) <= UNSAFE, f"{one.name}: {one.ratio:.3f}"


def test_what_governs_is_named_rightly() -> None:
    found = {(one.family, one.duty) for one in governed(kept.load()) if not one.agree}
    assert found == set(ELSEWHERE)


def test_every_place_with_a_section_has_a_figure() -> None:
    figures = kept.load()
    for family in figures:
        hinge = subject_of(family).hinge
        for duty, asked in DUTIES.items():
            named = {one.name for one in told(hinge, asked) if carrier_of(hinge, one)}
            without = named - set(figures[family]["duties"][duty]["places"])
            # The leaf is held, so that nothing is told there.
            assert without <= {"leaf in bending", "border in bending"}


def test_each_is_a_line_of_the_page() -> None:
    figures = kept.load()
    lines = list(section(figures))
    rows = [line for line in lines if line.startswith("| `")]
    places = [
        p for one in figures.values() for duty in one["duties"].values() for p in duty["places"]
    ]
    assert len(rows) == len(figures) * len(DUTIES) + len(places)
    assert "`break_away_link`" in "\n".join(lines)


def test_a_ratio_is_the_worse_of_both_gaps_over_the_formula() -> None:
    one = next(one for one in governed(kept.load()) if len(one.solid) == 2)
    assert one.ratio * one.formula == pytest.approx(max(s["share"] for s in one.solid.values()))
    place: Strength = one.place
    assert one.formula == share(place) == pytest.approx(1 / float(place.factor))
    changed = {gaps: dict(worst) for gaps, worst in one.solid.items()}
    changed["even"]["share"] *= 10
    assert dataclasses.replace(one, solid=changed).ratio > one.ratio


def test_a_coarse_pivot_has_rows_of_the_same_size_as_its_formulas() -> None:
    from scadgen import CaptiveCone

    found = measured.figures(Solved(CaptiveCone(facets=32), 1.0, 1.4))
    hinge = CaptiveCone(facets=32)
    for duty, asked in DUTIES.items():
        formulas = {one.name: share(one) for one in told(hinge, asked)}
        arm = found["duties"][duty]["places"]["arm of the spindle"]
        assert 0.3 < arm["as drawn"] / formulas["arm of the spindle"] < 3
