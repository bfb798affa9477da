"""Bent sheets: strain, radius, stiffening, torque, folds."""

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
    for thickness, length, turn, theirs in (
        (0.4, 15.70796, 90, 0.02),
        (0.6, 7.853982, 90, 0.06),
        (0.3, 0.749273, 90, 0.31447),
        (0.4, 31.416, 180, 0.02),
        (0.3, 5.8905, 90, 0.04),
    ):
        ours = bent_web.web_strain(thickness, length, turn)
        case = f"t {thickness}, L {length}, {turn} deg"
        yield Comparison("theta t/(2L)", case, ours, theirs, share(1e-4), FIBRES)
    ours = bent_web.bend_radius(15.708, 90)
    yield Comparison("radius, mm", "L 15.708, 90 deg", ours, 10, share(1e-4), FIBRES)
    land = Source("R. Cramer, PlasticsToday, Aug. 1998: land 1.5 mm long", "looked up")
    for thickness, theirs in ((0.2, 0.209), (0.4, 0.419)):
        ours = bent_web.web_strain(thickness, 1.5, 180)
        case = f"moulded land {thickness} mm, 180 deg: far past yield, so no elastic check"
        yield Comparison("theta t/(2L)", case, ours, theirs, off(5e-4), land)


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
    radius = bent_web.bend_radius(4 * np.pi, 90)
    ours = bent_web.torque(2000, 0.5, 1, radius, plate.stiffening(1e12, 0.38))
    case = "E 2000, nu 0.38, t 0.5, bent by 90 deg over 4 pi: R 8"
    yield Comparison("E t3/(12(1 - nu2)R), N", case, ours, 3.044, share(1e-3), source)


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
        ours = fold.pressed_flat(thickness, (distance - thickness) / 2)
        case = f"t {thickness}, leaves {distance - thickness:g} between the web's ends"
        yield Comparison("strain pressed flat", case, ours, theirs, share(1e-4), source)
    source = Source("scipy, integrating the elastica", COMPUTED)
    ours, theirs = 2 * fold.folded_strain(1, 2), _fold_by_steps()
    case = "fold between plates"
    yield Comparison("greatest curvature times gap", case, ours, theirs, share(1e-4), source)


def _fold_by_steps() -> float:
    """Sharpest bend of a fold of gap 1, from a plate to its nose.

    angle' = bend and bend' = cos(angle) under a force of 1: both start at nothing where the sheet
    leaves the plate, and the nose is where the angle is 90 degrees.
    """
    from scipy.integrate import solve_ivp  # type: ignore[import-untyped]

    def nose(_: float, y: Any) -> float:
        return float(y[0] - np.pi / 2)

    def motion(_: float, y: Any) -> list[float]:
        return [y[1], np.cos(y[0]), np.sin(y[0])]

    found = solve_ivp(motion, (0, 20), [0.0] * 3, events=nose, rtol=1e-11, atol=1e-12)
    _, bend, half = map(float, found.y_events[0][0])
    return bend * 2 * half
