"""A hook in slices: those that are left out of a meeting have no part in it, however they bend."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from manifold3d import Manifold

from scadgen.families.snap_catch import SnapCatch
from scadgen.mechanism.catch import Catch
from scadgen.mechanism.hook import Hook, Passing
from scadgen.motion.axis import Axis
from scadgen.motion.contact import overlap

shares = st.floats(0, 1)


@cache
def usual() -> tuple[Catch, Manifold, Manifold]:
    """The usual catch and its bodies."""
    whole = SnapCatch().mechanism()
    (joint,) = whole.joints
    assert isinstance(joint, Catch)
    fixed, moving = (whole.body(name).solid for name in joint.pair)
    return joint, fixed, moving


def test_slices_and_what_stays_are_the_body() -> None:
    joint, _, moving = usual()
    hook = joint.arm.slices(moving)
    parts = [*hook.slices, hook.stays]
    assert sum(part.volume() for part in parts) == pytest.approx(moving.volume())
    assert all((part - moving).volume() == pytest.approx(0, abs=1e-9) for part in parts)
    for part in hook.slices:
        low, high = np.reshape(part.bounding_box(), (2, 3))
        assert low @ joint.arm.aside >= np.array(joint.arm.root) @ joint.arm.aside - 1e-9
        assert high[1] <= joint.arm.root[1] + 1e-9


@given(shares, shares, shares, st.sampled_from([(0, -1, 0), (0, -1, 0.2), (1, 0, 0), (0, 0, 1)]))
def test_what_is_left_out_never_meets_the_body(
    turned: float, lifted: float, bent: float, way: tuple[float, float, float]
) -> None:
    joint, fixed, moving = usual()
    passing = joint.passing(fixed, moving)
    pose = Axis(joint.about.origin, way).matrix(150 + 40 * turned)
    pose = pose + np.outer((0, 0, 6 * lifted), (0, 0, 0, 1))
    near = passing.near(pose)

    def met(part: Manifold) -> float:
        return overlap(fixed, joint.arm.bent(part, bent * joint.most).transform(pose))

    assert met(near) == pytest.approx(sum(map(met, passing.hook.slices)), abs=1e-9)


def test_slices_level_with_the_ledge_are_near_and_no_others() -> None:
    joint, fixed, moving = usual()
    passing = joint.passing(fixed, moving)
    near = passing.near(joint.about.matrix(joint.engaged - 3))
    assert not near.is_empty()
    assert near.bounding_box()[4] < joint.arm.root[1] / 2
    assert passing.near(joint.about.matrix(0.0)).is_empty()


def test_a_body_is_cut_where_it_is_level_and_a_little_wider() -> None:
    bar, wall = Manifold.cube((1, 1, 10)), Manifold.cube((1, 4, 8))
    hook = Hook.of(bar, (0, 0, 1), (6, 3, 1), ((0, 1, 0), 0.5))
    assert [part.volume() for part in hook.slices] == pytest.approx([2, 1.5, 1])
    assert hook.stays.volume() == pytest.approx(5.5)
    level = hook.beside(wall)
    assert [part.volume() for part in level] == pytest.approx([8, 12, 8], abs=1e-4)
    assert all(part.volume() > volume for part, volume in zip(level, (8, 12, 8), strict=True))
    passing = Passing(wall, hook, lambda part: part.translate((5, 0, 0)))
    above = np.column_stack([np.eye(3), (0, 0, 0)])
    assert passing.near(above).volume() == pytest.approx(4.5)
    assert passing.near(above + np.outer((1.1, 0, 0), (0, 0, 0, 1))).is_empty()
