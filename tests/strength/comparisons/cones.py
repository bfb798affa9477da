"""Cones in sockets."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from scadgen.strength import cones
from tests.strength.compared import COMPUTED, DERIVED, Comparison, Source, compares, share
from tests.strength.ring import pressed

STATICS = Source("statics, recorded", DERIVED)


@compares("Cones")
def tips() -> Iterator[Comparison]:
    ours = cones.tip_bending(20, 4, 45)
    yield Comparison("worst bending, MPa", "d 4, 45 deg, F 20", ours, 0.943, share(1e-3), STATICS)
    ours = cones.tip_bending(1, 1, 45)
    yield Comparison("sigma d2 tan a/F", "constant", ours, 0.75451, share(1e-4), STATICS)
    source = Source("scipy, searching the worst section", COMPUTED)
    for diameter, angle in ((4.0, 15.0), (3.0, 25.0), (5.0, 45.0)):
        place, stress = _worst(diameter, np.radians(angle))
        case = f"d {diameter}, {angle} deg, F 20"
        ours = cones.tip_bending(20, diameter, angle)
        yield Comparison("worst bending, MPa", case, ours, 20 * stress, share(1e-3), source)
        ours = cones.worst_distance(diameter, angle)
        yield Comparison("worst section at, mm", case, ours, place, share(1e-3), source)


@compares("Cones")
def necks() -> Iterator[Comparison]:
    source = Source("places tried one by one (numpy)", COMPUTED)
    for diameter, straight, flare in ((4.0, 0.3, 2.0), (4.0, 2.0, 1.0), (5.0, 0.0, 3.0)):
        ours = cones.neck_bending(20, diameter, 45, straight, flare)
        theirs = 20 * _worst_of_neck(diameter, straight, flare)
        case = f"d {diameter:g}, straight {straight:g}, flare {flare:g}, 45 deg, F 20"
        yield Comparison("worst bending, MPa", case, ours, theirs, share(1e-3), source)
    ours = cones.tip_shear(20, 4)
    yield Comparison("mean shear, MPa", "d 4, F 20", ours, 1.5915, share(1e-4), STATICS)


def _worst_of_neck(diameter: float, straight: float, flare: float) -> float:
    """Greatest bending under a force of 1 in a neck that grows by 2 mm per mm beyond a length."""
    place = np.linspace(0, straight + flare, 100001)
    there = diameter + 2 * np.maximum(place - straight, 0)
    return float((place * there / 2 / (np.pi / 64 * there**4)).max())


def _worst(diameter: float, angle: float) -> tuple[float, float]:
    """Where a cone bends most under a force of 1, and how much: moment over section modulus."""
    from scipy.optimize import minimize_scalar  # type: ignore[import-untyped]

    def less(x: float) -> float:
        radius = diameter / 2 + x * np.tan(angle)
        return float(-x * radius / (np.pi / 4 * radius**4))

    found = minimize_scalar(
        less, bounds=(0, 20 * diameter), method="bounded", options={"xatol": 1e-9}
    )
    return float(found.x), float(-found.fun)


@compares("Cones")
def loads() -> Iterator[Comparison]:
    for case, angle, friction, theirs in (
        ("45 deg, frictionless", 45, 0, 20),
        ("45 deg, mu 0.25", 45, 0.25, 12.0),
        ("30 deg, mu 0.25", 30, 0.25, 5.72),
    ):
        ours = cones.thrust(20, angle, friction)
        yield Comparison("thrust of 20 N, N", case, ours, theirs, share(1e-3), STATICS)
    ours = cones.ring_tension(50, 45)
    yield Comparison("ring tension of 50 N, N", "45 deg", ours, 7.958, share(1e-3), STATICS)
    ours, case = cones.socket_hoop(50, 45, 9, 4.4, 5), "50 N, 45 deg, D 9, d 4.4, h 5"
    theirs, _ = pressed(7.958 / (2.2 * 5), 9, 4.4)
    source = Source("scipy, the ring's boundary-value problem", COMPUTED)
    yield Comparison("socket splits, MPa", case, ours, theirs, share(1e-3), source)
    ours = cones.rim_shear(50, 6.85, 1.5)
    yield Comparison("rim shear, MPa", "50 N, D 6.85, h 1.5", ours, 1.549, share(1e-3), STATICS)
