"""What gives way under a load, and what tilts, against worked values and numerical solutions."""

from __future__ import annotations

import math

import numpy as np
import pytest

from scadgen.strength import arm, bent_web, giving, prying, torsion, twisted_web

SIDES = [(1.0, 1.0), (1.5, 1.0), (3.0, 1.0), (1.0, 4.0), (10.0, 1.0)]


@pytest.mark.parametrize(("side", "other"), SIDES)
def test_the_short_form_of_torsion_follows_the_series(side: float, other: float) -> None:
    """Timoshenko and Goodier, art. 109."""
    assert arm.torsion_constant(side, other) == pytest.approx(
        torsion.constant(side, other), rel=0.005
    )


def test_a_cantilever_bends_and_shears() -> None:
    """Timoshenko: a long one by F l3/(3 E I), one as long as it is deep by half as much again."""
    slender = giving.bar_end(1, 100, 2, 3, 1000)
    assert slender == pytest.approx(100**3 / (3 * 1000 * 3 * 2**3 / 12), rel=0.01)
    stub = giving.bar_end(1, 5, 5, 3, 1000)
    bent = 5**3 / (3 * 1000 * 3 * 5**3 / 12)
    sheared = 1.2 * 5 / (1000 / 2.8 * 15)
    assert stub == pytest.approx(bent + sheared)


def test_a_ring_gives_way_as_one_that_is_integrated() -> None:
    """Castigliano on a quarter of a thin ring: M = F R (1/pi - cos t/2), the bending alone."""
    outer, bore, width, modulus = 12.0, 11.0, 3.0, 2000.0
    radius, inertia = 5.75, width * 0.5**3 / 12
    turn = (np.arange(20000) + 0.5) * math.pi / 2 / 20000
    moment = radius * (1 / math.pi - np.cos(turn) / 2)
    unit = radius * (1 / math.pi - np.cos(turn) / 2)
    whole = 4 * float(np.mean(moment * unit)) * math.pi / 2 * radius / (modulus * inertia)
    assert giving.ring_stretches(1, outer, bore, width, modulus) == pytest.approx(whole, rel=1e-4)


def test_a_rod_between_its_loops_sags_by_a_quarter_of_a_loose_one() -> None:
    """Handbook beams: F l3/(48 E I) loose in its supports, F l3/(192 E I) built in."""
    inertia = math.pi / 64 * 5**4
    assert 4 * giving.rod_sags(10, 20, 5, 2000) == pytest.approx(10 * 20**3 / (48 * 2000 * inertia))


def test_a_deep_web_tips_at_the_force_of_the_book() -> None:
    """Timoshenko and Gere, art. 6.3: the smallest load for which the twist has no way back.

    b'' + (F (L - x))2/(E I G J) b = 0, b(0) = 0, b'(L) = 0: integrated here.
    """
    modulus, shear, thickness, width, length = 1000.0, 400.0, 0.5, 6.0, 30.0
    k = math.sqrt(modulus * shear * width**2 * thickness**6 / 36)

    def slope(force: float) -> float:
        """Of the twist at the loaded end, from a twist that starts with slope 1."""
        steps = 4000
        dx = length / steps
        twist, rate = 0.0, 1.0
        for i in range(steps):
            x = (i + 0.5) * dx
            pull = (force * (length - x) / k) ** 2
            middle = twist + rate * dx / 2
            rate -= pull * middle * dx
            twist = middle + rate * dx / 2
        return rate

    low, high = 0.0, 6 * k / length**2
    assert slope(low) > 0 > slope(high)
    for _ in range(50):
        force = (low + high) / 2
        low, high = (force, high) if slope(force) > 0 else (low, force)
    told = bent_web.tipping_force(modulus, shear, thickness, width, length, length)
    assert told == pytest.approx(low, rel=0.001)
    # Far out the pull is a moment: pi k/(2 L).
    far = 1e5
    told = bent_web.tipping_force(modulus, shear, thickness, width, length, far)
    assert told * far == pytest.approx(math.pi * k / (2 * length), rel=0.001)


def test_a_pushed_web_gives_way_as_a_column_whose_ends_keep_their_direction() -> None:
    """Euler: the sine of a half wave between ends that stay parallel, by Rayleigh's quotient."""
    x = np.linspace(0, 1, 20001)
    bend, slope = np.pi**2 * np.cos(np.pi * x) / 2, np.pi * np.sin(np.pi * x) / 2
    quotient = float(np.trapezoid(bend**2, x) / np.trapezoid(slope**2, x))
    told = bent_web.buckling_force(2000, 0.6, 40, 10)
    assert told == pytest.approx(quotient * 2000 * 40 * 0.6**3 / 12 / 100, rel=1e-4)


def test_a_twisted_web_is_bent_as_its_strips() -> None:
    """A hundred strips side by side, each a beam built in at both ends and a bar in torsion."""
    width, length, thick, modulus, poisson = 40.0, 10.0, 0.6, 2000.0, 0.35
    edges = np.linspace(-width / 2, width / 2, 4001)
    at, wide = (edges[1:] + edges[:-1]) / 2, np.diff(edges)
    lean = 0.01
    sway = 12 * modulus * wide * thick**3 / 12 / length**3 * lean * at
    bent = float((sway * at).sum())
    shear = modulus / (2 * (1 + poisson))
    twisted = shear * width * thick**3 / 3 * lean / length
    share = twisted_web.share_bent(width, length, poisson)
    assert share == pytest.approx(bent / (bent + twisted), rel=1e-3)
    most = float(sway[-1] / wide[-1]) * length / 2 / (thick**2 / 6)
    assert twisted_web.bending_stress(bent, width, thick, length) == pytest.approx(most, rel=1e-3)


def test_a_tilt_presses_at_the_ends_of_a_bearing() -> None:
    """A pressure that rises evenly from the middle, summed to the moment it holds."""
    length, moment = 8.0, 120.0
    x = (np.arange(10000) + 0.5) / 10000 * length - length / 2
    peak = prying.tilting_peak(moment, length) / length  # per length
    line = peak * x / (length / 2)
    step = length / 10000
    assert float((line * x).sum() * step) == pytest.approx(moment, rel=1e-4)
    assert float(line[x > 0].sum() * step) == pytest.approx(
        prying.tilting_half(moment, length), rel=1e-4
    )


def test_a_tilt_lifts_a_rim_by_a_cosine() -> None:
    """The load on a round rim follows the cosine; its peak, all around, is the even pull."""
    diameter, moment = 7.0, 90.0
    turn = (np.arange(3600) + 0.5) * math.tau / 3600
    peak = prying.tilting_pull(moment, diameter) / (math.pi * diameter)
    each = peak * np.cos(turn) * diameter / 2 * math.tau / 3600
    assert float((each * np.cos(turn)).sum()) * diameter / 2 == pytest.approx(moment, rel=1e-4)
