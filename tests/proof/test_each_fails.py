"""Findings of the proof that nothing else makes fail: each on the least that must not pass.

``python -m tests.mutants`` tells which these are.
"""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from manifold3d import Manifold

from scadgen import BreakAwayLink, SideCones
from scadgen.caging.certificate import Uncertified
from scadgen.caging.checker import RefusedError, check
from scadgen.elements import gives
from scadgen.families.sheet_flexure import SheetFlexure
from scadgen.findings import on_catch, on_detent, on_motion
from scadgen.findings.finding import Finding, Verdict
from scadgen.findings.on_bending import bend_in_layers
from scadgen.findings.on_hold import holding, pulled
from scadgen.findings.on_printing import printing
from scadgen.inspection.loaded import _unsolved
from scadgen.mechanism.fold import Fold
from scadgen.mechanism.joint import Case
from scadgen.motion.axis import Axis
from scadgen.motion.contact import gap_between
from scadgen.motion.rest import Soundness
from scadgen.motion.retention import hold
from scadgen.motion.swing import Swing
from scadgen.product.fleets import whole_fleet
from scadgen.product.resting import _elsewhere, _on_the_rim, _Shut
from scadgen.proof.at_once import _bends
from scadgen.proof.fleet import findings as fleets
from scadgen.proof.on_strength import strength
from scadgen.proof.others import _apart
from scadgen.proof.reliefs import reliefs
from scadgen.proof.sampled import passing
from scadgen.proof.whole import _accounted
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material
from tests.caging.held import stored
from tests.caging.test_checker import sealed
from tests.product.support import chain
from tests.shapes import UP, box, rod

CUBE = box((0, 0, 0), (4, 4, 4))


def printed(*bodies: Manifold) -> dict[str, Finding]:
    """What is said of bodies printed in layers of 0.2 mm."""
    return {found.name: found for found in printing(bodies, [0.2], 10, lambda _: None)}


def test_a_verdict_with_one_failure_is_not_passed() -> None:
    good, bad = Finding("one", True, "."), Finding("other", False, ".")
    assert Verdict("x", (good,)).passed
    assert not Verdict("x", (good, bad)).passed
    assert not Verdict("x", (good, bad)).proven


@pytest.mark.parametrize(
    "change", [{"pieces": 2}, {"voids": 1}, {"watertight": False}], ids=lambda one: str(one)
)
def test_a_body_that_is_not_one_closed_piece_fails(change: dict[str, Any]) -> None:
    whole: dict[str, Any] = {
        "pieces": 1,
        "voids": 0,
        "openings": 0,
        "watertight": True,
        "volume": 9.0,
    }
    assert on_motion.sound("body", Soundness(**whole)).passed
    assert not on_motion.sound("body", Soundness(**whole | change)).passed


@pytest.mark.parametrize(("high", "good"), [(90.0, True), (90.3, False), (89.7, False)])
def test_faces_that_meet_elsewhere_than_at_the_stop_fail(high: float, good: bool) -> None:
    turn = Swing(-9, high, True, True, (-5, 5), 0.3, 0, False)
    assert on_motion.stopped(turn, 90).passed is good


@pytest.mark.parametrize(("low", "good"), [(-90.0, True), (-90.3, False), (-89.7, False)])
def test_a_heel_that_meets_elsewhere_than_at_its_turn_fails(low: float, good: bool) -> None:
    turn = Swing(low, 9, True, True, (-5, 5), 0.3, 0, False)
    assert on_motion.opened(turn, -90).passed is good


def test_what_meets_the_bumps_of_a_detent_beside_its_nose_fails() -> None:
    free = Swing(-95, 95, True, True, (-90, 90), 0.3, 0, False)
    asked = (-90.0, 90.0)
    assert on_detent.clear(1, free, asked, 0.3).passed
    assert not on_detent.clear(1, free, asked, 0.35).passed
    assert not on_detent.clear(1, replace(free, high=60.0), asked, 0.3).passed
    assert not on_detent.clear(1, replace(free, unsure=((10.0, 20.0),)), asked, 0.3).passed


def test_a_sheet_that_parts_as_it_bends_fails() -> None:
    hinge = SheetFlexure(facets=16)
    whole = hinge.mechanism()
    joint = whole.joints[0]
    assert isinstance(joint, Fold)
    parted = [CUBE, CUBE.translate((9, 0, 0))]
    broken = replace(joint, unmerged=lambda angles: [parted] * len(angles))
    found = [one for one in broken.prove(whole, Case()).findings if "bent by" in one.name]
    assert found
    assert not any(one.passed for one in found)


