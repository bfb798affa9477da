"""The search for a crooked way out is bounded, and says so where it was given up."""

from __future__ import annotations

from functools import partial

import pytest

from scadgen.findings.finding import Verdict
from scadgen.findings.on_hold import pulled
from scadgen.motion.crooked_way import way_out
from scadgen.motion.retention import hold
from tests.shapes import UP, box

#: A hollow in which a block has 4 mm to go each way, and no way out.
HOLLOW = box((-9, -9, -9), (9, 9, 9)) - box((-7, -7, -7), (7, 7, 7))
BLOCK = box((-3, -3, -3), (3, 3, 3))


def test_a_room_is_looked_at_to_its_end() -> None:
    found = way_out(HOLLOW, BLOCK, UP, 2.0, 50.0)
    assert (found.end, found.stopped) == (None, False)
    assert found.poses > 5**3


def test_a_room_with_too_many_poses_is_given_up() -> None:
    found = way_out(HOLLOW, BLOCK, UP, 0.5, 50.0, most=40)
    assert (found.end, found.stopped, found.poses) == (None, True, 40)


def test_what_was_given_up_is_told_and_never_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = pulled("hold", hold(HOLLOW, BLOCK, UP, grid=2.0))
    assert Verdict("model", (whole,)).proven
    monkeypatch.setattr("scadgen.motion.retention.way_out", partial(way_out, most=40))
    found = pulled("hold", hold(HOLLOW, BLOCK, UP, grid=0.5))
    assert found.passed
    assert found.words.endswith("The search for a crooked way was stopped after 40 poses.")
    assert Verdict("model", (found,)).doubts == ("hold was searched in 40 poses only",)
