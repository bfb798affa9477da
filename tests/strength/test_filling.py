"""Sections as they print: what is thin, how solid a fleet prints, and what a proof takes."""

from __future__ import annotations

import dataclasses
import itertools
import math

import manifold3d
import pytest

import scadgen
from scadgen import check
from scadgen.hinge.family import Hinge
from scadgen.proof.fleet.population import CAREFUL, ROUGH, Shares
from scadgen.strength.duty import Duty
from scadgen.strength.filling import IN_WALLS, Filling, in_bending, in_tension, round_bar
from scadgen.strength.materials import material
from tests.strength.section import inertia
from tests.support import each_family, some_hinges

WEAK = Filling(2, 0.1, 0.45)


def test_a_round_bar_bears_no_more_than_its_wall_and_core_in_bending() -> None:
    disc = manifold3d.CrossSection.circle(2.5, 256)
    core = disc.offset(-WEAK.shell, manifold3d.JoinType.Round)
    assert round_bar(5.0).share(WEAK) < 1 - 0.9 * inertia(core) / inertia(disc)


def test_what_is_thin_is_all_walls() -> None:
    assert in_bending(1.8, 40).share(WEAK) == 1
    assert in_tension(2 * WEAK.shell).share(WEAK) == 1
    assert IN_WALLS.share(WEAK) == 1
    assert in_bending(20).share(None) == 1


def test_the_weakest_of_the_printers_that_are_needed() -> None:
    """By hand: of 100, 5 print solid, 10 at 40 %, 35 at 20 %, 35 at 15 %, 15 at 10 %."""
    shares = Shares((10, 15, 20, 40, 100), (15, 35, 35, 10, 5), "invented")
    for needed, value in ((0.05, 100), (0.06, 40), (0.5, 20), (0.85, 15), (0.86, 10), (1.0, 10)):
        assert shares.reached(needed) == value
    assert ROUGH.filling(0.42) == Filling(2, 0.1, 0.42)
    easy = dataclasses.replace(CAREFUL, needed=50.0)
    assert easy.filling(0.42).infill == 0.2
    assert "assumed" in ROUGH.walls.source


@each_family
def test_more_walls_and_more_infill_never_bear_less(cls: type[Hinge]) -> None:
    steps = [
        Filling(1, 0.05, 0.4),
        WEAK,
        Filling(3, 0.1, 0.45),
        Filling(3, 0.4, 0.45),
        Filling(3, 1, 1),
    ]
    for hinge in some_hinges(cls, 4):
        factors = []
        for filling in steps:
            plastic = dataclasses.replace(material("petg"), filling=filling)
            told = hinge.strengths(Duty(), plastic)
            factors.append([float(s.factor) for s in told if not s.limit])
        for less, more in itertools.pairwise(factors):
            assert all(one <= other * (1 + 1e-9) for one, other in zip(less, more, strict=True))
        bars = [float(s.factor) for s in hinge.strengths(Duty(), material("petg")) if not s.limit]
        assert factors[-1] == pytest.approx(bars)


def test_a_proof_takes_the_weakest_printers_unless_it_is_told() -> None:
    hinge, duty = scadgen.SideCones(facets=16), Duty()
    name = "cone in shear, across layers"

    def factor(plastic: str, filling: Filling | None) -> float:
        told = dataclasses.replace(material(plastic), filling=filling)
        (found,) = (f for f in check(hinge, duty=duty, plastic=told).findings if f.name == name)
        assert found.measured is not None
        return float(found.measured)

    weak = ROUGH.filling(hinge.line_width)
    assert factor("petg", None) == factor("petg", weak)
    tip = hinge.cone - 2 * hinge.tip
    core = max(tip - 2 * weak.shell, 0) / tip
    share = 1 - 0.9 * core**2
    assert factor("petg", weak) == pytest.approx(share * factor("petg", Filling(9, 1, 1)))
    assert not math.isclose(share, 1)
