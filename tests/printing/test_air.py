"""Empty layers between bodies, one over the other, counted on the fingers."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from scadgen.printing.air import air
from scadgen.printing.layers import layers
from tests.shapes import box, turned

HEIGHTS = st.sampled_from((0.1, 0.15, 0.2, 0.25, 0.3))


def lid(low: float, gap: float) -> list[Manifold]:
    """A block so high, and a lid over it that stands on the bed beside it."""
    cover = box((0, 0, low + gap), (9, 4, low + gap + 2)) + box((6, 0, 0), (9, 4, low + gap + 2))
    return [box((0, 0, 0), (4, 4, low)), cover]


def middles_between(low: float, high: float, height: float) -> int:
    """Whole numbers k with low < (k + 1/2) height < high."""
    middles = [(k + 0.5) * height for k in range(100)]
    assume(all(min(abs(z - low), abs(z - high)) > 1e-4 for z in middles))
    return sum(low < z < high for z in middles)


@settings(max_examples=60, deadline=None)
@given(st.floats(1, 3), st.floats(0.05, 1.2), HEIGHTS)
def test_the_empty_layers_are_the_middles_in_the_gap(low: float, gap: float, height: float) -> None:
    expected = middles_between(low, low + gap, height)
    (found,) = air(lid(low, gap), height)
    assert found.count == expected
    assert (found.above, found.below) == (1, 0)
    assert found.gap == pytest.approx(gap, abs=1e-6)
    assert found.fewest <= expected <= found.most <= found.fewest + 1
    assert low - height < found.z < low + gap + height
    assert (layers(lid(low, gap), height).fused > 0) is (expected == 0)


@settings(max_examples=40, deadline=None)
@given(st.floats(1, 3), st.floats(0.05, 1.2), HEIGHTS, st.floats(0.3, 1))
def test_finer_layers_keep_the_gaps_that_are_sure_in_coarser_ones(
    low: float, gap: float, height: float, finer: float
) -> None:
    """A gap may be empty in coarse layers by luck; then it holds `fewest` = 0 and says so."""
    coarse, fine = air(lid(low, gap), height)[0], air(lid(low, gap), height * finer)[0]
    assert fine.fewest >= coarse.fewest
    assert fine.count > 0 or coarse.fewest == 0


@pytest.mark.parametrize(("low", "count"), [(2.0, 2), (2.05, 2), (2.09, 3), (2.15, 2)])
def test_a_gap_holds_two_layers_or_three_as_they_fall(low: float, count: int) -> None:
    """Middles at 2.1, 2.3, 2.5, 2.7: from 2.09 to 2.51 there are three of them."""
    (found,) = air(lid(low, 0.42), 0.2)
    assert (found.count, found.fewest, found.most) == (count, 2, 3)


def test_cones_of_45_degrees_with_0_3_mm_between_have_two_layers() -> None:
    """0.3 mm square to the flank is 0.424 mm upright, which holds 2 whole layers of 0.2 mm.

    Source: 0.3 / cos 45 deg; derived, confirmed by a second method.
    """
    rise = 0.3 / math.cos(math.radians(45))
    cone = turned([(0, 0), (9, 0), (0, 9)], 64)
    hood = turned([(9, rise), (11, rise), (11, 12), (0, 12), (0, 9 + rise)], 64)
    post = box((9.6, -1, 0), (10.8, 1, 1))
    (found,) = air([cone, hood + post], 0.2)
    assert found.gap == pytest.approx(0.424, abs=1e-3)
    assert (found.count, found.fewest) == (2, 2)


def test_bodies_side_by_side_have_no_air_between_layers() -> None:
    assert air([box((0, 0, 0), (4, 4, 2)), box((4.3, 0, 0), (8, 4, 2))], 0.2) == ()
    assert air([box((0, 0, 0), (4, 4, 2))], 0.2) == ()


def test_a_body_laid_on_another_has_no_empty_layer() -> None:
    (found,) = air(lid(2.0, 0.05), 0.3)
    assert (found.count, found.fewest, found.most) == (0, 0, 1)
    assert found.z == pytest.approx(2.1)
