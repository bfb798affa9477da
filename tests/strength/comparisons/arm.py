"""Arms: bars that a moment bends and twists at once."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from scadgen.strength import arm, notch
from tests.strength.compared import COMPUTED, DERIVED, MEMORY, Comparison, Source, compares, share
from tests.strength.section import twisted

TABLE = Source("Timoshenko, Goodier, Theory of Elasticity, 3rd ed. 1970, art. 109, table", MEMORY)
SECTION = Source("sectionproperties (finite elements)", COMPUTED)
TURNED = Source("the force turned all around, corner by corner (numpy)", COMPUTED)
PILKEY = Source(
    "Pilkey, Peterson's Stress Concentration Factors, stepped flat bar, bending", MEMORY
)
PRINCIPAL = Source("von Mises of the principal stresses (numpy)", COMPUTED)


@compares("Arms")
def twisting() -> Iterator[Comparison]:
    # beta and alpha of the table; they have three digits.
    for ratio, beta, alpha in ((1.5, 0.196, 0.231), (3.0, 0.263, 0.267), (10.0, 0.312, 0.312)):
        case = f"{ratio:g} x 1, either way up"
        ours = arm.torsion_constant(1, ratio)
        yield Comparison("J, mm4", case, ours, beta * ratio, share(6e-3), TABLE)
        ours = arm.twisting(1, 1, ratio)
        yield Comparison("tau, MPa, T 1", case, ours, 1 / (alpha * ratio), share(6e-3), TABLE)
    for long, short in ((2, 2), (3, 2), (4, 2)):
        constant, stress = twisted(long, short)
        case = f"{long} x {short} mm"
        ours = arm.torsion_constant(long, short)
        yield Comparison("J, mm4", case, ours, constant, share(5e-3), SECTION)
        ours = arm.twisting(100, short, long)
        yield Comparison("tau, MPa, T = 100 N mm", case, ours, stress, share(0.02), SECTION)
    recorded = Source("recorded finite-element run", DERIVED)
    for side, other, theirs in ((2, 2, 0.6005), (2, 3, 0.3608), (4, 2, 0.2542)):
        ours, case = arm.twisting(1, side, other), f"{side} x {other} mm"
        yield Comparison("tau, MPa, T 1", case, ours, theirs, share(0.02), recorded)


@compares("Arms")
def bending() -> Iterator[Comparison]:
    turn = np.linspace(0, 2 * np.pi, 3601)
    for sideways, upright, pulled in ((90, 0, 0), (90, 70, 20), (40, 200, 0)):
        height, thickness = 8, 4
        flat = sideways * np.cos(turn) / (height * thickness**3 / 12) * thickness / 2
        edge = upright * np.sin(turn) / (thickness * height**3 / 12) * height / 2
        along = pulled / (thickness * height**3 / 12) * height / 2
        ours = arm.bending(sideways, upright, pulled, height, thickness)
        case = f"M {sideways} across, {upright} along, {pulled} of a pull, 8 x 4"
        theirs = float(max(abs(flat) + abs(edge)))
        yield Comparison("corner, MPa", case, ours, theirs + along, share(1e-3), TURNED)


@compares("Arms")
def together() -> Iterator[Comparison]:
    for tension, shear, weakness in ((10, 0, 1), (0, 10, 1), (9, 4, 1.5)):
        ours = arm.together(tension, shear, weakness)
        case = f"s {tension}, tau {shear}, layers 1/{weakness:g}"
        theirs = von_mises(tension, weakness * shear)
        yield Comparison("stress that counts, MPa", case, ours, theirs, share(1e-6), PRINCIPAL)
    for height, thickness in ((8, 4), (3, 6)):
        ours = arm.tilted(9, 2, 40, height, thickness, 1.5)
        bends = von_mises(9 + 40 / (thickness * height**2 / 6), 1.5 * 2)
        _, stress = twisted(max(height, thickness), min(height, thickness))
        twists = von_mises(9, 1.5 * (2 + 0.4 * stress))
        case = f"s 9, tau 2, 40 N mm beside, {height} x {thickness}"
        worst = max(bends, twists)
        yield Comparison("with a tilt, MPa", case, ours, worst, share(0.02), PRINCIPAL)


def von_mises(tension: float, shear: float) -> float:
    """Of one tension and one shear, by the principal stresses."""
    a, b, c = np.linalg.eigvalsh(np.array([[tension, shear, 0], [shear, 0, 0], [0, 0, 0]], float))
    return float(np.sqrt(((a - b) ** 2 + (b - c) ** 2 + (c - a) ** 2) / 2))


@compares("Arms")
def corners() -> Iterator[Comparison]:
    """A bar three times as deep beyond both its fillets, so that each steps by its depth."""
    why = "two fits to the same charts"
    for sharp in (5.0, 10.0, 15.0):
        case = f"depth {sharp:g} r, thrice as deep beyond"
        ours = notch.factor(1.0, sharp)
        yield Comparison(
            "Kt of a corner", case, ours, _stepped(sharp, 2 / 3), share(0.03), PILKEY, why
        )


def _stepped(sharp: float, step: float) -> float:
    """Pilkey's four terms, for steps of 2 to 20 radii; ``step``: both, over the whole depth."""
    root = math.sqrt(sharp)
    terms = (
        1.042 + 0.982 * root - 0.036 * sharp,
        -3.599 + 1.619 * root - 0.431 * sharp,
        6.084 - 5.607 * root + 1.158 * sharp,
        -2.527 + 3.006 * root - 0.691 * sharp,
    )
    return sum(term * step**k for k, term in enumerate(terms))


@compares("Arms")
def turned_ends() -> Iterator[Comparison]:
    """A bar whose ends stay parallel, its moment integrated: no turn is left at its end."""
    along = (np.arange(20000) + 0.5) / 20000
    free = float(np.mean(7.0 * (1 - along)))  # of a force of 1 at the end of a bar of 7 mm
    ours = arm.turned_end(1, 7)
    source = Source("slope integrated along the bar (numpy)", COMPUTED)
    yield Comparison("moment that keeps an end level", "F 1, l 7", ours, free, share(1e-3), source)
