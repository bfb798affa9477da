"""Snap-fit catches."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from scadgen.strength import catch
from tests.strength.compared import COMPUTED, DERIVED, MEMORY, Comparison, Source, compares, share

GUIDE = Source("Bayer, Snap-Fit Joints for Plastics, calculation example I", MEMORY)
#: Of that example: a polycarbonate hook of one width, b 9.5, l 19, bent by 2.4 mm, E 1815 MPa.
WIDTH, LENGTH, DEFLECTION, MODULUS = 9.5, 19.0, 2.4, 1815.0
STRAIN, THICKNESS = 0.02, 3.28


@compares("Snap-fit catches")
def worked_example() -> Iterator[Comparison]:
    case = "polycarbonate hook, 3.28 x 9.5 x 19"
    ours = catch.deflection_force(STRAIN, WIDTH, THICKNESS, LENGTH, MODULUS)
    yield Comparison("force that bends the arm, N", case, ours, 32.5, share(0.005), GUIDE)
    case = "the same, friction 0.6, slope 30 degrees"
    pushed = catch.closing_force(ours, 30)
    yield Comparison("force that closes it, N", case, pushed, 58.5, share(0.01), GUIDE)
    ours = catch.sliding_force(1, catch.MOST_FRICTION, 30)
    yield Comparison("its factor", "friction 0.6, slope 30 degrees", ours, 1.8, share(0.005), GUIDE)
    # The guide gives an arm of one thickness a deflection of 0.67 e l2/h.
    allowed = 0.67 * STRAIN * LENGTH**2 / THICKNESS
    ours = catch.snap_strain(THICKNESS, allowed, LENGTH)
    words = Source("Bayer, Snap-Fit Joints for Plastics, table of shapes: 0.67 e l2/h", MEMORY)
    yield Comparison("strain of the arm", "bent by 0.67 e l2/h", ours, STRAIN, share(0.006), words)


@compares("Snap-fit catches")
def bending() -> Iterator[Comparison]:
    """A cantilever by integrating its curvature along the length."""
    x = (np.arange(20_000) + 0.5) / 20_000 * LENGTH
    inertia = WIDTH * THICKNESS**3 / 12
    curved = 10.0 * (LENGTH - x) / (MODULUS * inertia)
    sagged = float(np.sum(curved * (LENGTH - x)) * LENGTH / 20_000)
    source = Source("curvature of a cantilever summed along it (numpy)", COMPUTED)
    case = "10 N at its end"
    ours, root = catch.snap_strain(THICKNESS, sagged, LENGTH), float(curved[0]) * THICKNESS / 2
    yield Comparison("strain at the root", case, ours, root, share(1e-3), source)
    ours = catch.deflection_force(ours, WIDTH, THICKNESS, LENGTH, MODULUS)
    yield Comparison("force at the end, N", case, ours, 10, share(1e-3), source)
    ours, turn = catch.end_slope(sagged, LENGTH), float(curved[0]) * LENGTH
    yield Comparison("its root's curvature times its length", case, ours, turn, share(1e-3), source)


@compares("Snap-fit catches")
def twisting() -> Iterator[Comparison]:
    """A thin strip pushed beside its middle gives way by bending and by twisting, in a row."""
    aside, shear = 4.0, MODULUS / 2.6
    bends = LENGTH**3 / (3 * MODULUS * WIDTH * THICKNESS**3 / 12)
    twists = aside**2 * LENGTH / (shear * WIDTH * THICKNESS**3 / 3)
    source = Source("two springs in a row, worked by hand", DERIVED)
    ours = catch.twisting_share(aside, LENGTH, 2.6)
    case, theirs = "pushed 4 mm beside the middle", bends / (bends + twists)
    yield Comparison("share of the force left", case, ours, theirs, share(1e-6), source)


@compares("Snap-fit catches")
def sliding() -> Iterator[Comparison]:
    """A block on a slope: forces along and square to the face, resolved as vectors."""
    source = Source("forces on a block on a slope, solved as vectors (numpy)", COMPUTED)
    for friction, angle, ours in (
        (catch.LEAST_FRICTION, 45.0, catch.holding_force(10 / catch.POSTED, 45.0)),
        (catch.LEAST_FRICTION, catch.STEEPEST_HOLD, catch.holding_force(10 / catch.POSTED, 85.0)),
        (catch.MOST_FRICTION, 35.0, catch.closing_force(10, 35.0)),
    ):
        lean = np.radians(angle)
        square = np.array([np.cos(lean), np.sin(lean)])
        aside, along = square + friction * np.array([-square[1], square[0]])
        case, theirs = f"friction {friction:g}, slope {angle:g} degrees", 10 * along / aside
        yield Comparison("force along the way, N", case, ours, theirs, share(1e-9), source)
    # Where friction locks, nothing is left of the force aside.
    lean = np.radians(catch.locked_from(catch.MOST_FRICTION))
    aside = float(np.cos(lean) - catch.MOST_FRICTION * np.sin(lean))
    case = "friction 0.6: force aside where it locks"
    yield Comparison("share of the force", case, 1 + aside, 1.0, share(1e-9), source)


@compares("Snap-fit catches")
def sections() -> Iterator[Comparison]:
    source = Source("stress summed over fibres (numpy)", COMPUTED)
    fibre = (np.arange(2000) + 0.5) / 2000 * 2 - 1
    inertia = 8 * 2**3 / 12
    theirs = 10 / (8 * 2) + 10 * (1.8 + 0.8) * 1 / inertia
    assert abs(np.mean(fibre * fibre) * 2 * 8 - inertia) < 1e-3 * inertia
    ours = catch.hook_stress(10, 8, 2, 1.8, 0.8)
    case = "10 N, foot 8 x 2, 1.8 aside and 0.8 above"
    yield Comparison("hook in tension and bending, MPa", case, ours, theirs, share(1e-3), source)
    theirs = 10 / (8 * 2) * float(np.max(1 - fibre**2) / np.mean(1 - fibre**2))
    ours = catch.ledge_shear(10, 8, 2)
    case = "10 N, root 8 x 2"
    yield Comparison("greatest shear in a ledge, MPa", case, ours, theirs, share(1e-3), source)
