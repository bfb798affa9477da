"""The search for first contact, and the measures of what two solids share."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold

from scadgen.motion.contact import clear, last_free, meet, overlap, thickness
from tests.shapes import box


@given(st.floats(0.001, 9.9), st.floats(0.0, 10.0))
def test_last_free_ends_just_before_contact_whatever_the_guess(
    contact: float, guess: float
) -> None:
    found = last_free(lambda place: place > contact, 0, 10, 0.4, 0.005, guess)
    assert found is not None
    assert contact - 0.0051 <= found <= contact


def test_a_good_guess_saves_looks() -> None:
    def looks(guess: float) -> int:
        seen: list[float] = []

        def meets(place: float) -> bool:
            seen.append(place)
            return place > 0.3

        last_free(meets, 0.0, 4.0, 0.4, 0.005, guess)
        return len(seen)

    assert looks(0.299) == 2 < looks(0.0)


def test_last_free_without_contact_is_none() -> None:
    assert last_free(lambda place: False, 0, 10, 0.4, 0.005) is None


def test_contact_at_the_very_end_is_found() -> None:
    assert last_free(lambda place: place >= 10, 0, 10, 3, 0.005) == pytest.approx(10, abs=0.0051)


def test_touching_is_not_meeting() -> None:
    one = box((0, 0, 0), (2, 2, 2))
    assert not meet(one, box((2, 0, 0), (4, 2, 2)))
    assert meet(one, box((1.9999, 0, 0), (4, 2, 2)))


def test_clear_is_judged_by_bounding_boxes() -> None:
    frame = box((0, 0, 0), (9, 9, 9)) - box((1, 1, -1), (8, 8, 10))
    inside = box((4, 4, 4), (5, 5, 5))
    assert not clear(frame, inside)
    assert overlap(frame, inside) == 0
    assert clear(frame, inside.translate((5, 0, 0)))


def test_thickness_of_a_wide_sheet_is_its_own() -> None:
    assert thickness(box((0, 0, 0), (100, 100, 0.2))) == pytest.approx(0.2, rel=0.01)
    assert thickness(Manifold()) == 0
