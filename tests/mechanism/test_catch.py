"""The joint of a snap catch: what it measures on solids, and that each of its findings can fail."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from functools import cache, partial
from typing import Any

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen.families.snap_catch import SnapCatch
from scadgen.mechanism.catch import ALIKE, Catch
from scadgen.mechanism.joint import Case
from scadgen.mechanism.mechanism import Body, Mechanism
from scadgen.motion.contact import overlap

#: Lids and boxes of other proportions: deep and shallow, near the axis and far from it.
SHAPES: tuple[dict[str, float], ...] = (
    {},
    {"reach": 80, "keeper_height": 60, "hook_height": 15, "lip": 3},
    {"reach": 25, "keeper_height": 12, "hook_height": 10, "lip": 1.6, "lead": 45},
    {"reach": 150, "keeper_height": 20, "hook_height": 30, "lip": 2, "slack": 0.2},
)
each_shape = pytest.mark.parametrize("shape", SHAPES, ids=["usual", "deep", "near", "far"])


def made(shape: dict[str, Any]) -> SnapCatch:
    return SnapCatch(**shape)


def joint_of(whole: Mechanism) -> Catch:
    (joint,) = whole.joints
    assert isinstance(joint, Catch)
    return joint


def failed(whole: Mechanism) -> set[str]:
    return {one.name for one in joint_of(whole).prove(whole, Case()).findings if not one.passed}


@cache
def usual() -> Mechanism:
    """The usual catch, of which nothing fails."""
    whole = SnapCatch().mechanism()
    assert not failed(whole)
    return whole


def changed(whole: Mechanism, **solids: Callable[[Manifold], Manifold]) -> Mechanism:
    """The mechanism with some of its bodies drawn another way."""
    bodies = tuple(
        Body(one.name, one.title, partial(solids.get(one.name, _same), one.solid))
        for one in whole.bodies
    )
    return dataclasses.replace(whole, bodies=bodies)


def _same(solid: Manifold) -> Manifold:
    return solid


@each_shape
def test_the_way_that_the_arm_gives_is_the_one_that_its_strain_is_reckoned_with(
    shape: dict[str, float],
) -> None:
    hinge = made(shape)
    whole = hinge.mechanism()
    joint = joint_of(whole)
    fixed, moving = (whole.body(name).solid for name in joint.pair)
    passing = joint.passing(fixed, moving)
    way, at = joint.worst(passing, 90)
    assert way == pytest.approx(hinge.deflection, abs=ALIKE)
    assert hinge.swing < at < joint.engaged
    straight, _ = joint.pulled(passing)
    assert straight == pytest.approx(hinge.lip - hinge.clearance, abs=ALIKE)
    assert hinge.bent == pytest.approx(max(way, straight) + hinge.slack, abs=2 * ALIKE)
    assert not failed(whole)


def elastic(hinge: SnapCatch, solid: Manifold, by: float) -> Manifold:
    """The hook with its arm bent as a bar that is held at the post, by so much at the lip's near
    edge: v = y (3 s2 - s3)/2, and straight on beyond."""
    length, root = hinge.arm_length, hinge.root
    inside = hinge.reach + hinge.clearance / 2

    def bent(corners: Any) -> Any:
        share = np.clip((root - corners[:, 1]) / length, 0, None)
        curve = np.where(share < 1, (3 * share**2 - share**3) / 2, 1 + 1.5 * (share - 1))
        moved = np.array(corners)
        moved[:, 0] += by * curve * (corners[:, 0] > inside)
        return moved

    return solid.refine_to_length(1.0).warp_batch(bent)


def test_an_arm_that_bends_as_a_bar_clears_the_ledge_and_one_bent_less_does_not() -> None:
    """A second look at what the proof measures, on a finer mesh of the whole hook."""
    hinge = SnapCatch(hook_width=6)
    whole = hinge.mechanism()
    joint = joint_of(whole)
    fixed, moving = (whole.body(name).solid for name in joint.pair)
    most = {}
    for less in (0.0, 0.15):
        hook = elastic(hinge, moving, hinge.deflection - less + 0.01)
        turns = np.linspace(hinge.swing, joint.engaged, 61)
        most[less] = max(overlap(fixed, joint.moved(hook, float(turn))) for turn in turns)
    assert most[0.0] < 1e-3 < most[0.15]


@pytest.mark.parametrize(
    ("wrong", "found"),
    [
        ({"fixed": lambda solid: solid.translate((-0.1, 0, 0))}, "gap when shut"),
        ({"fixed": lambda solid: solid.translate((0, 0, 0.6))}, "gap when shut"),
        ({"fixed": lambda solid: solid.translate((0.5, 0, 0))}, "held shut"),
        ({"fixed": lambda solid: solid.translate((0.2, 0, 0))}, "snap"),
        ({"moving": lambda solid: solid + solid.translate((200, 0, 0))}, "hook"),
        ({"fixed": lambda solid: solid.translate((0, 0, 40))}, "swing"),
        ({"fixed": lambda solid: solid.trim_by_plane((1, 0, 0), -30)}, "held shut"),
        ({"fixed": lambda solid: solid.translate((20, 0, 0))}, "latch faces meet"),
    ],
)
def test_each_finding_can_fail(wrong: dict[str, Any], found: str) -> None:
    assert found in failed(changed(usual(), **wrong))


def test_a_post_that_meets_the_box_first_is_found() -> None:
    """It lies beyond the ledge, and no arm gives there."""
    hinge = SnapCatch()
    whole = hinge.mechanism()
    block = Manifold.cube((hinge.slot + 1, 4, 1)).translate(
        (-hinge.reach - hinge.slot - 1, hinge.root + 1, hinge.keeper_height - 2)
    )
    blocked = changed(whole, fixed=lambda solid: solid + block)
    assert {"snap", "gap when shut"} <= failed(blocked)


def test_a_wrong_deflection_is_found() -> None:
    whole = SnapCatch().mechanism()
    joint = joint_of(whole)
    for told in (0.9, 1.1):
        other = dataclasses.replace(joint, deflection=told * joint.deflection)
        assert "snap" in failed(dataclasses.replace(whole, joints=(other,)))


def test_it_tells_where_a_cut_shows_it_and_how_it_ends() -> None:
    joint = joint_of(SnapCatch().mechanism())
    assert joint.look.at == joint.ends[1] == joint.engaged
    assert joint.asked is not None
    assert joint.asked[1] < joint.engaged
    assert "the hook holds it" in joint.stop_words
