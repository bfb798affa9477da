"""The project against figures that it did not compute: handbooks, tables, published examples."""

from __future__ import annotations

import numpy as np
import pytest

from scadgen import SlitLattice
from scadgen.hinge.family import definition
from scadgen.strength.torsion import shear_strain, stiffness_factor, strain_factor
from scadgen.trees.to_numpy import Numbers

# S. P. Timoshenko, J. N. Goodier, Theory of Elasticity, 3rd ed. 1970, art. 109, table of k1 and
# beta for a / b (from memory; every digit confirmed by the series and by finite elements).
RATIOS = (1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 10.0)
BETA = (0.1406, 0.196, 0.229, 0.263, 0.281, 0.291, 0.312)
K1 = (0.675, 0.848, 0.930, 0.985, 0.997, 0.999, 1.000)


def test_torsion_of_a_rectangle_is_that_of_the_table() -> None:
    assert stiffness_factor(np.array(RATIOS)) == pytest.approx(BETA, abs=6e-4)
    assert strain_factor(np.array(RATIOS)) == pytest.approx(K1, abs=6e-4)


@pytest.mark.parametrize(
    ("longer", "shorter", "constant"), [(2, 2, 2.2492), (3, 2, 4.6982), (4, 2, 7.3179)]
)
def test_torsion_constant_is_that_of_finite_elements(
    longer: float, shorter: float, constant: float
) -> None:
    """J in mm4, from a finite-element section solver (sectionproperties), within 0.2 %."""
    ours = stiffness_factor(longer / shorter) * longer * shorter**3
    assert ours == pytest.approx(constant, rel=2e-3)


def test_strain_of_a_strip_of_the_lattice_is_saint_venants() -> None:
    """gamma = k1 theta' b with the table's k1 for a / b = 1.5: a strip of 3 by 2 mm."""
    hinge = SlitLattice(thickness=3, strip=2, bridge=4.5, slit_length=34.5, rows=16, swing=90)
    twist = np.radians(90 / 15) / ((34.5 - 4.5) / 2)
    expected = 0.848 * twist * 2 * 100
    assert hinge.figures()["shear strain of a strip (%)"] == pytest.approx(expected, rel=1e-3)
    assert shear_strain(3, 2, 6, 15) * 100 == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize(("strips", "enough"), [(23, True), (22, False)])
def test_fewest_strips_for_a_right_angle_is_the_published_figure(strips: int, enough: bool) -> None:
    """90 degrees in a 3 mm sheet, strips of 3 mm, slits of 0.2 mm: 23 strips.

    Source: P. Fenner, "Minimum bend radius", weblog article, 2012 (excerpt).
    """
    values = {name: limits.default for name, limits in definition(SlitLattice).bounds.items()}
    values |= {"thickness": 3, "strip": 3, "slit": 0.2, "swing": 90, "rows": strips + 1}
    (rule,) = [r for r in definition(SlitLattice).rules if "strips meet" in r.why]
    assert bool(Numbers(values)(rule.holds)) is enough


@pytest.mark.parametrize(
    ("strip", "thickness", "turn", "least"),
    [(3, 3, 90 / 23, 0.19772), (3, 3, 90 / 22, 0.20638), (2, 2, 6, 0.19810)],
)
def test_smallest_slit_is_that_of_polygons_turned_into_contact(
    strip: float, thickness: float, turn: float, least: float
) -> None:
    """Slit widths (mm) found by turning polygons until they touch, to 2e-4."""
    values = {name: limits.default for name, limits in definition(SlitLattice).bounds.items()}
    values |= {"thickness": thickness, "strip": strip, "swing": turn * 10, "rows": 11}
    (rule,) = [r for r in definition(SlitLattice).rules if "strips meet" in r.why]
    assert Numbers(values)(rule.limit) == pytest.approx(least, abs=2e-4)
