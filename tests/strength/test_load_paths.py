"""Stresses of families against beams cut out of their own solids, and against worked examples.

The load is followed by hand: where it enters, what carries it to the leaf, which section is the
weakest. The sections are cut from the mesh; only the values of the hinge are taken from it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import pytest

import scadgen
from scadgen import mesh
from scadgen.hinge.family import Hinge
from scadgen.strength import bent_web, notch
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material
from tests.strength.fillet import at_fillet
from tests.strength.section import cut

PLASTIC = material("petg")
#: A load at the axis: nothing pries, so the bearing bears just this (N).
PLAIN = Duty(load=10, lever=0, pull=0, cycles=1)
FACETS = 0.012  # of a modulus that 64 facets take at most


def actual(hinge: Hinge, name: str, duty: Duty = PLAIN) -> float:
    """What a hinge's own strengths say of a place, in MPa or %."""
    (found,) = (s for s in hinge.strengths(duty, PLASTIC) if s.name == name)
    return float(found.actual)


def along(low: float, high: float) -> Iterator[float]:
    yield from np.linspace(low + 1e-3, high - 1e-3, 60)


def test_the_neck_of_a_captive_cone_bends_where_its_section_is_weakest() -> None:
    """10 N at the lower end of the throat; the spindle hangs from the arm above it."""
    hinge = scadgen.CaptiveCone(facets=128)
    solid, neck = mesh(hinge, "moving"), hinge.shaft / 2 - hinge.waist
    start = hinge.pinch
    worst = max(
        10 * (z - start) / cut(solid, z, (0, 0), (hinge.radius, hinge.radius)).about_x
        for z in along(start, hinge.height - hinge.knuckle)
    )
    assert actual(hinge, "neck bent and pulled, across layers") == pytest.approx(worst, rel=FACETS)
    pulled = Duty(load=0, lever=0, pull=10, cycles=1)
    tension = 10 / cut(solid, start + 0.5, (0, 0), (4, 4)).area
    found = actual(hinge, "neck bent and pulled, across layers", pulled)
    assert found == pytest.approx(tension, rel=FACETS)
    assert found == pytest.approx(10 / (math.pi * neck**2))


def test_the_neck_of_a_waisted_spindle_is_a_beam_between_its_knuckles() -> None:
    """Supports in the middles of both knuckles, the load in the middle of the throat."""
    hinge = scadgen.WaistedSpindle(facets=128)
    low, high = hinge.knuckle / 2, hinge.height - hinge.knuckle / 2
    load = hinge.knuckle + hinge.pinch + hinge.throat / 2
    held_above = 10 * (load - low) / (high - low)
    section = cut(mesh(hinge, "fixed"), load, (0, 0), (4, 4))
    worst = held_above * (high - load) / section.about_x
    assert actual(hinge, "neck bent and pulled, across layers") == pytest.approx(worst, rel=FACETS)


def test_the_post_of_nested_cones_bends_at_its_root() -> None:
    """Half of 10 N on each of two posts, in the middle between closed socket and peak."""
    hinge = scadgen.NestedCones(facets=128)
    solid = mesh(hinge, "fixed")
    load = (hinge.closed + hinge.eaves + hinge.shaft / 2) / 2
    worst = max(
        5 * (load - z) / cut(solid, hinge.knuckle + z, (0, 0), (hinge.radius, hinge.radius)).about_x
        for z in along(1, load - 1)
    )
    assert actual(hinge, "post in bending, across layers") == pytest.approx(worst, rel=FACETS)


@pytest.mark.parametrize("tip", [1.7, 2.0, 3.0])
def test_a_facing_cone_bends_most_at_one_and_a_half_tips_or_at_its_root(tip: float) -> None:
    """Half of 10 N at the tip of each of two cones; the lower one stands on its ear."""
    hinge = scadgen.FacingCones(tip=tip, facets=128)
    solid = mesh(hinge, "fixed")
    worst = max(
        5 * (hinge.ear + tip - z) / cut(solid, z, (0, 0), (3.5, 3.5)).about_x
        for z in along(hinge.ear, hinge.ear + tip)
    )
    assert actual(hinge, "cone in bending, across layers") == pytest.approx(worst, rel=FACETS)


def test_the_rod_is_a_beam_with_a_flat_below() -> None:
    """Built in at both side loops (Roloff/Matek: F b/8), 10 N on one of two middle loops each."""
    hinge = scadgen.RodLoops(facets=128)
    upright = mesh(hinge, "fixed").translate((0, 0, -hinge.radius)).rotate((0, 90, 0))
    middle = hinge.length / 2 - 1.5 * hinge.knuckle - hinge.gap
    section = cut(upright, middle, (0, 0), (2.6, 2.6))
    moment = 5 * (7.68 + 2 * 0.4) / 8
    assert hinge.knuckle == pytest.approx((40 - 4 * 0.4) / 5) == 7.68
    weaker = min(section.about_x, section.about_y)
    assert actual(hinge, "rod in bending") == pytest.approx(moment / weaker, rel=FACETS)
    # With the whole circle of 5 mm: 32 M/(pi d3) = 32 x 5.3/(pi 125) = 0.432 MPa, over 0.932.
    assert actual(hinge, "rod in bending") == pytest.approx(0.4319 / 0.932, rel=1e-3)


