"""Layers that are not looked at hang nowhere: every layer of odd solids is looked at here."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from scadgen.printing.cuts import TOLERANCE, Cuts
from scadgen.printing.layers import hanging_layer
from scadgen.printing.undersides import undersides
from tests.shapes import box, turned


def odd_solid(seed: int) -> Manifold:
    """Convex lumps of random points, on each other and cut out of each other."""
    rng = np.random.default_rng(seed)
    solid = box((0, 0, 0), (6, 6, 3))
    for k in range(6):
        points = rng.uniform((0, 0, 0.5), (9, 9, 9), (rng.integers(4, 12), 3))
        lump = Manifold.hull_points(points)
        solid = solid - lump if k % 3 == 2 else solid + lump
    return solid


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10**6), st.sampled_from((0.2, 0.3, 0.7)), st.sampled_from((30.0, 45.0, 60.0)))
def test_a_layer_that_hangs_is_always_looked_at(seed: int, height: float, angle: float) -> None:
    made = Cuts((odd_solid(seed),))
    reach, count = height * math.tan(math.radians(angle)) + TOLERANCE, made.count(height)
    looked_at = set(made.undersides[0].layers(height, reach, count))
    hanging = [k for k in range(1, count) if hanging_layer(made, 0, k, height, reach)]
    assert looked_at.issuperset(hanging)


def test_sound_layers_need_not_be_looked_at() -> None:
    """A cup with walls at 40 degrees: nothing leans out by more than 45."""
    lean = math.tan(math.radians(40))
    cup = turned([(3, 0), (6, 0), (6 + 9 * lean, 9), (3 + 9 * lean, 9)], 64)
    reach = 0.2 * math.tan(math.radians(45))
    assert undersides(cup).layers(0.2, reach, 45) == []
    assert len(undersides(cup).layers(0.2, reach * 0.8, 45)) == 44


def test_a_tip_that_hangs_down_is_looked_at_where_it_starts() -> None:
    tip = turned([(0, 4), (1, 5), (5, 5.01), (5, 6), (0, 6)], 32)
    found = undersides(tip + box((4, -5, 0), (6, 5, 6))).layers(0.2, 0.2 + TOLERANCE, 30)
    assert 20 in found  # the layer from 4 to 4.2 mm
    assert not set(range(1, 19)) & set(found)
