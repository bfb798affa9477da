"""The best clearance, and the finding."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from scadgen.hinge.family import Hinge, bounds
from scadgen.hinge.rules import HingeError
from scadgen.proof.fleet.best import Curve, best_clearance
from scadgen.proof.fleet.findings import TRIED, fleet_finding, percent
from scadgen.proof.fleet.population import CAREFUL, ROUGH
from scadgen.proof.fleet.shares import fleet
from tests.proof.fleet.fleets import default
from tests.support import changed, each_family


@each_family
def test_a_curve_marks_what_the_family_refuses(cls: type[Hinge]) -> None:
    hinge = cls()
    curve = best_clearance(hinge, ROUGH, 500)
    assert (curve.values[0], curve.values[-1]) == (0.15, 0.8)
    for value, refused in zip(curve.values, curve.refused, strict=True):
        if refused:
            with pytest.raises(HingeError):
                changed(hinge, {curve.field: float(value)})
        else:
            assert changed(hinge, {curve.field: float(value)})
    assert bounds(cls)[curve.field].unit == "mm"


@each_family
def test_the_best_is_one_that_works(cls: type[Hinge]) -> None:
    hinge = cls()
    curve = best_clearance(hinge, ROUGH, 20_000, seed=4)
    assert curve.best is not None
    value, share = curve.best
    better = changed(hinge, {curve.field: value})
    assert fleet(better, ROUGH, 20_000, seed=4).share_both.value == pytest.approx(share)
    assert share >= float(curve.both[~curve.refused].max()) - 0.002
    assert share >= fleet(hinge, ROUGH, 20_000, seed=4).share_both.value - 0.002


def test_a_pivot_has_a_best_clearance_between_fusing_and_falling_apart() -> None:
    curve = best_clearance(default("waisted_spindle"), ROUGH, 20_000)
    top = int(np.argmax(curve.both))
    assert curve.both[0] < curve.both[top] > curve.both[-1]
    assert np.all(np.diff(curve.free) >= 0)
    assert np.all(np.diff(curve.hold) <= 0)


def test_nothing_is_best_where_all_is_refused() -> None:
    ones = np.ones(2)
    assert Curve("clearance", ones, ones, ones, ones, ones > 0).best is None


@each_family
def test_findings_carry_their_numbers(cls: type[Hinge]) -> None:
    finding = fleet_finding(cls(), ROUGH, 20_000)
    assert finding.name == "rough fleet"
    assert (finding.needed, finding.unit, finding.slack) == (90, "%", 2)
    assert finding.measured is not None
    assert finding.passed == (finding.measured >= 90) == (not cls.hangs)
    assert bool(finding.change) == (not finding.passed or finding.marginal)


def test_a_tight_hinge_is_told_a_better_clearance() -> None:
    tight = changed(default("waisted_spindle"), {"clearance": 0.22})
    finding = fleet_finding(tight, ROUGH)
    assert not finding.passed
    best = best_clearance(tight, ROUGH, TRIED).best
    assert best is not None
    assert finding.change.startswith(f"clearance = {best[0]:g} mm works on ")
    assert fleet_finding(changed(tight, {"clearance": best[0]}), ROUGH, 20_000).passed


def test_a_finding_on_what_no_clearance_mends() -> None:
    finding = fleet_finding(default("facing_cones"), CAREFUL, 20_000)
    assert finding.name == "careful fleet"
    assert not finding.passed
    assert "under the" in finding.words


def test_who_needs_more_finds_less() -> None:
    hinge = default("side_cones")
    assert fleet_finding(hinge, ROUGH, 20_000).passed
    assert not fleet_finding(hinge, dataclasses.replace(ROUGH, needed=99.9), 20_000).passed


def test_all_is_said_only_of_all() -> None:
    assert [percent(share) for share in (1.0, 0.99999, 0.9444, 0.0)] == [
        "100 %",
        ">99.9 %",
        "94.4 %",
        "0 %",
    ]
