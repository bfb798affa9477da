"""What is meant to meet, on printers: clicks and stops, by formulas and on printed solids."""

from __future__ import annotations

import dataclasses
import functools
import math
from typing import Any, cast

import numpy as np
import pytest
from manifold3d import JoinType, Manifold, OpType
from scipy.stats import norm  # type: ignore[import-untyped]

from scadgen import CaptiveCone, SideCones
from scadgen.hinge.family import Hinge, all_families, definition, numbers
from scadgen.hinge.kinds.pivot import Pivot
from scadgen.mechanism.detent import Spring, gives_way
from scadgen.mechanism.joint import CATCH, DETENT, HEEL, STOP
from scadgen.mechanism.turn import Turn
from scadgen.motion.axis import Axis
from scadgen.proof.fleet.findings import fleet_findings
from scadgen.proof.fleet.population import CAREFUL, ROUGH, LayerHeights, Spread
from scadgen.proof.fleet.printer import Printer
from scadgen.proof.fleet.room_left import GRIPPED, OFF_STOP, margins
from scadgen.proof.fleet.shares import fleet
from tests.proof.fleet.fleets import nothing_but
from tests.support import each_family

COUNT = 50_000
#: How closely a way is found on printed solids, mm: facets, and layers on blunt ends.
NEAR = 0.03


def clicking(**more: float) -> SideCones:
    given: dict[str, Any] = {"leaf_length": 25, "facets": 32, "swing": 120, "detent_at": 85}
    return SideCones(**(given | more))


@functools.cache
def sprung() -> tuple[Spring, Axis, float]:
    """One arm of the usual detent, its axis, and the turn from a click to a bump."""
    (turn,) = clicking().mechanism().joints
    found = cast(Turn, turn).detent
    assert found is not None
    return found.springs[0], cast(Turn, turn).about, found.step


def printed(solid: Manifold, growth: float, layer: float) -> Manifold:
    """The solid as a printer lays it: sections at mid height, grown, each as high as a layer."""
    top = solid.bounding_box()[5]
    slabs = []
    for k in range(int(solid.bounding_box()[2] / layer), math.ceil(top / layer)):
        section = solid.slice((k + 0.5) * layer).offset(growth, JoinType.Miter, 2.0)
        if section.area() > 0:
            slabs.append(Manifold.extrude(section, layer).translate((0, 0, k * layer)))
    return Manifold.batch_boolean(slabs, OpType.Add)


def margin(hinge: Hinge, words: str, **errors: float) -> float:
    """What is left, mm, of what the words begin to tell, on one printer."""
    family, printer = definition(type(hinge)), Printer(**errors)
    told = margins(family, numbers(hinge), printer)
    (found,) = (float(one.values) for one in told if one.cause.startswith(words))
    return found


@pytest.mark.parametrize("growth", [-0.05, 0.0, 0.08])
@pytest.mark.parametrize("layer", [0.1, 0.2])
def test_printed_noses_are_lifted_as_far_as_the_formula_says(growth: float, layer: float) -> None:
    spring, axis, step = sprung()
    # In layers a nose and its bumps come out by growth; the faces under them do, too, but these
    # are of other solids: what is cut here begins below them.
    nose, bumps = (printed(one(), growth, layer) for one in (spring.nose, spring.bumps))
    hinge = clicking()
    told = margin(hinge, "the detent: a nose", growth=growth, layer=layer)
    least, play = GRIPPED * hinge.line_width, float(hinge.side_gap)
    crest = gives_way(bumps, axis.turn(nose, 85 - step), spring.way, 5)
    assert crest == pytest.approx(float(hinge.detent_way) + 2 * growth, abs=NEAR)
    seat = gives_way(bumps, axis.turn(nose, 85), spring.way, 5)
    assert seat <= max(2 * math.sqrt(2) * growth + layer / 2, 0) + NEAR
    # What is told to be left is no more than what is: at the end of the play, and past the seat.
    assert told <= min(crest - (play - 2 * growth), crest - seat) - least + NEAR


def test_as_many_click_as_the_normal_distribution_says() -> None:
    """Only growth differs, N(-0.1, 0.05); at the end of its play a nose loses four times of it."""
    hinge = clicking(detent_height=1.3)
    spread = Spread(-0.1, 0.05, -1, 1, "assumed")
    found = fleet(hinge, nothing_but(growth=spread), COUNT)
    play = float(hinge.side_gap)
    room = 1.3 - 2 * play - GRIPPED * hinge.line_width
    expected = 1 - norm.cdf((-room / 4 + 0.1) / 0.05)
    assert 0.1 < expected < 0.9
    (met,) = found.met
    assert met.of == DETENT
    assert met.share.value == pytest.approx(expected, abs=4 * math.sqrt(0.25 / COUNT))
    assert found.share_hold.value <= met.share.value
    assert found.to_dict()["met"][0]["of"] == DETENT