def test_the_foot_of_a_knuckle_bends_about_the_axis() -> None:
    """10 N at the axis, square to the line from there to the root of the leaf, all on one foot."""
    hinge = scadgen.RodLoops(knuckles=1, length=22)
    foot = mesh(hinge, "moving").translate((0, 0, -hinge.radius)).rotate((90, 0, 0))
    across = cut(foot, hinge.reach - 0.05, (0, 0), (hinge.length / 2, hinge.radius))
    reach = math.hypot(hinge.reach, hinge.radius - hinge.leaf_thickness / 2)
    assert across.area == pytest.approx(hinge.knuckle * hinge.leaf_thickness, rel=0.06)
    # Norton: 0.907 (r/t)^-1/3, for a corner as round as a line is wide.
    corner = 0.907 * (hinge.leaf_thickness / hinge.line_width) ** (1 / 3)
    assert 1.5 < corner < 2.2
    assert actual(hinge, "foot of a knuckle") == pytest.approx(
        corner * 10 * reach / across.about_x, rel=0.06
    )


def test_the_arm_of_a_captive_cone_bends_both_ways_and_twists() -> None:
    """10 N in the throat: across the leaf, or along it; sections of the arm beside the leaf."""
    hinge = scadgen.CaptiveCone(leaf_thickness=5)
    arm = mesh(hinge, "moving").rotate((0, -90, 0))  # its x is now up
    there = cut(arm, hinge.reach - 1e-3, (-hinge.height + 2, 0), (4, 9))
    sideways = 10 * hinge.reach / there.about_x
    # Norton: 0.907 (r/t)^-1/3, for corners as round as a line is wide.
    corner = 0.907 * (hinge.knuckle / hinge.line_width) ** (1 / 3)
    assert 1.5 < corner < 2.2
    upwards = corner * 10 * hinge.lever / there.about_y
    found = actual(hinge, "arm of the spindle")
    assert found > max(sideways, upwards)
    side, other = hinge.leaf_thickness, hinge.knuckle
    # Timoshenko and Goodier's table, art. 109: alpha of 0.208 (square) to 0.246 (1:2).
    ratio = max(side, other) / min(side, other)
    assert 1 <= ratio < 1.5
    sheared = [
        10 * hinge.lever / (alpha * max(side, other) * min(side, other) ** 2)
        for alpha in (0.208, 0.231)
    ]
    weak = 35 / 22.05  # PETG, in the layers over across them, at the low ends
    low, high = (
        math.hypot(math.hypot(upwards, sideways), math.sqrt(3) * weak * tau)
        for tau in sorted(sheared)
    )
    assert low * 0.9 < found < high * 1.1


def test_a_load_pries_like_a_lever() -> None:
    """3 N at 100 mm, leaves that meet 10 mm from the axis: 30 N at the heel, 27 N at the axis."""
    hinge = scadgen.WaistedSpindle()
    heel = hinge.reach
    pried = Duty(load=3, lever=10 * heel, pull=0, cycles=1)
    plain = Duty(load=27, lever=0, pull=0, cycles=1)
    for place in ("neck in shear, across layers", "ring in bending", "arm of a ring"):
        assert actual(hinge, place, pried) == pytest.approx(actual(hinge, place, plain))
    section = hinge.height * hinge.leaf_thickness**2 / 6
    assert actual(hinge, "leaf in bending", pried) == pytest.approx(3 * 9 * heel / section)


def test_a_stop_further_out_pries_less() -> None:
    near, far = scadgen.RodLoops(), scadgen.RodLoops(stop_at=120, swing=110)
    assert far.stop_start > far.reach
    duty = Duty(load=3, lever=60)
    assert actual(far, "rod in bending", duty) < actual(near, "rod in bending", duty)


def test_side_cones_share_a_force_between_two_tips_of_one_knuckle() -> None:
    """10 N, one knuckle: 5 N on each tip of 7 - 2 x 2.2 = 2.6 mm; 4/3 of the mean shear."""
    hinge = scadgen.SideCones()
    worked = 4 / 3 * 5 / (math.pi * 2.6**2 / 4)
    assert worked == pytest.approx(1.2557, abs=1e-4)
    assert actual(hinge, "cone in shear, across layers") == pytest.approx(worked)


def test_a_sheet_that_leans_on_itself_pulls_at_its_web() -> None:
    """3 N at 27 mm, leaves of 3 mm, web 0.6: heel 2.7 mm, so 30 N; over 40 x 0.6 mm2: 1.25 MPa,
    and more where the web runs into a leaf on one side of it."""
    duty = Duty(load=3, lever=27, pull=0, cycles=1)
    told = actual(scadgen.SheetFlexure(), "web pulled apart, at a corner", duty)
    assert told == pytest.approx(bent_web.at_a_leaf(1.25))


