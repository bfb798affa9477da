"""What must hold for any sizes: more plastic is never weaker, more load never less stress."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scadgen.strength import (
    arm,
    bent_web,
    cones,
    fold,
    lattice,
    leaf,
    life,
    loop,
    plate,
    rod,
    torsion,
)
from scadgen.strength.materials import Use, material, materials

SIZES = st.floats(0.5, 20)
TURNS = st.floats(0.5, 80)
few = settings(max_examples=25)

#: Stresses and strains under a load or a turn: each must rise with its first argument.
LOADED: dict[str, Callable[[Any], Any]] = {
    "bending of a rod": lambda f: rod.bending_stress(rod.moment_held_at_sides(f, 5, 0.4), 4),
    "shear of a rod": lambda f: rod.double_shear(f, 4),
    "bearing": lambda f: rod.bearing(f, 4, 5),
    "tear-out": lambda f: loop.tear_out(f, 2, 5),
    "ring": lambda f: loop.thick_ring_stress(f, 9, 6, 5),
    "hoop": lambda f: loop.hoop_at_bore(f, 9, 4),
    "tip of a cone": lambda f: cones.tip_bending(f, 4, 30),
    "thrust": lambda f: cones.thrust(f, 45, 0.2),
    "socket": lambda f: cones.ring_tension(f, 45),
    "rim": lambda f: cones.rim_shear(f, 6, 2),
    "arm": lambda f: arm.bending(f, 10, 0, 8, 4),
    "leaf": lambda f: leaf.bending_stress(f, 20, 30, 3),
    "torsion": lambda f: arm.twisting(f, 2, 3),
    "bridge": lambda f: lattice.bridge_stress(f, 4, 2),
    "turn of a strip": lambda f: lattice.shear_strain(2, 3, f, 15),
    "web": lambda f: bent_web.web_strain(0.6, 10, f),
    "spring-back": lambda f: bent_web.torque(2000, 0.6, 20, bent_web.bend_radius(10, f)),
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
        lambda d: rod.bending_stress(rod.moment_held_at_sides(force, 5, 0.4), d),
        lambda d: rod.double_shear(force, d),
        lambda d: rod.bearing(force, d, 5),
    )
    for stress in stresses:
        assert stress(thin + more) < stress(thin)


@few
@given(st.integers(4, 40), SIZES, SIZES, st.floats(10, 180))
def test_more_rows_never_mean_more_strain(
    strips: int, strip: float, thickness: float, bend: float
) -> None:
    counts = np.arange(strips, strips + 10)
    sheared = lattice.shear_strain(strip, thickness, bend / counts, 20)
    assert (np.diff(sheared) < 0).all()
    cell = lattice.cell_stiffness(strip, thickness, 20, 4, 0.5, 2000, 0.4)
    torque = lattice.segment_torque(lattice.stiffness(cell, counts, 6), bend, 6)
    assert (np.diff(lattice.bridge_stress(torque, 4, thickness)) < 0).all()


@few
@given(SIZES, SIZES, SIZES)
def test_sides_of_a_bar_may_come_in_either_order(one: float, other: float, torque: float) -> None:
    assert torsion.constant(one, other) == torsion.constant(other, one)
    assert arm.twisting(torque, one, other) == arm.twisting(torque, other, one)
    turn = np.degrees(torque * 10 / (700 * torsion.constant(one, other)))
    strain = torsion.shear_strain(one, other, turn, 10)
    assert strain == torsion.shear_strain(other, one, turn, 10)
    assert 700 * strain == pytest.approx(arm.twisting(torque, one, other), rel=0.003)


@few
@given(st.floats(0, 1e6), st.floats(0.2, 0.49))
def test_stiffening_lies_between_strip_and_plate_and_rises(searle: float, poisson: float) -> None:
    here, wider = plate.stiffening(np.array([searle, searle * 2 + 1]), poisson)
    assert here + 1e-12 >= 1
    assert here <= wider <= 1 / (1 - poisson**2) + 1e-12


def test_a_fold_pressed_flat_strains_more_than_the_circle_as_wide() -> None:
    distance = np.linspace(2, 20, 50)
    circle = bent_web.web_strain(0.4, np.pi * (distance - 0.4) / 2, 180)
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
    assert (
        cones.tip_bending(force, size, angle, 0.1) <= cones.tip_bending(force, size, angle) + 1e-9
    )


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
    bears = life.permissible(plastic, cycles).percent
    assert life.permissible(plastic, cycles, across=True).percent <= bears
