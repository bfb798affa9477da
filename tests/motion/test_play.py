"""The play of a bearing, measured on its solids."""

from __future__ import annotations

import math

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen import mesh
from scadgen.caging.certificate import Certificate, certified
from scadgen.caging.looseness import looseness
from scadgen.hinge.family import all_families
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.motion.axis import Axis
from scadgen.motion.contact import meet
from scadgen.motion.play import Apart, play
from scadgen.motion.retention import hold
from scadgen.motion.stretched import gap_across
from scadgen.printing.nearness import Nearness
from tests.shapes import ASKEW, CONE_PAIRS, UP, box, carried, rod, waisted
from tests.traps import ball_in_a_cup, link_between_cones

FACETS = 128


def bush(bore: float, low: float, high: float) -> Manifold:
    """A bush whose bore is drawn around its circle."""
    radius = bore / 2 / math.cos(math.pi / FACETS)
    return rod(8, low, high, FACETS) - rod(radius, low - 1, high + 1, FACETS)


# Derived: D cos th - L sin th = d for a pin longer than the bore, d cos th + L sin th = D for one
# that is shorter; checked by polygons elsewhere. The table values stand beside, degrees.
@pytest.mark.parametrize(
    ("bore", "pin", "length", "long_pin", "short_pin"),
    [(5.6, 5.0, 10, 3.3838, 3.4931), (4.4, 4.0, 20, 1.1435, 1.1481)],
)
def test_a_pin_tilts_in_a_bore_by_the_closed_form(
    bore: float, pin: float, length: float, long_pin: float, short_pin: float
) -> None:
    found = play(bush(bore, 0, length), rod(pin / 2, -20, length + 20, FACETS), UP)
    assert found.tilts == pytest.approx([long_pin] * 4, rel=5e-3)
    found = play(bush(bore, -20, length + 20), rod(pin / 2, 0, length, FACETS), UP)
    assert found.tilts == pytest.approx([short_pin] * 4, rel=5e-3)
    assert (found.along, found.against) == (found.limit, found.limit)


def test_a_tilt_takes_the_shift_that_it_needs() -> None:
    """The pin stands at one side of the bore: about where it stands it could hardly tilt at all."""
    pin = rod(2.5, -20, 30, FACETS).translate((0.29, 0, 0))
    found = play(bush(5.6, 0, 10), pin, UP)
    assert found.tilts == pytest.approx([3.3838] * 4, rel=2e-2)
    assert found.radial_least == pytest.approx(0.01, abs=0.005)
    assert found.radial_most == pytest.approx(0.59, abs=0.01)


@pytest.mark.parametrize(("half_angle", "clearance", "end_play", "side_play"), CONE_PAIRS)
def test_a_cone_pair_has_the_play_of_the_closed_form(
    half_angle: float, clearance: float, end_play: float, side_play: float
) -> None:
    found = play(*waisted(half_angle, clearance), UP)
    assert [found.along, found.against] == pytest.approx([end_play] * 2, abs=3e-3)
    assert [found.radial_least, found.radial_most] == pytest.approx([side_play] * 2, abs=3e-3)


def test_a_link_between_cones_tilts_by_the_closed_form() -> None:
    """Derived: 2 c / (Lc cos a); for c = 0.3 mm, a = 45 deg and Lc = 20 mm it is 2.431 deg.

    Lc is from where the normals of one cone, drawn at the mouth of its socket, meet the axis to
    where those of the other do: here 6 mm up, and 4 mm more for the mouth's radius, each way.
    """
    found = play(*link_between_cones(2, 0.3), UP)
    assert found.tilts == pytest.approx([2.431] * 4, rel=2e-2)
    assert found.axial == pytest.approx(2 * 0.42426, abs=6e-3)


def test_a_ball_tilts_until_its_stem_meets_the_mouth() -> None:
    """The stem has a radius of 1.2 mm, the mouth 3 mm; the cup reaches 3 mm up."""
    steep = play(*ball_in_a_cup(3), UP).tilt
    centred = math.degrees(math.atan2(3, 3) - math.asin(1.2 / math.hypot(3, 3)))
    assert centred - 1 < steep < centred + 8  # a shift of 0.3 mm adds to it


