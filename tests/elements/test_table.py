"""The table of formulas beside solids finds each place, and writes a row of it."""

from __future__ import annotations

from scadgen import CaptiveCone
from tests.solid_table import DUTIES, HEAD, PETG, Solved, written


def test_every_loaded_place_has_a_row_in_each_duty() -> None:
    solved = Solved(CaptiveCone(facets=32), 1.0, 1.4)
    lines = list(written(solved))
    assert lines.count(f"\n{HEAD}\n|---|---:|---:|---:|---:|---:|---:|---|") == len(DUTIES)
    for duty in DUTIES.values():
        rows = {row.told.name: row for row in solved.rows(duty)}
        arm = rows["arm of the spindle"]
        assert arm.line in lines
        # Coarse cubes, a beam's formula: of the same size, and no more is asked here.
        assert 0.3 < arm.drawn / arm.share < 3
        loaded = {
            place.name
            for place in solved.hinge.strengths(duty, PETG)
            if float(place.actual) > 0
            and place.name != "leaf in bending"
            and place.unit == "MPa"  # a way that parts give is no stress
        }
        assert set(rows) - {"leaf in bending"} == loaded
