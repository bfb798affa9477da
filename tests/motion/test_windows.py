"""Between which turns things about an axis can be near each other."""

from __future__ import annotations

import numpy as np

from scadgen.motion.windows import Arcs, rounds, turns, window

COUNT = 4000


def arcs(rng: np.random.Generator) -> Arcs:
    start = rng.uniform(-np.pi, np.pi, COUNT)
    length = rng.choice([0.0, 0.01, 1.0, 6.0], COUNT) * rng.random(COUNT)
    radius = rng.choice([0.0, 0.1, 5.0, 50.0], COUNT) * rng.random(COUNT)
    return Arcs(start, start + length, radius)


def test_boxes_on_the_circle_overlap_wherever_a_window_is_open() -> None:
    rng = np.random.default_rng(0)
    kept = 0
    for turn in ((0.0, 0.0), (0.0, 0.4), (-0.3, 2.0), (0.0, 2 * np.pi)):
        one, other = arcs(rng), arcs(rng)
        first, last = turns(*window(one, other, 0.3), turn)
        (low, high), (lowest, highest) = rounds(one, 0.3, (0.0, 0.0)), rounds(other, 0.3, turn)
        overlap = ((low <= highest) & (lowest <= high)).all(1)
        assert (overlap | (first > last)).all()
        kept += int((~overlap).sum())
    assert kept > COUNT // 4  # and it tells a good part of them apart
