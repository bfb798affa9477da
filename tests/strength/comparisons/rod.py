"""A rod in loops."""

from __future__ import annotations

from collections.abc import Iterator

import manifold3d
import numpy as np

from scadgen.strength import loop, rod
from tests.strength.beam import bent
from tests.strength.compared import (
    COMPUTED,
    DERIVED,
    MEMORY,
    Comparison,
    Source,
    compares,
    share,
)
from tests.strength.ring import greatest_tension, pressed
from tests.strength.section import upright_modulus

SHIGLEY = Source("Shigley, Mechanical Engineering Design, 9th-10th ed., problem 3-40", MEMORY)
ROLOFF = Source("Roloff/Matek Maschinenelemente, bolts and pins", MEMORY)
KNUCKLE = Source("knuckle-joint lecture example (Scribd 19427936)", "looked up")
HAND = Source("worked by hand, recorded", DERIVED)
BEAM = Source("beam in 400 pieces (numpy)", COMPUTED)


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
    span = {0.0: "way turn", 6.0: "way turn"}
    ours, theirs = rod.moment_held_at_sides(100, 5, 0.5), bent(6, 1, span, {3.0: 100}).greatest
    case = "built into the side loops, F 100, b 5, c 0.5"
    yield Comparison("moment, N mm", case, ours, theirs, share(1e-3), BEAM)


@compares("Rod in loops")
def rods_between_supports() -> Iterator[Comparison]:
    for near, far in ((5.0, 15.0), (9.0, 11.0)):
        held = {0.0: "way", near + far: "way"}
        case = f"a {near:g}, b {far:g}"
        ours, theirs = rod.moment_between(30, near, far), bent(20, 1, held, {near: 30}).greatest
        yield Comparison("moment of 30 N, N mm", case, ours, theirs, share(1e-3), BEAM)
        ours = rod.moment_beyond(80, near, far)
        theirs = bent(20, 1, held, {}, {near: 80}).greatest
        yield Comparison("moment left of 80 N mm", case, ours, theirs, share(1e-3), BEAM)
    # A rod as it is drawn: a circle, an octagon below.
    radius, eighth = 2.5, np.pi / 8
    flat, low = radius * np.sin(eighth), radius * np.cos(eighth)
    side = flat + radius
    clip = [(-flat, -low), (flat, -low), (side, radius - low), (side, radius)]
    clip += [(-side, radius), (-side, radius - low)]
    bar = manifold3d.CrossSection.circle(radius, 720) ^ manifold3d.CrossSection([clip])
    up = upright_modulus(bar)
    ours = rod.flat_bending_stress(90, 5)
    source = Source("polygon of the rod (manifold3d)", COMPUTED)
    yield Comparison("bending, MPa", "octagon below, d 5, M 90", ours, 90 / up, share(2e-3), source)
    ours = rod.tension(100, 4)
    yield Comparison("tension, MPa", "F 100, d 4", ours, 7.958, share(2e-4), HAND)


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
    yield Comparison(
        "hoop at the bore, MPa", case, ours, pressed(5, 9, 4.4)[0], share(1e-3), source
    )
    roark = Source("Roark's Formulas, ring case 1: a moment F R/pi", MEMORY)
    ours, theirs = loop.thick_ring_stress(1, 20, 19.6, 1), 6 * 0.31831 * 9.9 / 0.2**2
    yield Comparison("ring, MPa", "thin: 1 N, D 20, d 19.6", ours, theirs, share(0.01), roark)
    theirs = 6 * _ring_by_energy() * 9.9 / 0.2**2
    source = Source("least energy of a ring (numpy)", COMPUTED)
    yield Comparison("ring, MPa", "thin: 1 N, D 20, d 19.6", ours, theirs, share(0.01), source)
    plane = Source("plane finite elements (numpy), pressed over 6 deg each way", COMPUTED)
    why = "a model: Winkler's curved bar, pulled at a line"
    for outer, bore in ((9.0, 8.2), (9.0, 6.0), (9.0, 4.4)):
        ours, theirs = loop.thick_ring_stress(1, outer, bore, 1), greatest_tension(outer, bore, 6)
        case = f"1 N, D {outer:g}, d {bore:g}"
        yield Comparison("ring, MPa", case, ours, theirs, share(0.09), plane, why)


def _ring_by_energy() -> float:
    """Moment of a quarter ring at the load that leaves its section unturned, F = R = 1."""
    angle = np.linspace(0, np.pi / 2, 100001)
    return float(np.trapezoid(np.sin(angle) / 2, angle) / (np.pi / 2))
