"""Mistakes that look right: each is tried, and seen not to be made."""

from __future__ import annotations

import numpy as np
import pytest

from scadgen.strength import arm, cones, lattice, life, torsion
from scadgen.strength.materials import material


def test_trap_1_the_bridge_is_stressed_more_than_the_strip_unless_it_is_long() -> None:
    """Distress counts shear by sqrt 3; equal at b = 1.44 t for a square strip."""
    torque, side = 7.0, 2.0
    strip = np.sqrt(3) * arm.twisting(torque, side, side)
    assert lattice.bridge_stress(torque, 1.0 * side, side) > strip
    assert lattice.bridge_stress(torque, 1.40 * side, side) > strip
    assert lattice.bridge_stress(torque, 1.48 * side, side) < strip


@pytest.mark.parametrize(("strip", "thickness", "bridge"), [(2, 2, 2), (2, 2, 1), (3, 1.2, 2)])
def test_trap_2_plain_torsion_overstates_stiffness(
    strip: float, thickness: float, bridge: float
) -> None:
    """By 20 to 65 % and a little more where the strip is as wide as the sheet is thick."""
    plain = torsion.shear_modulus(1000, 0.35) * torsion.constant(strip, thickness) / 10
    cell = lattice.cell_stiffness(strip, thickness, 10, bridge, 0.4, 1000, 0.35)
    assert 1.2 < plain / cell < 1.8


def test_trap_3_a_cone_is_worst_where_it_has_grown_and_blunt_ones_shear() -> None:
    root = 10.0
    at_root = cones.bending_at(20, 4, 20, root)
    assert cones.tip_bending(20, 4, 20, root) > 1.2 * at_root
    place = cones.worst_distance(4, 20)
    assert 4 + 2 * place * np.tan(np.radians(20)) == pytest.approx(1.5 * 4)
    shear = cones.tip_shear(20, 4)
    assert cones.tip_bending(20, 4, 30.6) > shear > cones.tip_bending(20, 4, 30.7)
    assert cones.tip_bending(20, 4, 20, 1.0) == cones.bending_at(20, 4, 20, 1.0)  # short: its root


def test_trap_4_a_45_degree_cone_is_pushed_along_its_axis_with_all_of_the_side_force() -> None:
    assert cones.thrust(20, 45) == pytest.approx(20)
    assert cones.thrust(20, 60) > 20 > cones.thrust(20, 30)


def test_trap_5_strain_across_layers_is_another_number_than_strength_across_them() -> None:
    """Matte PLA: 0.53 of the strength, 0.03 of the strain (manufacturer data sheet, looked up)."""
    matte = material("pla_matte")
    assert matte.strength_across.low / matte.strength.low > 0.5
    assert matte.break_strain_across.low / matte.break_strain.low < 0.04
    by_strength = 0.526 * life.OF_BREAK * matte.break_strain.low
    assert life.permissible(matte, 1, across=True).percent < by_strength / 10
