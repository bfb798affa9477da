"""Cones in sockets, and what clearance tilts."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from scadgen.strength import cones, tilt
from tests.strength.compared import COMPUTED, DERIVED, Comparison, Source, compares, off, share

POLYGONS = Source("polygons and sampled surfaces moved into contact, recorded", DERIVED)
STATICS = Source("statics, recorded", DERIVED)


@compares("Cones")
def play() -> Iterator[Comparison]:
    for angle, clearance, axial, radial in (
        (45, 0.30, 0.42426, 0.42426),
        (30, 0.30, 0.60000, 0.34641),
        (20, 0.25, 0.73095, 0.26604),
    ):
        case = f"half angle {angle}, c {clearance}"
        ours = cones.axial_play(clearance, angle)
        yield Comparison("axial play, mm", case, ours, axial, off(1e-3), POLYGONS)
        ours = cones.radial_play(clearance, angle)
        yield Comparison("radial play, mm", case, ours, radial, off(1e-3), POLYGONS)
        source = Source("sampled surfaces moved into contact (numpy)", COMPUTED)
        theirs = _play(np.radians(angle), clearance)
        ours = cones.axial_play(clearance, angle)
        yield Comparison("axial play, mm", case, ours, theirs, off(1e-3), source)
    ours = cones.gap_of_shift(0.4, 45)
    yield Comparison("gap of a shift, mm", "0.4 at 45", ours, 0.28284, off(1e-5), POLYGONS)
    ours = cones.radial_gap_of_shift(0.4, 30)
    yield Comparison("radial gap of a shift, mm", "0.4 at 30", ours, 0.23094, off(1e-5), POLYGONS)


def _play(angle: float, clearance: float) -> float:
    """Way of points of a cone along its axis to a socket drawn square to its flank."""
    along = np.array([np.sin(angle), np.cos(angle)])  # a flank, radius and height
    square = np.array([np.cos(angle), -np.sin(angle)])
    flank = np.linspace(2, 4, 2001)[:, None] * along
    socket = np.linspace(0, 8, 8001)[:, None] * along + clearance * square
    heights = np.interp(flank[:, 0], socket[:, 0], socket[:, 1])
    return float(abs(heights - flank[:, 1]).min())


@compares("Cones")
def tips() -> Iterator[Comparison]:
    ours = cones.tip_bending(20, 4, 45)
    yield Comparison("worst bending, MPa", "d 4, 45 deg, F 20", ours, 0.943, share(1e-3), STATICS)
    ours = cones.tip_bending(1, 1, 45)
    yield Comparison("sigma d2 tan a/F", "constant", ours, 0.75451, share(1e-4), STATICS)
    yield Comparison("shear governs above, deg", "", cones.SHEAR_GOVERNS, 30.65, off(5e-3), STATICS)
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
    ours = cones.undercut(5, 3, 0.3, 45)
    yield Comparison("undercut, mm", "r 5, neck 3, c 0.3, 45 deg", ours, 1.5757, off(1e-4), STATICS)
    ours = ours - cones.radial_play(0.3, 45)
    yield Comparison("undercut after play, mm", "the same", ours, 1.1515, off(2e-4), STATICS)
    ours = cones.rim_shear(50, 6.85, 1.5)
    yield Comparison("rim shear, MPa", "50 N, D 6.85, h 1.5", ours, 1.549, share(1e-3), STATICS)
    beam = Source("beam of 2000 pieces, bent piece by piece (numpy)", COMPUTED)
    ours, theirs = cones.ear_force(2000, 8, 3, 12, 0.5), _ear(2000, 8, 3, 12, 0.5)
    case = "ear 8 x 3 x 12, E 2000, way 0.5"
    yield Comparison("force on an ear, N", case, ours, theirs, share(2e-3), beam)
    ours = cones.arm_stress(10, 12, 8, 4)
    case = "10 N at 12 mm, arm 8 x 4"
    section = Source("stress summed over fibres (numpy)", COMPUTED)
    yield Comparison("arm corner, MPa", case, ours, _fibres(120, 8, 4), share(1e-3), section)


def _ear(modulus: float, width: float, thickness: float, length: float, way: float) -> float:
    pieces = 2000
    step = length / pieces
    middle = (np.arange(pieces) + 0.5) * step
    bend = (length - middle) / (modulus * width * thickness**3 / 12)  # under 1 N
    slope = np.cumsum(bend) * step
    return float(way / (slope.sum() * step))


def _fibres(moment: float, width: float, thickness: float) -> float:
    """Outer stress of a straight distribution whose fibres add up to the moment."""
    fibre = (np.arange(2000) + 0.5) / 2000 * thickness - thickness / 2
    area = width * thickness / 2000
    return float(moment / (fibre / (thickness / 2) * fibre * area).sum())


@compares("Tilt from clearance")
def tilts() -> Iterator[Comparison]:
    for bore, pin, length, first, long, short in (
        (5.6, 5.0, 10, 3.4336, 3.3838, 3.4931),
        (4.4, 4.0, 20, 1.1458, 1.1435, 1.1481),
    ):
        case = f"D {bore}, d {pin}, L {length}"
        for name, ours, theirs in (
            ("first order", tilt.tilt(bore, pin, length), first),
            ("long pin", tilt.tilt_of_long_pin(bore, pin, length), long),
            ("short pin", tilt.tilt_of_short_pin(bore, pin, length), short),
        ):
            yield Comparison(f"{name}, deg", case, ours, theirs, off(2e-4), POLYGONS)
    ours = tilt.tilt_of_cones(0.3, 45, 20)
    case = "c 0.3, 45 deg, 20 apart"
    yield Comparison("two cones, deg", case, ours, 2.431, off(2e-3), POLYGONS)
    ours = tilt.sway(2 * cones.radial_play(0.3, 45), 20, 60)
    yield Comparison("sway at 60 mm, mm", case, ours, 2.546, off(2e-3), POLYGONS)
    ours = tilt.sway(0.6, 30, 80)
    yield Comparison("sway at 80 mm, mm", "0.6 over 30", ours, 1.6, off(1e-9), POLYGONS)
