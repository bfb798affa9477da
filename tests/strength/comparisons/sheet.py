"""Bent sheets: strain, length, stiffening, torque, folds, roots."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from scadgen.strength import bent_web, fold, plate
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

FIBRES = Source("lengths of fibres", DERIVED)


@compares("Bending a sheet")
def outer_strain() -> Iterator[Comparison]:
    rows: tuple[tuple[float, float, bent_web.Surface, float, float], ...] = (
        (0.4, 10, "middle", 0.02, 1e-6),
        (0.6, 5, "middle", 0.06, 1e-6),
        (1.0, 9.5, "inner", 0.05, 1e-6),
        (1.0, 2, "inner", 0.2, 1e-6),
        (0.3, 0.477, "middle", 0.31447, 1e-4),
        (1.0, 10.5, "outer", 0.05, 1e-6),
    )
    for thickness, radius, to, theirs, within in rows:
        ours = bent_web.outer_strain(thickness, radius, to)
        case = f"t {thickness}, {to} radius {radius}"
        yield Comparison("outer strain", case, ours, theirs, off(within), FIBRES)
    land = Source("R. Cramer, PlasticsToday, Aug. 1998: land 1.5 mm long", "looked up")
    for thickness, theirs in ((0.2, 0.209), (0.4, 0.419)):
        ours = bent_web.web_strain(thickness, 1.5, 180)
        case = f"moulded land {thickness} mm, 180 deg: far past yield, so no elastic check"
        yield Comparison("theta t/(2L)", case, ours, theirs, off(5e-4), land)


@compares("Bending a sheet")
def length_and_radius() -> Iterator[Comparison]:
    for formula, ours, theirs in (
        ("length, 90 deg, R 10", bent_web.bend_length(10, 90), 15.708),
        ("least length, 180 deg, t 0.4, 2 %", bent_web.least_length(0.4, 180, 0.02), 31.416),
        ("least length, 90 deg, t 0.3, 4 %", bent_web.least_length(0.3, 90, 0.04), 5.8905),
        ("least inner radius, t 0.4, 2 %", bent_web.least_radius(0.4, 0.02, "inner"), 9.8),
    ):
        name, _, case = formula.partition(", ")
        yield Comparison(f"{name}, mm", case, ours, theirs, share(1e-4), FIBRES)


@compares("Bending a sheet")
def stiffening() -> Iterator[Comparison]:
    source = Source("plate strip with free edges, Ritz with 40 Legendre terms", DERIVED)
    rows = ((0.1, 1.0), (1, 1.004), (10, 1.089), (100, 1.1232), (1000, 1.1344), (1e12, 1.1396))
    for searle, theirs in rows:
        ours = plate.stiffening(searle, 0.35)
        yield Comparison("M/(E I/R), nu 0.35", f"S = {searle:g}", ours, theirs, off(6e-4), source)
    ours = plate.stiffening(plate.searle(20, 0.5, 80), 0.35)
    case = "20 wide, t 0.5, R 80: S = 10"
    yield Comparison("M/(E I/R), nu 0.35", case, ours, 1.089, off(6e-4), source)
    for poisson, theirs in (
        (0.3, 1.0989),
        (0.35, 1.1396),
        (0.4, 1.1905),
        (0.45, 1.2539),
        (0.48, 1.2994),
    ):
        ours = plate.stiffening(1e14, poisson)
        limit = Source("1/(1 - nu2)", DERIVED)
        yield Comparison("M/(E I/R), wide", f"nu {poisson}", ours, theirs, off(1e-4), limit)
    for searle in (0.5, 5.0, 50.0):
        ours, theirs = plate.stiffening(searle, 0.4), _strip_of_plate(searle, 0.4)
        source = Source("finite differences across the strip (numpy)", COMPUTED)
        yield Comparison("M/(E I/R), nu 0.4", f"S = {searle:g}", ours, theirs, share(1e-3), source)


def _strip_of_plate(searle: float, poisson: float) -> float:
    """Least energy of a bent strip's cross section on a grid of points; width 1, thickness 1."""
    points = 801
    step = 1 / (points - 1)
    bend = np.zeros((points - 2, points))
    for k in range(points - 2):
        bend[k, k : k + 3] = np.array([1, -2, 1]) / step**2
    plate_rigidity = 1 / (12 * (1 - poisson**2))
    curvature = searle  # 1/R, for width and thickness of 1
    weights = np.full(points, step)
    weights[[0, -1]] /= 2
    # Second differences stand for one step each; the two half steps at the edges go to the outer.
    share = np.full(points - 2, step)
    share[[0, -1]] *= 1.5
    hold = plate_rigidity * bend.T @ (share[:, None] * bend) + curvature**2 * np.diag(weights)
    push = -plate_rigidity * poisson * curvature * bend.T @ share
    sway = np.linalg.solve(hold, push)
    torque = plate_rigidity * (curvature + poisson * (share * (bend @ sway)).sum())
    torque += curvature * (weights * sway**2).sum()
    return float(torque * 12 / curvature)


