"""The page's share of a fleet is Python's: the same formulas on the same printers."""

from __future__ import annotations

import dataclasses
import json
import re
from collections import Counter

import numpy as np
import pytest

from scadgen import SideCones
from scadgen.gallery.fleet_data import COUNT, fleet_script, printers
from scadgen.hinge.family import Hinge, definition, numbers
from scadgen.proof.fleet.believed import FACTORS, scaled
from scadgen.proof.fleet.population import POPULATIONS
from scadgen.proof.fleet.shares import fleet, works
from tests.support import each_family, some_hinges, thorough
from tests.workshop.answers import answers, given

#: By how much a share of so few, evenly spread printers may be off that of a large random fleet.
OFF = 0.015
#: Printers that stand on a margin's very edge, where the last digit of a sine decides.
ON_EDGE = 2 / COUNT


def meeting(cls: type[Hinge]) -> list[Hinge]:
    """One that clicks so low that a share of the printers misses it, and stops."""
    if cls.family != SideCones.family:
        return []
    return [SideCones(leaf_length=25, swing=120, stop_at=125, detent_at=85, detent_height=1.3)]


@pytest.mark.node
@each_family
def test_shares_are_the_same_on_the_same_printers(cls: type[Hinge]) -> None:
    hinges = [cls(), *meeting(cls), *some_hinges(cls, 20 if thorough() else 2)]
    told = json.loads(re.sub(r"^scadgenFleets\(|\);\n$", "", fleet_script().decode()))
    asked = [("shares", cls.family, given(hinge), told) for hinge in hinges]
    for hinge, fleets in zip(hinges, answers(*asked), strict=True):
        assert [said["name"] for said in fleets] == [*POPULATIONS] * len(FACTORS)
        assert [said["factor"] for said in fleets[: len(POPULATIONS)]] == [1, 1]
        for said in fleets:
            population = scaled(POPULATIONS[said["name"]], said["factor"])
            causes: Counter[str] = Counter()
            turns, holds = works(definition(cls), numbers(hinge), printers(population), causes)
            wanted = {"free": turns.mean(), "hold": holds.mean(), "both": (turns & holds).mean()}
            assert {k: said[k] for k in wanted} == pytest.approx(wanted, abs=ON_EDGE)
            most = max(causes.values(), default=0) / COUNT
            assert said["fails"] == pytest.approx(most, abs=ON_EDGE)
            assert said["needed"] == population.needed


@each_family
def test_few_printers_spread_evenly_tell_what_many_at_random_do(cls: type[Hinge]) -> None:
    for hinge in (cls(), *some_hinges(cls, 1)):
        for population in POPULATIONS.values():
            turns, holds = works(definition(cls), numbers(hinge), printers(population))
            wanted = fleet(hinge, population, 40_000).share_both.value
            assert (turns & holds).mean() == pytest.approx(wanted, abs=OFF)


def test_written_printers_are_those_of_the_population_but_for_a_grain() -> None:
    from scadgen.proof.fleet.even import even

    for population in POPULATIONS.values():
        spread, told = even(population, COUNT), printers(population)
        for field in dataclasses.fields(spread):
            one, other = getattr(spread, field.name), getattr(told, field.name)
            assert abs(one - other).max() <= 0.5e-4 + 1e-12
        many = population.sample(20_000, np.random.default_rng(1))
        for name in population.spreads:
            drawn, wanted = getattr(spread, name), getattr(many, name)
            assert drawn.mean() == pytest.approx(wanted.mean(), abs=0.05 * wanted.std())
            assert drawn.std() == pytest.approx(wanted.std(), rel=0.05)
