"""Cones in sockets."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from scadgen.strength import cones
from tests.strength.compared import COMPUTED, DERIVED, Comparison, Source, compares, share

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
    ours = cones.rim_shear(50, 6.85, 1.5)
    yield Comparison("rim shear, MPa", "50 N, D 6.85, h 1.5", ours, 1.549, share(1e-3), STATICS)