def test_a_fleet_that_prints_too_lean_for_a_low_detent_fails_that_finding() -> None:
    lean = dataclasses.replace(CAREFUL, growth=Spread(-0.11, 0.02, -0.3, 0, "made up"))

    def asked(hinge: SideCones) -> dict[str, Any]:
        joints = hinge.mechanism().joints
        return {one.name: one for one in fleet_findings(hinge, lean, joints, COUNT)}

    low, high = asked(clicking(detent_height=1.3)), asked(clicking(detent_height=1.8))
    name = "detent on the careful fleet"
    assert not low[name].passed
    assert "unfelt" in low[name].words
    assert low[name].change == "a higher detent, or less clearance"
    assert high[name].passed
    assert not low["careful fleet"].passed  # whoever misses the click misses all of it
    assert "detent" not in "".join(asked(SideCones()))


def test_a_nose_that_prints_into_its_bump_and_an_arm_without_room_are_told() -> None:
    hinge = clicking()
    fat = {"growth": 0.25, "layer": 0.2}
    near = clicking(detent_at=65, swing=65)
    assert margin(near, "between a nose and a bump", **fat) < 0
    assert margin(near, "between a nose and a bump", growth=0.05, layer=0.2) > 0
    assert margin(hinge, "between a nose and a bump", **fat) > 0
    assert margin(hinge, "the detent: an arm", growth=0.0, first_layer_spread=0.1) > 0
    assert margin(hinge, "the detent: an arm", growth=0.05, first_layer_spread=0.4) < 0


def test_a_stop_may_be_off_by_so_much() -> None:
    hinge = SideCones(stop_at=95, swing=90)
    allowed = math.radians(OFF_STOP) * float(hinge.heel)
    words = "the stop: off"
    assert margin(hinge, words, growth=0.0, layer=0.2) == pytest.approx(allowed - 0.2)
    grown = margin(hinge, words, growth=0.1, layer=0.2)
    assert grown == pytest.approx(margin(hinge, words, growth=-0.1, layer=0.2))
    assert grown == pytest.approx(allowed - 0.4)
    (met,) = fleet(hinge, ROUGH, COUNT).met
    assert met.of == STOP
    assert not fleet(SideCones(), ROUGH, 1000).met


def test_upright_stops_lose_nothing_to_layers() -> None:
    upright = [cls for cls in all_families().values() if not getattr(cls, "stop_in_layers", True)]
    assert upright
    for cls in upright:
        hinge = cast(Any, cls)(stop_at=100, swing=90)
        one, other = (margin(hinge, "the stop", growth=0.05, layer=h) for h in (0.1, 0.2))
        assert one == other


def test_a_heel_is_asked_beside_the_stop_at_the_other_end() -> None:
    given: dict[str, Any] = {"setback": 2, "opens_to": 95, "stop_at": 180, "printed_at": 150}
    hinge = CaptiveCone(swing=170, leaf_thickness=2, facets=16, **given)
    (turn,) = hinge.mechanism().joints
    assert turn.meets == (STOP, HEEL)
    assert set(turn.meets) <= definition(CaptiveCone).answered
    assert [one.of for one in fleet(hinge, ROUGH, 2000).met] == [STOP, HEEL]
    allowed = math.radians(OFF_STOP) * float(hinge.reach)
    assert margin(hinge, "the heel: off", growth=0.1) == pytest.approx(allowed - 0.2)


@each_family
def test_all_that_is_meant_to_meet_is_asked_of_printers(cls: type[Hinge]) -> None:
    """A family that is not asked leaves its verdict open, as the next test has it."""
    made: list[Any] = [cls()]
    if issubclass(cls, Pivot):
        made.append(cast(Any, cls)(stop_at=100, swing=90))
    if cls is SideCones:
        made.append(clicking())
    for hinge in made:
        meant = {of for joint in hinge.mechanism().joints for of in joint.meets}
        assert meant <= definition(cls).answered
        assert meant == {STOP} or len(made) == 1 or hinge is not made[1]
    if cls.serves == CATCH:
        assert meant == {CATCH}


def test_what_no_printer_can_be_asked_of_leaves_the_verdict_open() -> None:
    @dataclasses.dataclass(frozen=True, eq=False, kw_only=True)
    class Sealed(Turn):
        meets = ("seal",)

    hinge = SideCones()
    (turn,) = (cast(Turn, one) for one in hinge.mechanism().joints)
    sealed = Sealed(**{f.name: getattr(turn, f.name) for f in dataclasses.fields(turn)})
    *_, found = fleet_findings(hinge, CAREFUL, (sealed,), 1000)
    assert (found.name, found.passed) == ("seal on the careful fleet", True)
    assert found.leaves_open == "was not asked"
    assert [one.name for one in fleet_findings(hinge, CAREFUL, (turn,), 1000)] == ["careful fleet"]


def test_chance_is_the_only_difference_between_the_met_and_their_margins() -> None:
    """A share that is met is that of the printers on which all its margins are above 0."""
    hinge, layer = clicking(detent_height=1.3), LayerHeights((0.2,), (1,), "one")
    population = dataclasses.replace(ROUGH, layer=layer)
    printers = population.sample(2000, np.random.default_rng(0))
    told = margins(definition(SideCones), numbers(hinge), printers)
    good = [np.broadcast_to(one.values >= 0, 2000) for one in told if one.of == DETENT]
    (met,) = fleet(hinge, population, 2000, seed=0).met
    assert met.share.value == pytest.approx(float(np.all(good, axis=0).mean()))
    assert 0 < met.share.value < 1
