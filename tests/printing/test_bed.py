"""The first layer and its spread."""

from __future__ import annotations

import math

import pytest

from scadgen.printing.bed import bed
from tests.shapes import box, rod


def test_areas_and_gap_on_the_bed() -> None:
    found = bed([box((0, 0, 0), (4, 5, 2)), box((4.7, 0, 0), (8.7, 4, 2))], 0.2, spread=0.2)
    assert found.areas == pytest.approx((20, 16))
    assert found.drawn == pytest.approx(0.7)
    assert found.gap == pytest.approx(0.3)


def test_the_gap_is_measured_from_side_to_corner_and_in_a_hole() -> None:
    pin = rod(2, 0, 5, facets=4)
    ring = box((-5, -5, 0), (5, 5, 5)) - box((-3, -3, -1), (3, 3, 6))
    found = bed([ring, pin], 0.2)
    assert found.drawn == pytest.approx(1)
    assert bed([pin, ring], 0.2).drawn == pytest.approx(1)


def test_a_chamfer_counts_at_the_middle_of_the_first_layer() -> None:
    """45 degrees over 0.5 mm: half a layer of 0.2 mm up it has taken 0.4 mm."""
    block = box((0, 0, 0), (4, 4, 2))
    beside = box((4.3, 0, 0.5), (8, 4, 2)) + box((4.8, 0.5, 0), (7.5, 3.5, 2))
    foot = [(x, y, 0) for x in (4.8, 7.5) for y in (0.5, 3.5)]
    rim = [(x, y, 0.5) for x in (4.3, 8) for y in (0, 4)]
    chamfered = beside + type(block).hull_points([*foot, *rim])
    assert bed([block, chamfered], 0.2).drawn == pytest.approx(0.7)
    assert bed([block, chamfered], 0.4).drawn == pytest.approx(0.6)


def test_spread_joins_what_is_near() -> None:
    bodies = [box((0, 0, 0), (4, 4, 2)), box((4.35, 0, 0), (8, 4, 2))]
    assert bed(bodies, 0.2).gap == pytest.approx(-0.05)
    assert bed(bodies, 0.2, spread=0.1).gap == pytest.approx(0.15)


def test_one_body_and_one_in_the_air_have_no_gap() -> None:
    assert math.isinf(bed([box((0, 0, 0), (4, 4, 2))], 0.2).gap)
    found = bed([box((0, 0, 0), (4, 4, 2)), box((5, 0, 1), (8, 4, 2))], 0.2)
    assert (found.least, math.isinf(found.gap)) == (0, True)
