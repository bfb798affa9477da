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
    off,
    share,
)

SHIGLEY = Source("Shigley, Mechanical Engineering Design, 9th-10th ed., problem 3-40", MEMORY)
ROLOFF = Source("Roloff/Matek Maschinenelemente, bolts and pins", MEMORY)
KNUCKLE = Source("knuckle-joint lecture example (Scribd 19427936)", "looked up")
HAND = Source("worked by hand, recorded", DERIVED)


@compares("Rod in loops")
def published_rods() -> Iterator[Comparison]:
    for case, force, side, middle, diameter, uniform, points, shear in (
        ("a .5, b .75, d .5 in, 1000 lbf, psi", 1000, 0.5, 0.75, 0.5, 17825, 25465, 3395),
        ("a 6, b 18, d 12 mm, 4 kN, MPa", 4000, 6, 18, 12, 88.42, 141.47, 23.58),
    ):
        moment = rod.loose_moment(force, middle, side)
        ours = rod.bending_stress(moment, diameter)
        yield Comparison("bending, uniform loads", case, ours, uniform, share(1e-3), SHIGLEY)
        moment = rod.point_moment(force, middle, side)
        ours = rod.bending_stress(moment, diameter)
        yield Comparison("bending, point loads", case, ours, points, share(1e-3), SHIGLEY)
        ours = rod.ROUND_PEAK * rod.double_shear(force, diameter)
        yield Comparison("peak shear", case, ours, shear, share(1e-3), SHIGLEY)
    ours = rod.loose_moment(1000, 0.75, 0.5)
    yield Comparison("moment, lbf in", "the inch case", ours, 218.75, share(1e-4), SHIGLEY)
    ours = rod.point_moment(1000, 0.75, 0.5)
    yield Comparison(
        "moment, point loads, lbf in", "the inch case", ours, 312.5, share(1e-4), SHIGLEY
    )


@compares("Rod in loops")
def moments() -> Iterator[Comparison]:
    case = "F 100, a 4, b 5"
    for name, ours, theirs, source in (
        ("loose, gap 0.4", rod.loose_moment(100, 5, 4, 0.4), 182.5, HAND),
        ("loose, no gap", rod.loose_moment(100, 5, 4), 162.5, ROLOFF),
        ("built into the side loops", rod.moment_held_at_sides(100, 5), 62.5, ROLOFF),
        ("built into the middle loop", rod.moment_held_in_middle(100, 4), 100, ROLOFF),
    ):
        yield Comparison(f"moment {name}, N mm", case, ours, theirs, share(1e-6), source)
    source = Source("load integrated twice along the rod (numpy)", COMPUTED)
    for middle, side, gap in ((5.0, 4.0, 0.4), (9.0, 3.0, 0.6)):
        ours = rod.loose_moment(100, middle, side, gap)
        case = f"F 100, a {side}, b {middle}, c {gap}"
        theirs = _greatest_moment(100, middle, side, gap)
        yield Comparison("moment loose, N mm", case, ours, theirs, share(1e-3), source)


def _greatest_moment(force: float, middle: float, side: float, gap: float) -> float:
    whole = 2 * side + 2 * gap + middle
    z = np.linspace(0, whole, 200001)
    inner = abs(z - whole / 2) <= middle / 2
    outer = (z <= side) | (z >= whole - side)
    load = np.where(outer, force / 2 / side, 0.0) - np.where(inner, force / middle, 0.0)
    shear = np.cumsum(load) * (z[1] - z[0])
    return float(abs(np.cumsum(shear) * (z[1] - z[0])).max())


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
        ("eye tension", loop.net_section(15000, 32, 16, 20), 46.88),
        ("crushing of the eye", rod.bearing(15000, 16, 20), 46.88),
        ("eye shear-out", loop.tear_out(15000, edge, 20), 46.88),
        ("rod of 12.61 in double shear", rod.double_shear(15000, 12.61), 60.0),
    ):
        yield Comparison(f"{name}, MPa", case, ours, theirs, share(2e-3), KNUCKLE)


@compares("Rod in loops")
def loops() -> Iterator[Comparison]:
    ours = loop.net_section(60, 9, 4.4, 5)
    yield Comparison("net section, MPa", "60 N, D 9, d 4.4, b 5", ours, 2.609, share(1e-3), HAND)
    planes = Source("Bruhn, Flight Vehicle Structures, ch. D1; AFFDL-TR-69-42 ch. 9", MEMORY)
    ours = loop.edge_at_planes(9, 4.4)
    yield Comparison("tear-out edge, 40 deg, mm", "R 4.5, r 2.2", ours, 2.5867, off(1e-4), planes)
    yield Comparison(
        "tear-out edge, short, mm", "R 4.5, r 2.2", loop.edge(9, 4.4), 2.3, off(1e-9), HAND
    )
    roark = Source("Roark's Formulas, ring case 1", MEMORY)
    case = "thin ring, F 1, mean R 1"
    yield Comparison(
        "moment at the load", case, loop.ring_moment(1, 2, 2), 0.31831, share(1e-4), roark
    )
    yield Comparison("moment at the side", case, loop.RING_SIDE, 0.18169, share(1e-4), roark)
    at_load, at_side = _ring_by_energy()
    source = Source("least energy of a ring (numpy)", COMPUTED)
    yield Comparison(
        "moment at the load", case, loop.ring_moment(1, 2, 2), at_load, share(1e-4), source
    )
    yield Comparison("moment at the side", case, loop.RING_SIDE, at_side, share(1e-4), source)


def _ring_by_energy() -> tuple[float, float]:
    """Moments in a quarter ring: the one at the load that leaves its section unturned."""
    angle = np.linspace(0, np.pi / 2, 100001)
    shape = np.sin(angle) / 2  # moment of half the load, F = R = 1
    at_load = np.trapezoid(shape, angle) / (np.pi / 2)
    return float(at_load), float(abs(at_load - 0.5))


@compares("Rod in loops")
def thick_rings() -> Iterator[Comparison]:
    case = "ri 2.2, ro 4.5, q 5"
    ours = loop.hoop_at_bore(5, 9, 4.4), loop.hoop_outside(5, 9, 4.4)
    lame = Source("Lame, recorded against a boundary-value problem", DERIVED)
    for name, mine, theirs in zip(("at the bore", "outside"), ours, (8.1409, 3.1409), strict=True):
        yield Comparison(f"hoop {name}, MPa", case, mine, theirs, share(1e-4), lame)
    source = Source("scipy, the ring's boundary-value problem", COMPUTED)
    for name, mine, theirs in zip(("at the bore", "outside"), ours, _ring(), strict=True):
        yield Comparison(f"hoop {name}, MPa", case, mine, theirs, share(1e-3), source)


def _ring() -> tuple[float, float]:
    """Hoop stress of a thick ring: (r sr)' = st, and (sr + st)' = 0."""
    from scipy.integrate import solve_bvp  # type: ignore[import-untyped]

    motion: Callable[..., object] = lambda r, y: np.vstack([(y[1] - y[0]) / r, (y[0] - y[1]) / r])  # noqa: E731
    grid = np.linspace(2.2, 4.5, 101)
    found = solve_bvp(
        motion, lambda a, b: np.array([a[0] + 5, b[0]]), grid, np.ones((2, 101)), tol=1e-8
    )
    return float(found.y[1, 0]), float(found.y[1, -1])
