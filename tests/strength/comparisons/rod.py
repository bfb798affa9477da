"""A rod in loops."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from scadgen.strength import loop, rod
from tests.strength.compared import (
    COMPUTED,
    DERIVED,
    MEMORY,
    Comparison,
    Source,
    compares,
    share,
)

SHIGLEY = Source("Shigley, Mechanical Engineering Design, 9th-10th ed., problem 3-40", MEMORY)
ROLOFF = Source("Roloff/Matek Maschinenelemente, bolts and pins", MEMORY)
KNUCKLE = Source("knuckle-joint lecture example (Scribd 19427936)", "looked up")
HAND = Source("worked by hand, recorded", DERIVED)


@compares("Rod in loops")
def published_rods() -> Iterator[Comparison]:
    # The book's rod is loose in all its loops: its moments are the book's, by hand.
    for case, force, diameter, moments, bending, shear in (
        ("d .5 in, 1000 lbf, psi", 1000, 0.5, (218.75, 312.5), (17825, 25465), 3395),
        ("d 12 mm, 4 kN, MPa", 4000, 12, (15000, 24000), (88.42, 141.47), 23.58),
    ):
        for loads, moment, theirs in zip(("uniform", "point"), moments, bending, strict=True):
            ours = rod.bending_stress(moment, diameter)
            name = f"bending, {loads} loads"
            yield Comparison(name, f"M {moment}, {case}", ours, theirs, share(1e-3), SHIGLEY)
        ours = rod.ROUND_PEAK * rod.double_shear(force, diameter)
        yield Comparison("peak shear", case, ours, shear, share(1e-3), SHIGLEY)
    ours = rod.moment_held_at_sides(100, 5)
    case = "built into the side loops, F 100, b 5"
    yield Comparison("moment, N mm", case, ours, 62.5, share(1e-6), ROLOFF)


@compares("Rod in loops")
def stresses() -> Iterator[Comparison]:
    double = rod.double_shear(100, 4)
    for name, ours, theirs in (
        ("single shear", 2 * double, 7.958),
        ("double shear", double, 3.979),
        ("peak of double shear", rod.ROUND_PEAK * double, 5.305),
        ("bearing, b 5", rod.bearing(100, 4, 5), 5.0),
    ):
        yield Comparison(f"{name}, MPa", "F 100, d 4", ours, theirs, share(2e-4), HAND)
    case = "15 kN, d 16, D 32, eye 20 mm"
    edge = loop.edge(32, 16)
    for name, ours, theirs in (
        ("crushing of the eye", rod.bearing(15000, 16, 20), 46.88),
        ("eye shear-out", loop.tear_out(15000, edge, 20), 46.88),
        ("rod of 12.61 in double shear", rod.double_shear(15000, 12.61), 60.0),
    ):
        yield Comparison(f"{name}, MPa", case, ours, theirs, share(2e-3), KNUCKLE)


@compares("Rod in loops")
def thick_rings() -> Iterator[Comparison]:
    ours, case = loop.hoop_at_bore(5, 9, 4.4), "ri 2.2, ro 4.5, q 5"
    lame = Source("Lame, recorded against a boundary-value problem", DERIVED)
    yield Comparison("hoop at the bore, MPa", case, ours, 8.1409, share(1e-4), lame)
    source = Source("scipy, the ring's boundary-value problem", COMPUTED)
    yield Comparison("hoop at the bore, MPa", case, ours, _ring(), share(1e-3), source)


def _ring() -> float:
    """Hoop stress at the bore of a thick ring: (r sr)' = st, and (sr + st)' = 0."""
    from scipy.integrate import solve_bvp  # type: ignore[import-untyped]

    motion: Callable[..., object] = lambda r, y: np.vstack([(y[1] - y[0]) / r, (y[0] - y[1]) / r])  # noqa: E731
    grid = np.linspace(2.2, 4.5, 101)
    found = solve_bvp(
        motion, lambda a, b: np.array([a[0] + 5, b[0]]), grid, np.ones((2, 101)), tol=1e-8
    )
    return float(found.y[1, 0])