def test_a_box_in_a_box_has_different_play_each_way() -> None:
    case = box((-9, -9, -9), (9, 9, 9)) - box((-4.2, -4.7, -4.3), (4.2, 4.7, 4.9))
    found = play(case, box((-4, -4, -4), (4, 4, 4)), UP)
    assert (found.along, found.against) == pytest.approx((0.9, 0.3), abs=0.003)
    assert found.radial_least == pytest.approx(0.2, abs=0.003)
    assert found.radial_most == pytest.approx(0.7, abs=0.003)


def test_moving_everything_together_changes_no_play() -> None:
    fixed, moving = link_between_cones(2, 0.3)
    here = play(fixed, moving, UP).figures()
    for degrees in (50.0, -125.0):
        there = play(
            ASKEW.turn(fixed, degrees), ASKEW.turn(moving, degrees), carried(UP, ASKEW, degrees)
        )
        assert there.figures() == pytest.approx(here, rel=0.02, abs=0.006)


def test_pulls_that_were_measured_are_taken_over() -> None:
    fixed, moving = waisted(30, 0.3)
    grip = hold(fixed, moving, UP)
    taken, own = play(fixed, moving, UP, grip=grip), play(fixed, moving, UP)
    assert taken.along in {pull.travel for pull in grip.pulls}
    assert taken.figures() == pytest.approx(own.figures(), abs=0.006)


def test_every_default_pivot_has_the_play_of_its_closed_forms() -> None:
    """What a family says of its play, to 4 %: facets take or give a little of it."""
    tilts = 0
    for cls in all_families().values():
        if not issubclass(cls, Pivot):
            continue
        hinge = cls()
        found = play(mesh(hinge, "fixed"), mesh(hinge, "moving"), Axis(*hinge.axis()))
        assert [found.along, found.against] == pytest.approx([hinge.end_play] * 2, rel=0.04), cls
        assert found.radial_least == pytest.approx(hinge.side_play, rel=0.04), cls
        if hasattr(hinge, "tilt_play"):
            tilts += 1
            assert min(found.tilts) == pytest.approx(hinge.tilt_play, rel=0.04), cls
    assert tilts


def test_refuses_bodies_that_overlap() -> None:
    with pytest.raises(ValueError, match=r"overlap by 8 mm3"):
        play(box((0, 0, 0), (4, 4, 4)), box((2, 2, 2), (6, 6, 6)), UP)


@pytest.mark.parametrize("measured", [False, True])
@pytest.mark.parametrize(("half_angle", "clearance", "end_play", "side_play"), CONE_PAIRS)
def test_play_between_cores_and_the_least_distances_is_what_the_bodies_have(
    half_angle: float, clearance: float, end_play: float, side_play: float, measured: bool
) -> None:
    fixed, moving = waisted(half_angle, clearance)
    cage = certified(fixed, moving, UP)
    assert isinstance(cage, Certificate)
    gap = float(fixed.min_gap(moving, 1))
    apart = Apart(gap, Nearness(fixed, moving, gap) if measured else None)
    found = play(fixed, moving, UP, tolerance=0.005, guess=looseness(cage), apart=apart)
    ends = [found.along, found.radial_least, found.radial_most]
    assert ends == pytest.approx([end_play, side_play, side_play], abs=6e-3)
    for way, free in (((0, 0, 1), found.along), ((1, 0, 0), found.radial_least)):
        there, beyond = ([k * far for k in way] for far in (free - 1e-4, free + 0.02))
        assert not meet(fixed, moving.translate(there))
        assert meet(fixed, moving.translate(beyond))


@pytest.mark.parametrize("axis", [UP, ASKEW])
def test_a_gap_across_an_axis_is_that_of_no_other_way(axis: Axis) -> None:
    """0.3 mm beside a body; 0.1 mm over it, where no plane square to the axis crosses both."""
    place = np.column_stack([*axis.frame, axis.origin])
    one, other = (
        body.transform(place) for body in (box((0, 0, 0), (4, 4, 4)), box((4.3, 0, 3), (8, 4, 9)))
    )
    assert gap_across(one, other, axis, 1.0) == pytest.approx(0.3, abs=1e-4)
    over = box((0, 0, 4.1), (4, 4, 9)).transform(place)
    assert gap_across(one, over, axis, 1.0) == 1.0
