"""Webs under a load: pulled, pulled aside, pushed and twisted."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from scadgen.strength import bent_web, twisted_web
from tests.strength.beam import bent
from tests.strength.compared import COMPUTED, DERIVED, Comparison, Source, compares, off, share
from tests.strength.fillet import at_fillet
from tests.strength.section import twisted

HAND = Source("worked by hand", DERIVED)


@compares("Webs under a load")
def pulled() -> Iterator[Comparison]:
    ours = bent_web.pull_stress(50, 40, 0.6)
    yield Comparison("tension, MPa", "50 N, 40 x 0.6", ours, 2.0833, share(1e-4), HAND)
    # Stress that rises evenly across the web and holds the force and its moment.
    width, offset, force = 40.0, 5.0, 50.0
    place = ((np.arange(4000) + 0.5) / 4000 - 0.5) * width
    holds = [[width, place.sum() / 100], [0.0, (place**2).sum() / 100]]
    mean, slope = np.linalg.solve(holds, [force, force * offset])
    ours, theirs = bent_web.uneven(offset, width), (mean + slope * width / 2) / (force / width)
    source = Source("stress summed over fibres (numpy)", COMPUTED)
    yield Comparison("edge/mean", "b 40, 5 beside", ours, theirs, share(1e-4), source)


@compares("Webs under a load")
def pulled_aside() -> Iterator[Comparison]:
    source = Source("beam in 400 pieces, fibres summed (numpy)", COMPUTED)
    width, thickness, length = 40.0, 0.6, 25.0
    moment = bent(length, 1, {0.0: "way turn"}, {length: 5}).greatest
    place = ((np.arange(4000) + 0.5) / 4000 - 0.5) * width
    fibre = thickness * width / 4000
    theirs = moment * width / 2 / float((place**2).sum() * fibre)
    ours = bent_web.sideways_stress(5, length, width, thickness)
    case = "5 N at 25 mm, 40 x 0.6"
    yield Comparison("bending, MPa", case, ours, theirs, share(1e-3), source)
    # V S/(I t): what the fibres beyond the middle pull more at one end of a slice than the other.
    beyond = float((place * (place > 0)).sum() * fibre)
    theirs = 5 * beyond / (float((place**2).sum() * fibre) * thickness)
    ours = bent_web.sideways_shear(5, width, thickness)
    source = Source("shear that carries the slope of bending (numpy)", COMPUTED)
    yield Comparison("greatest shear, MPa", "5 N, 40 x 0.6", ours, theirs, share(1e-3), source)
    for lever, theirs in ((3, 10), (30, 35)):
        case, ours = f"L 10, force {lever} from its middle", bent_web.from_root(lever, 10)
        yield Comparison("lever from the root, mm", case, ours, theirs, share(1e-9), HAND)


@compares("Webs under a load")
def beside_a_leaf() -> Iterator[Comparison]:
    source = Source("solid finite elements, recorded", DERIVED)
    why = "a model: one factor for all shapes"
    for leaf, web, fillet, theirs in (
        (3, 0.6, 1, 1.199),
        (3, 0.6, 0.5, 1.165),
        (3, 0.6, 2, 1.235),
        (1.5, 0.6, 0.6, 1.217),
        (6, 0.6, 1, 1.254),
        (3, 1.2, 1, 1.135),
    ):
        case, ours = f"leaf {leaf:g}, web {web:g}, fillet {fillet:g}", bent_web.at_a_leaf(1)
        yield Comparison("stress over the web's", case, ours, theirs, share(0.11), source, why)


@compares("Webs under a load")
def fillets() -> Iterator[Comparison]:
    source = Source("scikit-fem, plane, a web at the face of its leaf", COMPUTED)
    why = "a model: one line through six fillets"
    for radius in (0.1, 0.2, 0.333, 0.5, 1.0, 1.667, 4.0):
        ours, theirs = bent_web.fillet_factor(radius, 1), at_fillet(1, radius)
        case = f"r/t {radius:g}"
        yield Comparison("strain at a fillet/even", case, ours, theirs, share(0.035), source, why)


@compares("Webs under a load")
def limits_of_stability() -> Iterator[Comparison]:
    # Euler: ends that stay parallel, a half wave between them, by Rayleigh's quotient.
    x = np.linspace(0, 1, 20001)
    bend, slope = np.pi**2 * np.cos(np.pi * x) / 2, np.pi * np.sin(np.pi * x) / 2
    quotient = float(np.trapezoid(bend**2, x) / np.trapezoid(slope**2, x))
    theirs = quotient * 2000 * 40 * 0.6**3 / 12 / 10**2
    ours = bent_web.buckling_force(2000, 0.6, 40, 10)
    source = Source("Rayleigh's quotient of a half wave (numpy)", COMPUTED)
    yield Comparison("push, N", "40 x 0.6 x 10, E 2000", ours, theirs, share(1e-4), source)
    modulus, shear, thickness, width, length = 1000.0, 400.0, 0.5, 6.0, 30.0
    rigid = float(np.sqrt(modulus * shear * width**2 * thickness**6 / 36))
    ours = bent_web.tipping_force(modulus, shear, thickness, width, length, length)
    case = "E 1000, G 400, 6 x 0.5 x 30"
    source = Source("Timoshenko, Gere, art. 6.3: its equation integrated (scipy)", COMPUTED)
    theirs = _tips(length / rigid) / length
    yield Comparison("force that tips it, N", case, ours, theirs, share(1e-3), source)
    far = 1e5  # so far out a pull is a moment, and the twist a sine
    ours = bent_web.tipping_force(modulus, shear, thickness, width, length, far) * far
    case += ", by a moment"
    yield Comparison("pi k/(2 L), N mm", case, ours, np.pi * rigid / 2 / length, share(1e-3), HAND)


def _tips(softness: float) -> float:
    """Least F L of b'' + (F (L - x)/k)2 b = 0, b(0) = 0, b'(L) = 0, where L/k is the softness."""
    from scipy.integrate import solve_ivp  # type: ignore[import-untyped]
    from scipy.optimize import brentq  # type: ignore[import-untyped]

    def slope(load: float) -> float:
        """Of the twist at the loaded end, from a twist that starts with slope 1; x over L."""
        found = solve_ivp(
            lambda x, y: [y[1], -((load * softness * (1 - x)) ** 2) * y[0]],
            (0, 1),
            [0.0, 1.0],
            rtol=1e-9,
            atol=1e-12,
        )
        return float(found.y[1, -1])

    return float(brentq(slope, 1 / softness, 6 / softness))


