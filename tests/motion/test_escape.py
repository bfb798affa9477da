"""Ways out that shift, tilt and turn."""

from __future__ import annotations

import json
from dataclasses import asdict
from itertools import pairwise

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.caging.certificate import Uncertified, certified
from scadgen.findings.finding import Verdict
from scadgen.findings.on_hold import holding
from scadgen.motion.axis import Axis
from scadgen.motion.escape import Escape, escape
from scadgen.motion.obstacle import gives_way
from scadgen.motion.retention import hold
from tests.shapes import ASKEW, UP, box, carried, waisted
from tests.traps import (
    ball_in_a_cup,
    bar_under_a_lip,
    key_in_a_slot,
    link_between_cones,
    ring_on_a_waist,
)

Pair = tuple[Manifold, Manifold]

NONE = Uncertified("nobody asked")


def assert_leads_out(found: Escape, pair: Pair, limit: float = 10.0) -> None:
    """The path starts at rest, moves in short steps, is clear on the meshes and ends outside."""
    fixed, moving = pair
    path = np.array(found.path)
    assert path[0] == pytest.approx(np.eye(4)[:3])
    corners = moving.to_mesh64().vert_properties[:, :3]
    places = [corners @ pose[:, :3].T + pose[:, 3] for pose in path]
    steps = [np.linalg.norm(b - a, axis=1).max() for a, b in pairwise(places)]
    assert max(steps) < 1.0
    for pose in path:
        shared = fixed ^ moving.transform(pose)
        assert gives_way(shared, UP.frame)
        assert pose[:, :3] @ pose[:, :3].T == pytest.approx(np.eye(3))
    gone = np.linalg.norm(places[-1] - corners, axis=1).max()
    apart = (fixed.hull() ^ moving.transform(path[-1]).hull()).volume() == 0
    assert apart or gone > limit


def test_a_bar_is_tilted_out_from_under_a_lip() -> None:
    """No straight pull and no shift frees it: it must be raised at one end and drawn out."""
    pair = bar_under_a_lip(1.2)
    assert hold(*pair, UP).held
    found = escape(*pair, UP)
    assert found.free
    assert found.tilt > 5
    assert found.towards[0] < 0 < found.towards[2]
    assert_leads_out(found, pair)


def test_a_key_is_turned_to_its_slot_and_drawn_out() -> None:
    pair = key_in_a_slot(47)
    assert hold(*pair, UP).held
    found = escape(*pair, UP)
    assert found.free
    assert found.turn[0] < -40 or found.turn[1] > 126
    assert found.towards[2] > 4
    assert_leads_out(found, pair)


@pytest.mark.parametrize(
    "pair",
    [
        bar_under_a_lip(8),
        key_in_a_slot(47, slot=3.6),
        ball_in_a_cup(3),
        ring_on_a_waist(0.5),
        link_between_cones(2, 0.3),
        waisted(45, 0.3),
    ],
    ids=["bar", "key", "ball", "ring", "cones", "waist"],
)
def test_none_frees_what_is_held(pair: Pair) -> None:
    found = escape(*pair, UP)
    assert not found.free
    assert found.path == ()
    assert found.tries >= 800
    assert found.reached > 100
    assert found.shift < 1


def test_a_ball_is_led_out_of_a_wide_cup() -> None:
    pair = ball_in_a_cup(4.1)
    found = escape(*pair, UP)
    assert found.free
    assert_leads_out(found, pair)


def test_a_ring_passes_a_grip_that_gives_way() -> None:
    assert escape(*ring_on_a_waist(0.02), UP).free
    assert not escape(*ring_on_a_waist(0.3), UP).free


def test_cones_too_shallow_to_reach_into_their_sockets_hold_nothing() -> None:
    """They are lower than the play along the axis, so the link slides out sideways."""
    shallow = link_between_cones(0.3, 0.3)
    assert not hold(*shallow, UP).held
    assert escape(*shallow, UP, limit=5).free
    assert hold(*link_between_cones(2, 0.3), UP).held