@compares("Bending a sheet")
def torques() -> Iterator[Comparison]:
    source = Source("worked by hand", DERIVED)
    ours = bent_web.torque_per_width(2000, 0.5, 8, 0.38)
    case = "E 2000, nu 0.38, t 0.5, R 8"
    yield Comparison("E t3/(12(1 - nu2)R), N", case, ours, 3.044, share(1e-3), source)
    length = np.pi / 2 * 8
    ours = bent_web.spring_back(2000, 0.5, length, 90, 0.38)
    case = "the same by length 4 pi and 90 deg"
    yield Comparison("spring-back torque per width, N", case, ours, 3.044, share(1e-3), source)


@compares("Bending a sheet")
def folded_flat() -> Iterator[Comparison]:
    known = Source("Matthewson, Kurkjian, Gulati, J. Am. Ceram. Soc. 69 (1986) 815", MEMORY)
    ours = fold.folded_strain(1, 2)
    yield Comparison("eps (D - t)/t", "constant", ours, 1.198, off(5e-4), known)
    source = Source("shooting, recorded", DERIVED)
    for thickness, distance, theirs in ((0.4, 8.4, 0.059907), (0.3, 3.3, 0.119814)):
        ours = fold.folded_strain(thickness, distance)
        case = f"t {thickness}, D {distance}"
        yield Comparison("folded strain", case, ours, theirs, share(1e-4), source)
    length, height, bent, force = _fold_by_steps()
    source = Source("scipy, integrating the elastica", COMPUTED)
    for name, ours, theirs in (
        ("greatest curvature times gap", 2 * fold.folded_strain(1, 2), bent),
        ("arc from contact to contact/gap", fold.fold_length(0, 1), length),
        ("height/gap", fold.fold_height(0, 1), height),
        ("force per width gap2/(E' I)", fold.fold_force(12, 1, 2, 0), force),
    ):
        yield Comparison(name, "fold between plates", ours, theirs, share(1e-4), source)


def _fold_by_steps() -> tuple[float, float, float, float]:
    """Arc, height, sharpest bend and force of a fold of gap 1, from a plate to its nose.

    angle' = bend and bend' = cos(angle) under a force of 1: both start at nothing where the sheet
    leaves the plate, and the nose is where the angle is 90 degrees.
    """
    from scipy.integrate import solve_ivp  # type: ignore[import-untyped]

    def nose(_: float, y: Any) -> float:
        return float(y[0] - np.pi / 2)

    def motion(_: float, y: Any) -> list[float]:
        return [y[1], np.cos(y[0]), np.cos(y[0]), np.sin(y[0])]

    found = solve_ivp(motion, (0, 20), [0.0] * 4, events=nose, rtol=1e-11, atol=1e-12)
    length = float(found.t_events[0][0])
    _, bend, height, half = map(float, found.y_events[0][0])
    gap = 2 * half
    return 2 * length / gap, height / gap, bend * gap, gap**2


@compares("Bending a sheet")
def roots() -> Iterator[Comparison]:
    source = Source("2-D finite elements, recorded, nu 0.35", DERIVED)
    why = "a model: interpolated between four computed points"
    for ratio, theirs in ((2, 0.24), (3, 0.33), (5, 0.38), (20, 0.41)):
        ours = plate.root_length(ratio * 0.5, 0.5) / 0.5
        case = f"leaf {ratio} webs thick"
        yield Comparison("length a root adds/t", case, ours, theirs, off(0.02), source, why)
    half_space = Source("O'Donnell, J. Appl. Mech. 27 (1960) 461", MEMORY)
    ours = plate.root_length(50, 0.5) / 0.5
    case = "very thick leaf"
    yield Comparison("length a root adds/t", case, ours, 0.44, share(0.08), half_space, why)
    thicker = plate.flexing_length(10, 2, 1) / 10, plate.flexing_length(10, 5, 1) / 10
    for ours, theirs in zip(thicker, (1.05, 1.08), strict=True):
        case = "L = 10 t, thin and thick leaf"
        yield Comparison("turn with roots/without", case, ours, theirs, share(0.005), source)