def test_the_web_strains_as_the_arc_says_and_more_at_its_fillet() -> None:
    """90 deg over 10 mm: R = 6.366, 0.6/(2 R) = 4.71 %; the fillet adds by finite elements."""
    duty = Duty(load=0, lever=0, pull=0, cycles=1)
    name = "web in bending, at its fillet"
    for fillet in (0.2, 1.0):
        told = actual(scadgen.SheetFlexure(fillet=fillet), name, duty)
        assert told == pytest.approx(4.7124 * at_fillet(0.6, fillet), rel=0.03)


def test_a_sideways_pull_bends_the_web_in_its_plane() -> None:
    """5 N at 10 mm: 50 N mm over 0.6 x 40 x 40/6 = 160 mm3."""
    duty = Duty(load=0, lever=0, pull=5, cycles=1)
    told = actual(scadgen.SheetFlexure(), "web pulled apart, at a corner", duty)
    assert told == pytest.approx(bent_web.at_a_leaf(50 / 160))


def test_a_pull_in_the_middle_of_a_leaf_twists_the_web_below_it() -> None:
    """5 N, leaves of 3 mm, web 0.6: 1.2 mm above it, as a load of 6 N mm beyond the edge does."""
    pull, load = Duty(load=0, lever=0, pull=5, cycles=1), Duty(2, 0, 0, cycles=1, offset=23)
    sheet, name = scadgen.SheetFlexure(), "web bent by a twist"
    twists = [
        actual(sheet, name, duty) - actual(sheet, "web pulled apart, at a corner", duty)
        for duty in (pull, load)
    ]
    assert twists[0] == pytest.approx(twists[1])


def test_a_load_and_a_pull_ask_the_same_corner_of_a_web() -> None:
    sheet, name = scadgen.SheetFlexure(), "web pulled apart, at a corner"
    load, pull = Duty(3, 20, 0, cycles=1, offset=10), Duty(0, 0, 5, cycles=1, pull_lever=30)
    both = Duty(3, 20, 5, cycles=1, offset=10, pull_lever=30)
    alone = actual(sheet, name, load) + actual(sheet, name, pull)
    assert actual(sheet, name, both) == pytest.approx(alone)


def test_a_wide_web_shears_before_it_bends_in_its_plane() -> None:
    """60 N on 0.6 x 40 mm: 2.5 MPa on average, 3.75 in the middle; bending is 6 x 60 x 10/960,
    and more at a leaf."""
    duty, sheet = Duty(load=0, lever=0, pull=60, cycles=1), scadgen.SheetFlexure()
    assert actual(sheet, "web sheared sideways", duty) == pytest.approx(3.75)
    bent = actual(sheet, "web pulled apart, at a corner", duty)
    assert bent == pytest.approx(bent_web.at_a_leaf(3.75))
    wide = scadgen.SheetFlexure(sheet_width=300)
    assert actual(wide, "web sheared sideways", duty) > 5 * actual(
        wide, "web pulled apart, at a corner", duty
    )


def test_strips_of_a_lattice_open_like_beams_between_bridges() -> None:
    """10 N on four segments; strips 2 x 2.4, 12 mm free, built in at both ends: M = F l/2;
    corners as sharp as a line is wide."""
    hinge = scadgen.SlitLattice()
    assert (hinge.free_length, hinge.segments, hinge.thickness, hinge.strip) == (12, 4, 2.4, 2)
    modulus = 2.4 * 2**2 / 6
    assert actual(hinge, "strips pulled open") == pytest.approx(
        2.5 * 12 / 2 / modulus * notch.factor(hinge.line_width, 2)
    )


def test_a_moment_in_its_plane_pulls_most_at_the_edge_of_a_lattice() -> None:
    """Bolts in a row: F = M x/sum(x2); 10 N at 41 mm, segments at -24, -8, 8 and 24 mm."""
    hinge = scadgen.SlitLattice()
    places = np.array([-24, -8, 8, 24])
    edge = 10 * hinge.span * 24 / (places**2).sum()
    pulled, plain = Duty(load=0, lever=0, pull=10, cycles=1), Duty(4 * edge, 0, 0, 1)
    found = actual(hinge, "strips pulled open", pulled)
    assert found == pytest.approx(actual(hinge, "strips pulled open", plain))


def test_a_link_that_breaks_away_snaps_at_the_plastic_moment() -> None:
    """PETG at most 56 MPa; 3 x 56 x 1.6 x 0.5 x 0.5/4 = 16.8 N mm, at 12 mm: 1.4 N."""
    assert PLASTIC.strength.high == 56
    assert actual(scadgen.BreakAwayLink(), "push that snaps it") == pytest.approx(1.4)


def test_holes_take_width_from_a_leaf() -> None:
    """Two M3 with heads of 6.72 mm in 40 mm: 26.56 mm are left, half-way along the leaf."""
    hinge = scadgen.WaistedSpindle(height=40, screw=1, head=1, leaf_length=16)
    row = hinge.reach + 8
    duty = Duty(load=10, lever=row + 20, pull=0, cycles=1)
    worked = 10 * 20 / ((40 - 2 * 6.72) * hinge.leaf_thickness**2 / 6)
    assert actual(hinge, "leaf between its screws", duty) == pytest.approx(worked)
