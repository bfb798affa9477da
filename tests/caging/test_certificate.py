"""What is certified to hold, and what must never be."""

from __future__ import annotations

import math

import numpy as np
import pytest

from scadgen.caging.certificate import Certificate, Uncertified, certified
from scadgen.caging.couple import Cored
from scadgen.caging.looseness import looseness
from scadgen.hinge.family import all_families
from scadgen.motion.axis import Axis
from scadgen.motion.contact import meet
from scadgen.motion.pair import turned
from scadgen.motion.play import play
from scadgen.motion.retention import hold
from tests.shapes import ASKEW, CONE_PAIRS, UP, carried, waisted
from tests.support import some_hinges, thorough
from tests.traps import ball_in_a_cup, link_between_cones

from .held import PIVOTS, bodies, held
from .loose import KINDS

#: Pairs of each kind that come apart.
MANY = 60
#: Poses drawn on a region's boundary.
POSES = 60
#: Facets of the hinges that are drawn.
FEW = 24
#: Of the hinges drawn at random so many may be left to the search.
UNDECIDED = 0.25


@pytest.mark.parametrize("family", PIVOTS)
def test_every_default_pivot_is_held_for_certain(family: str) -> None:
    cage = held(family)
    assert cage.depth > 0.1
    assert 0 < cage.tilt < 45


@pytest.mark.parametrize("family", PIVOTS)
def test_most_sound_pivots_are_held_for_certain(family: str) -> None:
    """Of few facets unless the run is thorough, as all hinges are that are drawn to be proven."""
    cls = all_families()[family]
    hinges = some_hinges(cls, 7) if thorough() else some_hinges(cls, 4, facets=FEW)
    found = [whole.joints[0].cage(whole) for whole in (hinge.mechanism() for hinge in hinges)]
    left = [cage for cage in found if not isinstance(cage, Certificate)]
    assert len(left) <= UNDECIDED * len(hinges), left


@pytest.mark.parametrize("kind", KINDS)
def test_what_comes_apart_is_never_certified(kind: str) -> None:
    draw = np.random.default_rng(7)
    for _ in range(MANY):
        fixed, moving = KINDS[kind](draw)
        assert not meet(fixed, moving)
        assert isinstance(certified(fixed, moving, UP), Uncertified)


@pytest.mark.parametrize("kind", KINDS)
def test_they_do_come_apart(kind: str) -> None:
    fixed, moving = KINDS[kind](np.random.default_rng(7))
    assert not hold(fixed, moving, UP).held


@pytest.mark.parametrize("family", PIVOTS)
def test_the_solids_overlap_in_every_pose_on_the_boundary(family: str) -> None:
    """In poses drawn at random, at any turn: asked of the meshes, not of their cores."""
    fixed, moving, joint = bodies(family)
    cage, frame = held(family), np.array(joint.about.frame)
    region = cage.region
    centre = np.array(joint.about.origin) + cage.witnesses.pair.centre * frame[2]
    draw = np.random.default_rng(3)
    for number in range(POSES):
        face = number % 4
        aside = region.aside if face == 0 else draw.uniform(0, region.aside)
        along = (-region.below, region.above, draw.uniform(-region.below, region.above))
        tilt = region.tilt if face == 3 else draw.uniform(0, region.tilt)
        east, lean, spin = draw.uniform(0, math.tau, 3)
        side = (math.cos(lean), math.sin(lean), 0.0)
        turns = turned(np.array([np.array(side) * tilt, (0, 0, spin)]))
        turn = frame.T @ turns[0] @ turns[1] @ frame
        up = along[face - 1] if face in (1, 2) else along[2]
        shift = np.array([aside * math.cos(east), aside * math.sin(east), up]) @ frame
        assert meet(
            fixed, moving.transform(np.column_stack([turn, centre + shift - turn @ centre]))
        )


@pytest.mark.parametrize("degrees", [40.0, -100.0])
def test_where_a_pair_stands_changes_nothing_that_matters(degrees: float) -> None:
    fixed, moving = (ASKEW.turn(body, degrees) for body in waisted(45, 0.3))
    here, there = (
        certified(*waisted(45, 0.3), UP),
        certified(fixed, moving, carried(UP, ASKEW, degrees)),
    )
    assert isinstance(here, Certificate)
    assert isinstance(there, Certificate)
    assert there.depth == pytest.approx(here.depth, rel=0.3)


def test_higher_cones_are_certified_deeper() -> None:
    depths = []
    for tip in (1.0, 1.5, 2.0, 3.0):
        cage = certified(*link_between_cones(tip, 0.3), UP)
        assert isinstance(cage, Certificate)
        depths.append(cage.depth)
    assert depths == sorted(depths)


def test_bodies_that_overlap_as_they_stand_are_not_certified() -> None:
    spindle, ring = waisted(45, 0.3)
    found = certified(spindle, ring.scale((0.9, 0.9, 1)), UP)
    assert isinstance(found, Uncertified)
    assert found.why == "the bodies overlap as they stand"


def test_a_link_between_tips_lower_than_its_play_is_not_certified() -> None:
    assert isinstance(certified(*link_between_cones(2, 0.3), UP), Certificate)
    assert isinstance(certified(*link_between_cones(0.3, 0.3), UP), Uncertified)


def test_a_ball_that_its_cup_lets_out_is_not_certified() -> None:
    assert isinstance(certified(*ball_in_a_cup(4.4), UP), Uncertified)


def test_an_axis_beside_the_bodies_is_told() -> None:
    found = certified(*waisted(45, 0.3), Axis((99, 0, 0), (0, 0, 1)))
    assert isinstance(found, Uncertified)
    assert found.why == "nothing of the fixed body is round about the axis"


@pytest.mark.parametrize(("half_angle", "clearance", "along", "aside"), CONE_PAIRS)
def test_straight_play_of_the_cores_is_that_of_the_closed_forms(
    half_angle: float, clearance: float, along: float, aside: float
) -> None:
    """Two pairs of cones: c / sin a along the axis and c / cos a square to it (derived)."""
    cage = certified(*waisted(half_angle, clearance, 256), UP)
    assert isinstance(cage, Certificate)
    near = looseness(cage)
    assert (near.along, near.against, near.aside) == pytest.approx((along, along, aside), abs=0.003)


@pytest.mark.parametrize("family", PIVOTS)
def test_a_guess_takes_nothing_from_the_play(family: str) -> None:
    fixed, moving, joint = bodies(family)
    alone = play(fixed, moving, joint.about, tolerance=0.005)
    rough = Cored(held(family), fixed, moving, joint.about)
    led = play(
        fixed, moving, joint.about, tolerance=0.005, guess=looseness(held(family)), rough=rough
    )
    assert (led.along, led.against) == pytest.approx((alone.along, alone.against), abs=0.006)
    assert led.radial_least == pytest.approx(alone.radial_least, abs=0.006)
    assert led.radial_most == pytest.approx(alone.radial_most, abs=0.006)
    for found, before in zip(led.tilts, alone.tilts, strict=True):
        assert found > 0.96 * before  # each is one that the body reaches, so more is better