def test_too_few_printers_that_make_all_joints_fail() -> None:
    made = chain(3)
    found = whole_fleet(replace(made, population=replace(made.population, needed=100.0)))
    assert found is not None
    assert found.measured is not None
    assert found.passed is (found.measured >= 100)
    assert not found.passed


def test_what_bends_at_once_with_others_is_left_open() -> None:
    folds = [SimpleNamespace(pair=pair, fold_line=(1, 0, 0)) for pair in ("ab", "bc")]
    whole = SimpleNamespace(joints=folds, order=None)
    (found,) = _bends(whole, [])  # type: ignore[arg-type]
    assert found.passed
    assert not Verdict("x", (found,)).proven


def test_what_is_not_borne_not_answered_or_of_no_plastic_fails() -> None:
    petg = material("petg")
    heavy = strength(SideCones(), Duty(load=2000), petg)
    assert not all(one.passed for one in heavy)
    (nothing,) = strength(SideCones(), Duty(load=1), None)
    assert not nothing.passed
    unanswered = {one.name: one.passed for one in strength(BreakAwayLink(), Duty(load=1), petg)}
    assert unanswered["load"] is False


@pytest.mark.parametrize(("gap", "good"), [(0.02, False), (-0.02, False), (0.5, True)])
def test_strangers_that_stand_too_near_fail(gap: float, good: bool) -> None:
    one, other = (
        SimpleNamespace(title=name, solid=CUBE.translate((at, 0, 0)))
        for name, at in (("one", 0), ("other", 4 + gap))
    )
    (found,) = _apart(one, other)  # type: ignore[arg-type]
    assert found.passed is good


def test_a_gap_is_what_lies_between() -> None:
    assert gap_between(CUBE, CUBE.translate((4.5, 0, 0)), 2.0) == pytest.approx(0.5, abs=1e-6)


def test_a_pin_that_slides_out_is_not_held() -> None:
    sleeve = rod(6, 0, 8, 16) - rod(3.3, -1, 9, 16)
    grip = hold(sleeve, rod(3, 0, 8, 16), UP)
    assert not pulled("hold", grip).passed


def test_a_hold_that_cannot_be_measured_fails() -> None:
    found = list(holding(CUBE, CUBE, UP, Uncertified("none was asked"), (0.0,)))
    assert [one.passed for one in found if one.name == "hold at 0 deg"] == [False]


def test_a_sheet_on_edge_that_bends_across_its_layers_fails() -> None:
    assert bend_in_layers((0, 1, 0), (0, 0, 1), None).passed
    assert not bend_in_layers((0, 1, 0), (1, 0, 0), None).passed


def test_a_catch_that_meets_beside_its_ledge_fails() -> None:
    latch, at = ((4.0, 4.0, 0.0), (2.0, 2.0, 2.0)), 180.0
    there = box((0, 0, 1.95), (4, 4, 2.05))
    assert on_catch.alone(latch, there, at, 0.05).passed
    assert not on_catch.alone(latch, there + box((5, 0, 2), (6, 1, 3)), at, 0.05).passed
    assert not on_catch.alone(latch, Manifold(), at, 0.05).passed


def test_a_link_that_turns_past_its_stop_by_more_than_its_clearance_fails() -> None:
    load = SimpleNamespace()
    for share, good in ((0.4, True), (0.6, False)):
        cuts = [SimpleNamespace(gives_way=lambda _, way=share: way)] * 2
        asked = SimpleNamespace(leans=(5.0, 10.0), margin=2.0, stiff=1.0)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(gives, "replace", lambda one, **_: one)
            found = gives.past_stop("give", cuts, load, asked, 1.0)  # type: ignore[arg-type]
        assert found.passed is good


def test_bodies_that_cannot_be_loaded_fail() -> None:
    assert not _unsolved(SimpleNamespace(pair=(1, 2)), "nothing bears").passed  # type: ignore[arg-type]


def test_a_body_that_starts_in_the_air_has_no_first_layer() -> None:
    assert printed(CUBE)["first layer"].passed
    assert not printed(CUBE.translate((0, 0, 1)))["first layer"].passed


def test_a_needle_on_its_point_has_no_foot_that_holds_it() -> None:
    assert printed(CUBE)["footing of body 1"].passed
    assert not printed(rod(0.5, 0, 120, 12))["footing of body 1"].passed


