"""Torsion of rectangles."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from scadgen.strength import torsion
from tests.strength.compared import COMPUTED, DERIVED, MEMORY, Comparison, Source, compares, share
from tests.strength.compared import off as within
from tests.strength.section import twisted

TABLE = Source("Timoshenko, Goodier, Theory of Elasticity, 3rd ed. 1970, art. 109, table", MEMORY)
ROARK = Source("Young, Budynas, Roark's Formulas, 7th ed. 2002, table 10.1", MEMORY)
SECTION = Source("sectionproperties (finite elements)", COMPUTED)
#: a/b, k1, beta and alpha.
ROWS = (
    (1.0, 0.675, 0.1406, 0.208),
    (1.5, 0.848, 0.196, 0.231),
    (2.0, 0.930, 0.229, 0.246),
    (3.0, 0.985, 0.263, 0.267),
    (4.0, 0.997, 0.281, 0.282),
    (5.0, 0.999, 0.291, 0.291),
    (10.0, 1.000, 0.312, 0.312),
)


def _stress(torque: float, side: float, other: float) -> float:
    """Greatest shear stress: the strain of the turn that the torque takes, where G and L are 1."""
    turn = np.degrees(torque / torsion.constant(side, other))
    return float(torsion.shear_strain(side, other, turn, 1))


@compares("Torsion")
def factors_of_the_table() -> Iterator[Comparison]:
    for ratio, strain, stiffness, stress in ROWS:
        case = f"a/b = {ratio:g}"
        ours = torsion.stiffness_factor(ratio)
        yield Comparison("beta in J = beta a b3", case, ours, stiffness, within(6e-4), TABLE)
        ours = torsion.strain_factor(ratio)
        yield Comparison("k1 in tau = k1 G theta' b", case, ours, strain, within(6e-4), TABLE)
        ours = 1 / _stress(1, ratio, 1) / ratio
        yield Comparison("alpha in tau = T/(alpha a b2)", case, ours, stress, within(6e-4), TABLE)
    limit = Source("thin strip, limit 1/3", MEMORY)
    yield Comparison("beta", "a/b = 1e6", torsion.stiffness_factor(1e6), 1 / 3, share(1e-5), limit)


@compares("Torsion")
def sections_by_finite_elements() -> Iterator[Comparison]:
    for long, short in ((2, 2), (3, 2), (4, 2), (3, 1.2)):
        constant, stress = twisted(long, short)
        case = f"{long} x {short} mm"
        ours = torsion.constant(long, short)
        yield Comparison("J, mm4", case, ours, constant, share(2e-3), SECTION)
        ours = _stress(100, long, short)
        yield Comparison("tau, MPa, T = 100 N mm", case, ours, stress, share(0.02), SECTION)
    for long, short, constant, stress in (
        (2, 2, 2.2492, 60.05),
        (3, 2, 4.6982, 36.08),
        (4, 2, 7.3179, 25.42),
    ):
        source = Source("recorded finite-element run", DERIVED)
        ours = torsion.constant(short, long)
        yield Comparison("J, mm4", f"{short} x {long}", ours, constant, share(2e-3), source)
        ours = _stress(100, short, long)
        yield Comparison("tau, MPa", f"{short} x {long}", ours, stress, share(0.02), source)
    source = Source("recorded finite-element run", DERIVED)
    yield Comparison("J, mm4", "3 x 1.2", torsion.constant(3, 1.2), 1.2927, share(2e-3), source)


@compares("Torsion")
def closed_approximations() -> Iterator[Comparison]:
    for ratio in (1.0, 1.3, 2.0, 2.5, 4.0, 8.0, 20.0):
        case, q = f"a/b = {ratio:g}", 1 / ratio
        theirs = ratio * (1 / 3 - 0.21 * q * (1 - q**4 / 12))
        ours = torsion.constant(ratio, 1)
        yield Comparison("J, mm4, b = 1", case, ours, theirs, share(6.5e-3), ROARK)
        shape = 1 + 0.6095 * q + 0.8865 * q**2 - 1.8023 * q**3 + 0.9100 * q**4
        theirs = 3 / (8 * (ratio / 2) * 0.25) * shape
        ours = _stress(1, ratio, 1)
        yield Comparison("tau, MPa, T = 1, b = 1", case, ours, theirs, share(3e-3), ROARK)
        rough = ratio * 3 + 1.8
        source = Source("Shigley, Mechanical Engineering Design, eq. 3-40", MEMORY)
        why = "a rough formula, up to 4.4 % low near a/b = 2"
        yield Comparison("tau, rough", case, ours, rough / ratio**2, share(0.046), source, why)


@compares("Torsion")
def shear_moduli() -> Iterator[Comparison]:
    rows = ((3500, 0.36, 1286.8), (2000, 0.38, 724.6), (2200, 0.40, 785.7))
    source = Source("arithmetic by hand", DERIVED)
    for modulus, poisson, theirs in (*rows, (1300, 0.42, 457.7), (26, 0.48, 8.78)):
        ours = torsion.shear_modulus(modulus, poisson)
        case = f"E {modulus} MPa, nu {poisson}"
        yield Comparison("G = E/(2(1 + nu)), MPa", case, ours, theirs, share(1e-3), source)