@compares("Webs under a load")
def twisted_webs() -> Iterator[Comparison]:
    source = Source("strips side by side, each bent and twisted (numpy)", COMPUTED)
    width, length, thickness, modulus, poisson = 40.0, 10.0, 0.6, 2000.0, 0.35
    edges = np.linspace(-width / 2, width / 2, 4001)
    at, wide = (edges[1:] + edges[:-1]) / 2, np.diff(edges)
    sway = modulus * wide * thickness**3 / length**3 * at  # 12 E I/L3, leaning by 1
    bends = float((sway * at).sum())
    twists = modulus / (2 * (1 + poisson)) * width * thickness**3 / 3 / length
    ours, theirs = twisted_web.share_bent(width, length, poisson), bends / (bends + twists)
    case = "40 x 0.6 x 10, nu 0.35"
    yield Comparison("share that bends", case, ours, theirs, share(1e-3), source)
    ours = twisted_web.bending_stress(bends, width, thickness, length)
    theirs = float(sway[-1] / wide[-1]) * length / 2 / (thickness**2 / 6)
    yield Comparison("bending at the edge, MPa", case, ours, theirs, share(1e-3), source)
    source = Source("sectionproperties (finite elements)", COMPUTED)
    ours, (_, theirs) = twisted_web.shear_stress(100, 30, 0.6), twisted(30, 0.6)
    why = "a model: a bar as thin as nothing"
    yield Comparison("shear, MPa", "30 x 0.6, T 100", ours, theirs, share(0.03), source, why)
    for offset, theirs in ((30, 10), (15, 0)):
        ours, case = twisted_web.beyond(offset, 40), f"b 40, load {offset} beside"
        yield Comparison("load beyond the edge, mm", case, ours, theirs, off(1e-9), HAND)