def test_what_lines_may_spread_by_is_no_more_than_half_the_gap() -> None:
    found = printed(CUBE, CUBE.translate((4.4, 0, 0)))["over-extrusion"]
    assert found.measured is not None
    assert found.measured <= 0.2


def test_a_wall_too_thin_for_a_line_fails() -> None:
    assert not printed(box((0, 0, 0), (9, 0.3, 9)))["walls"].passed


def test_a_face_with_a_cell_too_many_is_refused() -> None:
    told = stored("side_cones")
    told["faces"]["tilt"].append(told["faces"]["tilt"][-1])
    with pytest.raises(RefusedError, match="more cells than it was cut into"):
        check(sealed(told))


def closed(fixed: Manifold, lid: Manifold) -> tuple[_Shut, Any]:
    """A lid that was turned about an edge of the rim, at 4 mm, and what its joint is asked."""
    back = Axis((0, 0, 4), (1, 0, 0)).matrix(-20.0)
    seen = _Shut(fixed, lid, 4.0, back, np.eye(4)[:3], "the rim at 4 mm")
    return seen, SimpleNamespace(moving="lid", clearance=0.3)


LID = CUBE.translate((0, 0, 4))


@pytest.mark.parametrize(
    ("lid", "good"),
    [(LID, True), (LID - box((0, 2, 4), (4, 4, 4.1)), False), (LID.translate((0, 0, -0.1)), False)],
    ids=["lies", "hovers with a half", "digs in"],
)
def test_a_lid_that_does_not_lie_on_its_rim_fails(lid: Manifold, good: bool) -> None:
    assert _on_the_rim(*closed(CUBE, lid), 180.0).passed is good


@pytest.mark.parametrize(("gap", "good"), [(0.4, True), (0.2, False)])
def test_a_lid_that_comes_too_near_beside_its_rim_fails(gap: float, good: bool) -> None:
    wall = box((4 + gap, 0, 0), (6, 4, 8))
    assert _elsewhere(*closed(CUBE + wall, LID), 180.0).passed is good


def test_a_relief_that_makes_room_for_nothing_known_fails() -> None:
    joint = SimpleNamespace(pair=("fixed", "moving"), past=lambda *_: None)
    found = list(reliefs(SideCones(facets=16), SimpleNamespace(joints=[joint])))  # type: ignore[arg-type]
    assert found
    assert not any(one.passed for one in found)


def test_what_is_carried_past_others_in_steps_must_keep_away_and_is_never_proven() -> None:
    def carried(to: float, told: bool = True) -> Finding:
        there = (lambda solid, to: solid.translate((to, 0, 0))) if told else lambda *_: None
        joint: Any = SimpleNamespace(asked=(0.0, to), unit="mm", moved=there, chain=None)
        still = SimpleNamespace(solid=CUBE.translate((9, 0, 0)), title="still")
        return passing("x", joint, [(still, SimpleNamespace(solid=CUBE, title="other"))])  # type: ignore[list-item]

    assert carried(4.0).passed
    assert not Verdict("x", (carried(4.0),)).proven
    assert not carried(4.99).passed
    assert not carried(6.0).passed
    assert not carried(4.0, told=False).passed


@pytest.mark.parametrize("count", [1, 2])
def test_bodies_that_nothing_holds_fail(count: int) -> None:
    bodies = [SimpleNamespace(title=f"body {k}") for k in range(count)]
    found = list(_accounted(SimpleNamespace(bodies=bodies, unheld=bodies, loose=())))  # type: ignore[arg-type]
    assert len(found) == count
    assert not any(one.passed for one in found)


def test_friction_that_nobody_knows_in_time_is_left_open() -> None:
    petg, duty = material("petg"), Duty(hours=10)
    for plastic, moments, left in ((None, None, 0.0), (petg, (1.0, 2.0), 0.0)):
        found = on_detent.rubs(0, 90, plastic, moments, duty, left)
        assert not Verdict("x", (found,)).proven
    assert Verdict("x", (on_detent.rubs(0, 90, petg, (1.0, 2.0), duty, 0.5),)).proven


@pytest.mark.parametrize(("share", "good"), [(0.95, True), (0.85, False)])
def test_too_few_printers_whose_detents_click_fail(share: float, good: bool) -> None:
    met: Any = SimpleNamespace(of=next(iter(fleets.HELPS)), share=SimpleNamespace(value=share))
    population: Any = SimpleNamespace(name="rough", needed=90.0)
    found: Any = SimpleNamespace(causes=())
    assert fleets.met_finding(met, found, population).passed is good
