"""The room that outlines have in another, against closed forms."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import CrossSection

from scadgen.motion import plane
from scadgen.motion.plane import room_around


def square(side: float, x: float = 0, y: float = 0) -> CrossSection:
    """A square about a point."""
    return CrossSection.square((side, side), center=True).translate((x, y))


@given(st.floats(0.1, 3), st.floats(-3, 3), st.floats(-3, 3), st.floats(0.05, 4))
def test_a_square_in_a_square(side: float, x: float, y: float, limit: float) -> None:
    wanted = min(5 - side / 2 - abs(x), 5 - side / 2 - abs(y), limit)
    assert room_around([square(side, x, y)], square(10), limit) == pytest.approx(wanted, abs=1e-7)


def test_what_reaches_out_has_no_room() -> None:
    room = square(10)
    cross = [CrossSection.square((20, 1), center=True)]
    for outlines in (
        [square(1, 5)],
        [square(1, 40)],
        [square(30)],
        cross,
        [square(1), square(1, 9)],
    ):
        assert room_around(outlines, room, 0.2) == 0
    assert room_around([square(1, 4.5)], room, 0.2) == pytest.approx(0, abs=1e-12)


def test_a_hole_of_the_room_counts_near_and_within() -> None:
    room = square(10) - square(1)
    assert room_around([square(1, 3)], room, 9) == pytest.approx(1.5)
    assert room_around([square(1, 1.2)], room, 9) == pytest.approx(0.2)
    assert room_around([square(0.5)], room, 9) == 0
    assert room_around([square(4)], room, 0.1) == 0
    assert room_around([square(4) - square(2)], room, 0.6) == pytest.approx(0.5)


def test_corners_count_on_either_side() -> None:
    diamond = square(2).rotate(45)
    assert room_around([diamond], square(10), 9) == pytest.approx(5 - math.sqrt(2))
    assert room_around([square(2)], square(10).rotate(45), 9) == pytest.approx(5 - math.sqrt(2))


def test_nothing_has_all_the_room_and_in_no_room_there_is_none() -> None:
    assert room_around([], square(1), 0.7) == 0.7
    assert room_around([CrossSection()], square(1), 0.7) == 0.7
    assert room_around([square(1)], CrossSection(), 0.7) == 0


def test_many_edges_are_looked_at_in_batches(monkeypatch: pytest.MonkeyPatch) -> None:
    one, room = CrossSection.circle(3, 60).translate((0.5, 0)), CrossSection.circle(4, 90)
    whole = room_around([one], room, 2)
    monkeypatch.setattr(plane, "TOGETHER", 200)
    assert room_around([one], room, 2) == pytest.approx(whole, abs=1e-12)
    assert whole == pytest.approx(0.5, abs=0.02)
