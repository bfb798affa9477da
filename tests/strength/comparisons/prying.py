"""What a lever makes of a load, and what a moment does to a bearing."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from scadgen.strength import prying
from tests.strength.compared import COMPUTED, DERIVED, Comparison, Source, compares, off, share

BALANCE = Source("forces and moments in balance, solved (numpy)", COMPUTED)
PRESSED = Source("a pressure that rises evenly from the middle, summed (numpy)", COMPUTED)
RIM = Source("a load around a rim by the cosine, summed (numpy)", COMPUTED)
HAND = Source("worked by hand", DERIVED)


@compares("Prying and tilting")
def levers() -> Iterator[Comparison]:
    for load, lever, heel in ((10, 60, 6), (3, 20, 8)):
        # Unknown: forces at the axis and at the heel; a moving part at rest turns nowhere.
        axis, _ = np.linalg.solve([[1, 1], [0, heel]], [-load, -load * lever])
        case = f"F {load}, L {lever}, heel {heel}"
        ours = prying.bearing_force(load, lever, heel)
        yield Comparison("force on the bearing, N", case, ours, abs(axis), share(1e-9), BALANCE)
        ours = prying.leaf_moment(load, lever, heel)
        theirs = load * (lever - heel)
        yield Comparison("moment where it leans, N mm", case, ours, theirs, share(1e-9), HAND)
        # A web pulls along itself; the load turns about where the leaves touch.
        ours = prying.web_pull(load, lever, heel)
        theirs = np.linalg.solve([[heel]], [load * lever])[0]
        yield Comparison("pull in a web, N", case, ours, theirs, share(1e-9), BALANCE)
    for name, ours, theirs in (
        ("force on the bearing, N", prying.bearing_force(10, 0, 6), 10),
        ("pull in a web, N", prying.web_pull(10, 0, 6), 10),
    ):
        yield Comparison(name, "F 10 at the axis", ours, theirs, share(1e-9), HAND)
    ours = prying.leaf_moment(10, 4, 6)
    yield Comparison("moment where it leans", "F 10 within its heel", ours, 0, off(1e-9), HAND)


@compares("Prying and tilting")
def places() -> Iterator[Comparison]:
    source = Source("a stiff leaf let down on uneven knuckles (scipy, linear programme)", COMPUTED)
    rise = np.array([0.01, 0.05, 0.02, 0.04, 0.0])
    for count in (2, 3, 5):
        ours, theirs = prying.bearing_places(count), _touching(rise[:count])
        yield Comparison("knuckles that bear", f"of {count}", ours, theirs, off(0.5), source)
    yield Comparison("knuckles that bear", "of 1", prying.bearing_places(1), 1, off(0.5), HAND)


def _touching(rise: np.ndarray) -> int:
    """How many knuckles, 1 apart and so high, a loaded straight leaf touches: it lies lowest."""
    from scipy.optimize import linprog  # type: ignore[import-untyped]

    place = np.arange(len(rise)) - (len(rise) - 1) / 2
    found = linprog(
        [1, 0.1],  # height in the middle; the load acts a little beside it
        A_ub=-np.stack([np.ones(len(rise)), place], axis=1),
        b_ub=-rise,
        bounds=[(None, None)] * 2,
    )
    return int((found.slack < 1e-9).sum())


@compares("Prying and tilting")
def tilts() -> Iterator[Comparison]:
    force, _ = np.linalg.solve([[1, 1], [6, -6]], [0, 120])
    ours = prying.tilting_force(120, 12)
    yield Comparison("force on two places, N", "M 120, 12 apart", ours, force, share(1e-9), BALANCE)
    length, step = 8.0, 8.0 / 10000
    x = (np.arange(10000) + 0.5) * step - length / 2
    line = 120 * x / float((x * x).sum() * step)  # force per length that holds the moment
    ours, case = prying.tilting_peak(120, length), "M 120, l 8"
    theirs = float(line.max()) * length
    yield Comparison("even force as hard, N", case, ours, theirs, share(1e-3), PRESSED)
    ours, theirs = prying.tilting_half(120, length), float(line[x > 0].sum() * step)
    yield Comparison("force on half of it, N", case, ours, theirs, share(1e-3), PRESSED)
    diameter, moment = 7.0, 90.0
    turn = (np.arange(3600) + 0.5) * 2 * np.pi / 3600
    arc = diameter / 2 * 2 * np.pi / 3600
    held = float((np.cos(turn) * arc * np.cos(turn) * diameter / 2).sum())
    theirs = moment / held * np.pi * diameter
    ours, case = prying.tilting_pull(moment, diameter), "M 90, d 7"
    yield Comparison("even pull as hard, N", case, ours, theirs, share(1e-4), RIM)
