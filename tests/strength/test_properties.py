"""What must hold for any sizes: more plastic is never weaker, more load never less stress."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scadgen.strength import (
    bent_web,
    break_away,
    cones,
    elastica,
    fold,
    lattice,
    layers,
    leaf,
    life,
    loop,
    plate,
    rod,
    tilt,
    torsion,
)
from scadgen.strength.materials import Use, material, materials

SIZES = st.floats(0.5, 20)
TURNS = st.floats(0.5, 80)
few = settings(max_examples=25)

#: Stresses and strains under a load or a turn: each must rise with its first argument.
LOADED: dict[str, Callable[[Any], Any]] = {
    "bending of a rod": lambda f: rod.bending_stress(rod.loose_moment(f, 5, 4, 0.4), 4),
    "shear of a rod": lambda f: rod.double_shear(f, 4),
    "bearing": lambda f: rod.bearing(f, 4, 5),
    "net section": lambda f: loop.net_section(f, 9, 4, 5),
    "tear-out": lambda f: loop.tear_out(f, 2, 5),
    "thin ring": lambda f: loop.ring_stress(f, 9, 6, 5),
    "hoop": lambda f: loop.hoop_at_bore(f, 9, 4),
    "tip of a cone": lambda f: cones.tip_stress(f, 4, 30),
    "thrust": lambda f: cones.thrust(f, 45, 0.2),
    "socket": lambda f: cones.ring_tension(f, 45),
    "rim": lambda f: cones.rim_shear(f, 6, 2),
    "arm": lambda f: cones.arm_stress(f, 10, 8, 4),
    "leaf": lambda f: leaf.bending_stress(f, 20, 30, 3),
    "torsion": lambda f: torsion.stress(f, 2, 3),
    "bridge": lambda f: lattice.bridge_stress(f, 4, 2),
    "turn of a strip": lambda f: lattice.shear_stress(2, 3, f, 15, 700),
    "web": lambda f: bent_web.web_strain(0.6, 10, f),
    "spring-back": lambda f: bent_web.spring_back(2000, 0.6, 10, f, 0.4),
    "large deflection": lambda f: elastica.end_load(f / 10)[0],
}


@pytest.mark.parametrize("name", LOADED)
def test_more_load_is_never_less_stress(name: str) -> None:
    found = LOADED[name](np.linspace(0.5, 100, 200))
    assert np.shape(found) == (200,)
    assert (np.diff(found) > 0).all()


@few
@given(SIZES, SIZES, SIZES)
def test_a_thicker_rod_is_never_weaker(force: float, thin: float, more: float) -> None:
    stresses: tuple[Callable[[float], Any], ...] = (
        lambda d: rod.bending_stress(rod.loose_moment(force, 5, 4, 0.4), d),
        lambda d: rod.double_shear(force, d),
        lambda d: rod.bearing(force, d, 5),
    )
    for stress in stresses:
        assert stress(thin + more) < stress(thin)


@few
@given(st.integers(4, 40), SIZES, SIZES, st.floats(10, 180))
def test_more_rows_never_mean_more_stress(
    strips: int, strip: float, thickness: float, bend: float
) -> None:
    counts = np.arange(strips, strips + 10)
    stress = lattice.shear_stress(strip, thickness, bend / counts, 20, 700)
    assert (np.diff(stress) < 0).all()
    cell = lattice.cell_stiffness(strip, thickness, 20, 4, 0.5, 2000, 0.4)
    torque = lattice.segment_torque(lattice.stiffness(cell, counts, 6), bend, 6)
    assert (np.diff(lattice.bridge_stress(torque, 4, thickness)) < 0).all()


@few
@given(SIZES, SIZES, st.floats(0.05, 2), st.floats(5, 180))
def test_the_fewest_strips_do_not_meet_and_one_fewer_do(
    strip: float, thickness: float, slit: float, bend: float
) -> None:
    count = lattice.fewest_strips(bend, strip, thickness, slit)
    assert lattice.least_slit(strip, thickness, bend / count) <= slit + 1e-6
    if count > 1:
        assert lattice.least_slit(strip, thickness, bend / (count - 1)) >= slit - 1e-6


@few
@given(SIZES, SIZES)
def test_the_least_slit_never_falls_with_the_turn(strip: float, thickness: float) -> None:
    needed = lattice.least_slit(strip, thickness, np.linspace(0, 170, 300))
    assert (np.diff(needed) >= -1e-9).all()


@few
@given(SIZES, SIZES, SIZES)
def test_sides_of_a_bar_may_come_in_either_order(one: float, other: float, torque: float) -> None:
    assert torsion.constant(one, other) == torsion.constant(other, one)
    assert torsion.stress(torque, one, other) == torsion.stress(torque, other, one)
    turn = torsion.twist(torque, one, other, 10, 700)
    strain = torsion.shear_strain(one, other, turn, 10)
    assert 700 * strain == pytest.approx(torsion.stress(torque, one, other), rel=1e-9)


@few
@given(st.floats(0.2, 3), st.floats(0.002, 0.4), st.floats(5, 180))
def test_least_radius_and_length_just_bear_their_strain(
    thickness: float, strain: float, bend: float
) -> None:
    surfaces: tuple[bent_web.Surface, ...] = ("middle", "inner", "outer")
    for to in surfaces:
        radius = bent_web.least_radius(thickness, strain, to)
        assert bent_web.outer_strain(thickness, radius, to) == pytest.approx(strain)
    length = bent_web.least_length(thickness, bend, strain)
    assert bent_web.web_strain(thickness, length, bend) == pytest.approx(strain)
    assert bent_web.bend_length(bent_web.bend_radius(length, bend), bend) == pytest.approx(length)


@few
@given(st.floats(0, 1e6), st.floats(0.2, 0.49))
def test_stiffening_lies_between_strip_and_plate_and_rises(searle: float, poisson: float) -> None:
    here, wider = plate.stiffening(np.array([searle, searle * 2 + 1]), poisson)
    assert here + 1e-12 >= 1
    assert here <= wider <= 1 / (1 - poisson**2) + 1e-12


def test_a_fold_pressed_flat_strains_more_than_the_circle_as_wide() -> None:
    distance = np.linspace(2, 20, 50)
    circle = bent_web.outer_strain(0.4, (distance - 0.4) / 2)
    assert fold.folded_strain(0.4, distance) == pytest.approx(circle * 1.19814, rel=1e-5)


@few
@given(TURNS, SIZES, SIZES)
def test_friction_holds_a_cone_and_never_helps_a_socket_split(
    angle: float, force: float, size: float
) -> None:
    assert 0 <= cones.thrust(force, angle, 0.3) <= cones.thrust(force, angle) + 1e-12
    assert cones.ring_tension(force, angle, 0.1 if angle < 80 else 0) <= cones.ring_tension(
        force, angle
    )
    assert cones.tip_stress(force, size, angle) >= cones.tip_shear(force, size)
    assert (
        cones.tip_bending(force, size, angle, 0.1) <= cones.tip_bending(force, size, angle) + 1e-9
    )


@few
@given(st.floats(20, 80), SIZES)
def test_side_force_is_the_thrust_undone(angle: float, force: float) -> None:
    assert cones.side_force_of(cones.thrust(force, angle, 0.2), angle, 0.2) == pytest.approx(force)


@few
@given(SIZES, st.floats(0.05, 1), SIZES)
def test_exact_tilts_close_the_gap(pin: float, gap: float, length: float) -> None:
    bore = pin + gap
    long = np.radians(tilt.tilt_of_long_pin(bore, pin, length))
    assert bore * np.cos(long) - length * np.sin(long) == pytest.approx(pin, abs=1e-9)
    short = np.radians(tilt.tilt_of_short_pin(bore, pin, length))
    if bore < np.hypot(pin, length):
        assert pin * np.cos(short) + length * np.sin(short) == pytest.approx(bore, abs=1e-9)


@pytest.mark.parametrize("name", materials())
@pytest.mark.parametrize("cycles", [1, 50, 5e3, 1e6])
def test_across_layers_is_never_stronger_than_in_them(name: str, cycles: float) -> None:
    plastic = material(name)
    inside, across = plastic.strength, plastic.strength_across
    assert across.low <= inside.low
    assert across.high <= inside.high
    for use in Use:
        assert plastic.weak_end("strength_across", use) <= plastic.weak_end("strength", use)
    assert plastic.shear_strength(across=True).low <= plastic.shear_strength(across=False).low
    assert life.endurance_stress(plastic, across=True) <= life.endurance_stress(plastic)
    bears = life.permissible(plastic, cycles).percent
    assert life.permissible(plastic, cycles, across=True).percent <= bears
    tilts = layers.strength_at(inside.low, across.low, np.linspace(0, 90, 91))
    assert tilts[0] == pytest.approx(inside.low)
    assert tilts[-1] == pytest.approx(across.low)
    assert (tilts <= inside.low + 1e-9).all()


@few
@given(SIZES, SIZES, st.floats(10, 100))
def test_a_web_that_holds_by_hand_is_weaker_bent_than_pulled(
    width: float, thickness: float, strength: float
) -> None:
    least = break_away.snap_moment(strength, width, thickness)
    most = break_away.most_snap_moment(strength, width, thickness)
    assert most == pytest.approx(1.5 * least)
    # At an arm of its own thickness bending takes a quarter of the pull.
    assert most / thickness == pytest.approx(break_away.pull_force(strength, width, thickness) / 4)
