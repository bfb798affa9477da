"""How far a certificate of hold reaches: under a load, on a fleet, where it is a graze."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

import scadgen
from scadgen import check
from scadgen.caging.certificate import Certificate
from scadgen.findings.finding import Finding
from scadgen.findings.on_hold import HOLD, holding
from scadgen.motion.contact import GRAZE
from scadgen.proof.certified import depth_of, on_fleet, under_load
from scadgen.proof.fleet.population import CAREFUL, ROUGH
from scadgen.strength.duty import Duty
from scadgen.strength.materials import material


def named(findings: tuple[Finding, ...], name: str) -> Finding:
    (found,) = (f for f in findings if f.name == name)
    return found


def test_a_soft_hinge_is_not_held_by_a_certificate_for_rigid_bodies() -> None:
    hinge = scadgen.NestedCones(facets=32)
    duty = Duty(load=0, lever=0, pull=5, cycles=1)
    soft, stiff = (
        check(hinge, population=None, duty=duty, plastic=plastic)
        for plastic in map(material, ("tpu_95a", "petg"))
    )
    depth = depth_of(soft.findings)
    assert depth is not None
    assert depth == depth_of(stiff.findings)
    for verdict, name, words in (
        (soft, "tpu_95a", "only what the grips lose is reckoned"),
        (stiff, "petg", "no motion takes it apart under the load either"),
    ):
        told = named(verdict.findings, "hold under load").words
        plastic = dataclasses.replace(material(name), filling=ROUGH.filling(hinge.line_width))
        ways = [s.actual for s in hinge.strengths(duty, plastic) if s.unit == "mm"]
        assert f"gives way by {max(ways) * duty.margin:.3g} mm" in told
        assert f"below {depth / 2:.2f} mm" in told
        assert words in told
        assert (max(ways) * duty.margin < depth / 2) == (verdict is stiff)


def test_a_grip_that_gives_too_far_fails_by_itself() -> None:
    verdict = check(
        scadgen.FacingCones(facets=32), population=None, duty=Duty(), plastic=material("tpu_95a")
    )
    assert not named(verdict.findings, "grip of a cone under load").passed


def test_a_family_that_tells_no_stiffness_leaves_it_open() -> None:
    (found,) = under_load(scadgen.SlitLattice(), 0.7, Duty(), material("petg"))
    assert found.leaves_open


def test_the_share_of_printers_is_that_of_their_growth() -> None:
    """Counted on as many printers drawn anew: those that take less than half the depth off."""
    growth = np.asarray(ROUGH.sample(100_000, np.random.default_rng(7)).growth)
    depth = 0.06
    share = 100 * float(np.mean(-growth < depth / 2))
    words = on_fleet(depth, ROUGH).words
    told = float(words.split("; ")[1].split(" %")[0])
    assert 50 < share < 100
    assert told == pytest.approx(share, abs=1)
    assert "Of the others" in words
    assert "100 % of the printers" in on_fleet(2.0, CAREFUL).words


def test_a_certificate_by_a_graze_counts_as_none() -> None:
    whole = scadgen.SideCones(facets=16).mechanism()
    (joint,) = whole.joints
    assert joint.axis is not None
    cage = joint.cage(whole)
    assert isinstance(cage, Certificate)
    cover = dataclasses.replace(cage.cover, radius=GRAZE / 3)
    thin = dataclasses.replace(cage, cover=cover)
    fixed, moving = (whole.body(name).solid for name in joint.pair)
    first = next(iter(holding(fixed, moving, joint.axis, thin, (0.0,))))
    assert first.name == HOLD
    assert first.leaves_open
    assert "a graze" in first.words
    assert depth_of([first]) is None
