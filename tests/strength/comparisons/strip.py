"""A strip held at one end: large and small bending."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from scadgen.strength import elastica, leaf
from tests.strength.compared import COMPUTED, MEMORY, Comparison, Source, compares, off, share

PAPER = Source("Bisshopp, Drucker, Quart. Appl. Math. 3 (1945) 272 (paper looked up)", MEMORY)
SCIPY = Source("scipy, the boundary-value problem of the elastica", COMPUTED)


@compares("A strip held at one end")
def published_deflections() -> Iterator[Comparison]:
    for load, *theirs in (
        (1, 0.30172, 0.05643, 0.46135),
        (2, 0.49346, 0.16064, 0.78175),
        (10, 0.81061, 0.55500, 1.43029),
    ):
        across, shorter, slope = elastica.end_load(load)
        ours = (across, shorter, np.radians(slope))
        for name, mine, other in zip(
            ("deflection/L", "shortening/L", "end slope, rad"), ours, theirs, strict=True
        ):
            yield Comparison(name, f"P L2/(E I) = {load}", mine, other, off(2e-5), PAPER)


@compares("A strip held at one end")
def by_scipy() -> Iterator[Comparison]:
    for load in (0.3, 4.0):
        across, along, slope = _elastica(load)
        ours = elastica.end_load(load)
        for name, mine, theirs in zip(
            ("deflection/L", "shortening/L", "end slope, deg"),
            ours,
            (across, 1 - along, np.degrees(slope)),
            strict=True,
        ):
            yield Comparison(name, f"P L2/(E I) = {load}", mine, theirs, share(1e-4), SCIPY)
    for load, within, why in (
        (0.1, 0.02, ""),
        (1.0, 0.12, "a model: small deflections, 10 % high at 0.3 of the length"),
    ):
        # E b t3/12 = 1 and L = 1, so that the force is the load.
        ours = leaf.deflection(load, 1, 12, 1, 1)
        theirs = _elastica(load)[0]
        case = f"P L2/(E I) = {load}"
        yield Comparison("4 F L3/(E b t3), over L", case, ours, theirs, share(within), SCIPY, why)


def _elastica(load: float) -> tuple[float, float, float]:
    """Across, along and slope at the end: angle'' = -load cos(angle), held at 0, bend free at 1."""
    from scipy.integrate import solve_bvp  # type: ignore[import-untyped]

    grid = np.linspace(0, 1, 201)
    start = np.zeros((4, grid.size))
    found = solve_bvp(
        lambda s, y: np.vstack([y[1], -load * np.cos(y[0]), np.cos(y[0]), np.sin(y[0])]),
        lambda a, b: np.array([a[0], b[1], a[2], a[3]]),
        grid,
        start,
        tol=1e-8,
    )
    slope, _, along, across = found.y[:, -1]
    return float(across), float(along), float(slope)


@compares("A strip held at one end")
def pure_moment() -> Iterator[Comparison]:
    along, across = elastica.end_moment(np.degrees(0.5))
    source = Source("an arc of a circle, drawn", "derived, second method")
    case = "M L/(E I) = 0.5, L 3"
    yield Comparison("end along, mm", case, 3 * along, 2.87655, off(1e-5), source)
    yield Comparison("end across, mm", case, 3 * across, 0.73450, off(1e-5), source)


@compares("A strip held at one end")
def snaps_and_leaves() -> Iterator[Comparison]:
    source = Source("snap-fit manuals of plastics makers, public tool page", "looked up")
    ours = leaf.snap_strain(2, 1, 12)
    yield Comparison("1.5 h y/L2", "h 2, y 1, L 12", ours, 0.020833, share(1e-4), source)
    # The same snap by stress over modulus: the force that bends it so far, then 6 F L/(b h2).
    force = 1 / leaf.deflection(1, 12, 5, 2, 2000)
    ours = leaf.bending_stress(force, 12, 5, 2) / 2000
    case = "h 2, y 1, L 12, through the force"
    yield Comparison("6 F L/(b t2 E)", case, ours, 0.020833, share(1e-4), source)
