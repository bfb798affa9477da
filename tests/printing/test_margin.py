"""How much over-extrusion two bodies bear."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scadgen.printing.cuts import cuts
from scadgen.printing.layers import layers, run_together
from scadgen.printing.over_extrusion import least_margin, margins
from tests.shapes import box, turned

from .test_layers import pair, pairs


@pytest.mark.parametrize("gap", [0.15, 0.3, 0.45])
def test_walls_side_by_side_bear_half_of_what_the_slicer_leaves(gap: float) -> None:
    bodies = [box((0, 0, 0), (4, 4, 3)), box((4 + gap, 0, 0), (8, 4, 3))]
    (margin,) = margins(bodies, 0.2, touch=0.1)
    assert margin.over == pytest.approx((gap - 0.1) / 2, abs=1e-6)
    assert layers(bodies, 0.2, over=margin.over - 0.003).fused == 0
    assert layers(bodies, 0.2, over=margin.over + 0.003).fused > 0


def test_a_step_across_layers_bears_half_of_its_tread() -> None:
    """Cones of 45 degrees, 0.4 mm apart upright: a layer of 0.3 mm lies 0.1 mm beside."""
    low = turned([(0, 0), (9, 0), (0, 9)], 256)
    high = turned([(9, 0.4), (11, 0.4), (11, 12), (0, 12), (0, 9.4)], 256)
    (margin,) = margins([low, high], 0.3, touch=0.1)
    assert margin.landing == pytest.approx(0.1, abs=1e-3)
    assert margin.over == pytest.approx(0.05, abs=1e-3)


def test_far_bodies_bear_at_least_what_was_looked_for() -> None:
    (margin,) = margins([box((0, 0, 0), (4, 4, 3)), box((9, 0, 0), (12, 4, 3))], 0.2)
    assert margin.whole
    assert margin.over == pytest.approx(0.2)


def test_a_body_inside_another_has_no_margin() -> None:
    (margin,) = margins([box((0, 0, 0), (9, 9, 9)), box((3, 3, 3), (5, 5, 5))], 0.2)
    assert margin.landing == 0
    assert margin.over < 0


@settings(max_examples=40, deadline=None)
@given(pairs, st.sampled_from((0.1, 0.2, 0.3)))
def test_below_the_margin_nothing_fuses(
    drawn: tuple[float, float, float, float], height: float
) -> None:
    bodies = pair(*drawn)
    (margin,) = margins(bodies, height)
    if margin.over > 0.001:
        assert layers(bodies, height, over=margin.over - 0.001).fused == 0


def test_a_margin_that_is_enough_is_told_without_what_does_not_decide_it() -> None:
    bodies = cuts([box((0, 0, 0), (4, 4, 3)), box((4.3, 0, 0), (8, 4, 3))])
    whole, told = (least_margin(bodies, (0.2,), enough=enough) for enough in (math.inf, 0.05))
    assert (told.over, told.beside, told.whole) == (whole.over, whole.beside, whole.whole)
    assert told.beside - 0.1 <= told.landing <= whole.landing
    assert least_margin(bodies, (0.2,), enough=whole.over + 0.01) == whole


@pytest.mark.parametrize("over", [0.0, 0.06, 0.12])
def test_what_runs_together_is_what_fuses_but_for_threads_and_tips(over: float) -> None:
    bodies = cuts([box((0, 0, 0), (4, 4, 3)), box((4.3, 0, 0), (8, 4, 3))])
    together = math.fsum(area for _, area in run_together(bodies, 0.2, 0.1, over))
    found = layers(bodies, 0.2, over=over, line=0.45)
    assert together == pytest.approx(found.fused - found.landed - found.tipped)
    assert (together > 0) == (over > 0.1)
