"""How fast the volume that two bodies share grows, against closed forms."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from scadgen.hinge.family import all_families
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.hinge.meshing import mesh
from scadgen.motion.axis import Axis, Vector
from scadgen.motion.obstacle import growth
from scadgen.motion.pull import shifted
from scadgen.motion.retention import hold
from tests.shapes import box

UP: Vector = (0.0, 0.0, 1.0)


def test_a_flat_end_sweeps_its_own_face() -> None:
    block = box((-9, -9, 0), (9, 9, 9))
    plug = box((-2, -1.5, -5), (2, 1.5, 1)).as_original()
    assert growth(block ^ plug, plug, UP) == pytest.approx(4 * 3)
    assert growth(block ^ plug, plug, (1.0, 0.0, 0.0)) == pytest.approx(0, abs=1e-9)
    assert growth(block ^ plug, plug, (0.0, 0.6, 0.8)) == pytest.approx(0.8 * 12)


def test_what_has_gone_through_a_plate_grows_no_more() -> None:
    plate = box((-9, -9, 0), (9, 9, 0.5))
    plug = box((-2, -1.5, -5), (2, 1.5, 1)).as_original()
    assert growth(plate ^ plug, plug, UP) == pytest.approx(0, abs=1e-9)


@settings(max_examples=30, deadline=None)
@given(st.floats(0.5, 3.0), st.floats(15, 75), st.sampled_from((4, 7, 32)))
def test_a_cone_sweeps_its_section(depth: float, half_angle: float, facets: int) -> None:
    slope = math.tan(math.radians(half_angle))
    tip = shifted(Manifold.cylinder(10, 10 * slope, 0, facets), UP, depth - 10).as_original()
    section = facets / 2 * math.sin(2 * math.pi / facets) * (depth * slope) ** 2
    block = Manifold.cube((400, 400, 50)).translate((-200, -200, 0))
    assert growth(block ^ tip, tip, UP) == pytest.approx(section, rel=1e-6)


def test_faces_are_told_apart_where_both_bodies_are_cut_from_one() -> None:
    bar = box((0, 0, 0), (4, 4, 4)).as_original()
    moving = bar.translate((0, 0, -3)).as_original()
    assert growth(bar ^ moving, moving, UP) == pytest.approx(16)


def test_a_body_without_a_mark_of_its_own_is_refused() -> None:
    plug = box((-2, -1.5, -5), (2, 1.5, 1))
    with pytest.raises(ValueError, match="an original"):
        growth(plug, shifted(plug.as_original(), UP, 1.0), UP)


@pytest.mark.parametrize(
    "name", [name for name, cls in all_families().items() if cls().kind == "pivot"]
)
def test_it_is_the_slope_of_the_volume_in_every_pull_of_a_hinge(name: str) -> None:
    hinge = all_families()[name](facets=24)
    assert isinstance(hinge, Pivot)
    fixed, moving = (mesh(hinge, part, angle=0) for part in ("fixed", "moving"))
    moving = moving.as_original()
    step = 1e-3
    for pull in hold(fixed, moving, Axis(*hinge.axis())).pulls:
        before, here, after = (
            fixed ^ shifted(moving, pull.direction, pull.travel + 0.4 + way)
            for way in (-step, 0, step)
        )
        slope = (after.volume() - before.volume()) / (2 * step)
        assert growth(here, moving, pull.direction) == pytest.approx(slope, rel=0.02, abs=1e-3)