@pytest.mark.parametrize(("degrees", "lip"), [(40.0, 1.2), (-100.0, 1.2), (160.0, 8)])
def test_moving_everything_together_changes_no_verdict(degrees: float, lip: float) -> None:
    fixed, moving = bar_under_a_lip(lip)
    pair = ASKEW.turn(fixed, degrees), ASKEW.turn(moving, degrees)
    found = escape(*pair, carried(UP, ASKEW, degrees), effort=2000)
    assert found.free == (lip < 8)
    if found.free:
        assert_leads_out(found, pair)


def test_the_same_bodies_give_the_same_search() -> None:
    pair = waisted(45, 0.3)
    assert escape(*pair, UP, effort=200) == escape(*pair, UP, effort=200)
    assert escape(*pair, UP, effort=200) != escape(*pair, UP, effort=200, seed=2)


def test_more_effort_reaches_more() -> None:
    little, much = (escape(*waisted(45, 0.3), UP, effort=effort) for effort in (200, 1200))
    assert (little.tries < much.tries, little.reached < much.reached) == (True, True)


def test_findings_say_where_a_way_leads() -> None:
    found = {finding.name: finding for finding in holding(*bar_under_a_lip(1.2), UP, NONE, [0.0])}
    assert found["hold at 0 deg"].passed
    out = found["hold in tilt and turn"]
    assert not out.passed
    assert out.change
    assert "it comes out towards (" in out.words


def test_findings_on_what_is_only_searched_give_effort_and_play() -> None:
    listed = list(holding(*waisted(45, 0.3), UP, NONE, [0.0, 30.0]))
    found = {finding.name: finding for finding in listed}
    names = ["hold", "hold at 0 deg", "hold at 30 deg", "hold in tilt and turn", "play"]
    assert list(found) == names
    assert all(finding.passed for finding in found.values())
    assert found["hold"].words == "not certified: nobody asked. Ways out are searched for instead."
    assert found["hold at 0 deg"].margin is not None
    assert found["hold at 0 deg"].margin > 0
    assert "no way out in 8" in found["hold in tilt and turn"].words
    assert "0.42 mm along the axis" in found["play"].words


def test_what_is_only_searched_is_never_proven() -> None:
    found = tuple(holding(*waisted(45, 0.3), UP, NONE, [0.0]))
    verdict = Verdict("x", found)
    assert verdict.passed
    assert not verdict.proven
    assert verdict.doubts == ("hold is not certified, only searched",)


def test_findings_on_what_is_certified_give_depth_and_play() -> None:
    pair = waisted(45, 0.3)
    held, loose = holding(*pair, UP, certified(*pair, UP), [0.0, 30.0])
    assert (held.name, loose.name) == ("hold", "play")
    assert held.words.startswith("certified for rigid bodies, at any turn: no motion takes ")
    assert held.margin is not None
    assert held.margin > 0
    assert "0.42 mm along the axis" in loose.words
    assert Verdict("x", (held, loose)).proven


def test_a_body_that_slides_out_is_not_searched_further() -> None:
    sleeve = box((-6, -6, -4), (6, 6, 4)) - box((-3.3, -3.3, -5), (3.3, 3.3, 5))
    found = list(holding(sleeve, box((-3, -3, -4), (3, 3, 4)), UP, NONE, [0.0]))
    assert [finding.name for finding in found] == ["hold", "hold at 0 deg", "play"]
    assert not found[1].passed
    assert found[1].margin is not None
    assert found[1].margin < 0


def test_a_wide_thin_sheet_does_not_hide_a_block() -> None:
    block, sheet = box((0, 0, 0), (1, 1, 1)), box((0, 0, 0), (60, 60, 0.001))
    assert gives_way(sheet, UP.frame)
    assert not gives_way(block + sheet, UP.frame)
    assert gives_way(Manifold(), UP.frame)


def test_refuses_bodies_that_overlap() -> None:
    with pytest.raises(ValueError, match="overlap"):
        escape(box((0, 0, 0), (4, 4, 4)), box((2, 2, 2), (6, 6, 6)), UP)


def test_result_is_plain_data() -> None:
    found = escape(*bar_under_a_lip(1.2), UP)
    assert json.loads(json.dumps(asdict(found)))["free"] is True
    assert isinstance(Axis((0, 0, 0), found.towards), Axis)
