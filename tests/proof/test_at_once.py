"""All joints at once, one at a time and in an order: what is told of rows of boxes."""

from __future__ import annotations

import itertools
from dataclasses import replace
from functools import partial

import pytest
from manifold3d import Manifold

from scadgen.findings.finding import Finding
from scadgen.mechanism.joint import Case, JointProof
from scadgen.mechanism.mechanism import Body, Mechanism
from scadgen.mechanism.turn import Turn
from scadgen.motion.axis import Axis
from scadgen.motion.contact import meet
from scadgen.motion.swing import swing
from scadgen.proof.at_once import NAME, together
from tests.mechanism.posing import posed

BAR = Manifold.cube((9, 4, 4), True)


def row(count: int, asked: tuple[float, float], others: tuple[Body, ...] = ()) -> Mechanism:
    """Bars in a row along x, each turning upright in the one before."""
    names = "abcdefgh"[:count]
    bodies = tuple(
        Body(n, n, partial(BAR.translate, (10.0 * k, 0, 0))) for k, n in enumerate(names)
    )
    joints = tuple(
        Turn(fixed=a, moving=b, about=Axis((10.0 * k + 5, 0, 0), (0, 0, 1)), asked=asked)
        for k, (a, b) in enumerate(itertools.pairwise(names))
    )
    return Mechanism("row", (*bodies, *others), joints, loose=tuple(b.name for b in others))


def told(whole: Mechanism) -> Finding:
    """What is found of all joints together."""
    proofs = []
    for joint in whole.joints:
        assert joint.axis is not None
        fixed, moving = (whole.body(name).solid for name in joint.pair)
        proofs.append(JointProof(joint, (), swing(fixed, moving, joint.axis, within=(0, 0))))
    (found,) = together(whole, proofs, Case())
    assert found.name == NAME
    assert found.passed
    return found


def test_a_row_that_cannot_close_is_free_for_certain() -> None:
    found = told(row(4, (-40, 40)))
    assert not found.leaves_open
    assert "free for certain, between poses too" in found.words
    assert "3 pairs of bodies" in found.words


def test_a_row_that_closes_says_where_and_what_is_free() -> None:
    whole = row(4, (-100, 100))
    found = told(whole)
    assert found.leaves_open.startswith("is free for certain only from -")
    assert "a and d meet" in found.words
    within = float(found.leaves_open.split()[-2])
    assert 60 < within < 90
    free = posed(whole, dict.fromkeys(whole.joints, within))
    assert not meet(free["a"], free["d"])
    far = posed(whole, dict.fromkeys(whole.joints, within + 3))
    assert meet(far["a"], far["d"])


def test_joints_told_narrower_or_one_at_a_time_leave_nothing_open() -> None:
    whole = row(4, (-100, 100))
    joints = tuple(replace(joint, with_others=(-60.0, 60.0)) for joint in whole.joints)
    narrow = told(replace(whole, joints=joints))
    assert not narrow.leaves_open
    assert "with the others as they print, as told" in narrow.words
    alone = told(replace(whole, order=()))
    assert not alone.leaves_open
    assert "was not looked at" in alone.words


@pytest.mark.parametrize(("end", "free"), [(80.0, True), (100.0, False)])
def test_an_order_is_tried_as_it_is_told(end: float, free: bool) -> None:
    whole = row(4, (0, end))
    order = tuple(joint.pair for joint in whole.joints)
    found = told(replace(whole, order=order))
    assert bool(found.leaves_open) != free
    assert ("c and d turn freely for certain from 0 to" in found.words) != free


def test_a_loose_body_stands_while_all_turn() -> None:
    """Out of reach of one joint alone: two of them bring the end of the row there."""
    post = Body("post", "post", partial(Manifold.cube((2, 2, 4), True).translate, (5, 11, 0)))
    found = told(row(3, (0, 100), (post,)))
    assert "post meet" in found.words or "post come" in found.words
    assert found.leaves_open


def test_a_joint_without_an_angle_that_is_asked_goes_as_far_as_it_is_free() -> None:
    whole = row(4, (0, 40))
    free = replace(whole, joints=tuple(replace(joint, asked=None) for joint in whole.joints))
    assert "all 3 joints turned at once, from -28 to 28 deg" in told(free).words
