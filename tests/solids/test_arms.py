"""Arms in finite elements on their own solids: kept figures, their bars, what is said of them."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import pytest

from scadgen import SideCones
from scadgen.elements.arms import ACROSS, SETTLED, Bar, Flexed
from scadgen.elements.bears import stiffness
from scadgen.elements.of_hinge import beside, refusal
from scadgen.strength.catch import POSTED
from tests.solids import arms
from tests.solids.subjects import PETG
from tests.solids.table import SAFE, UNSAFE

#: What takes least time.
CHEAPEST = "side_cones"
#: How much firmer than its solid a formula may tell an arm: beyond what its post takes.
FIRMER = 1.05


def test_the_figures_are_of_these_arms() -> None:
    """Mending: python -m tests.solid_table, then python -m tests.validation."""
    assert arms.stale() == []
    assert list(arms.load()) == sorted(arms.SUBJECTS)


@pytest.mark.parametrize("name", arms.SUBJECTS)
def test_a_formula_is_neither_unsafe_nor_far_too_safe(name: str) -> None:
    kept = arms.load()[name]
    _, ratio, force = arms.ratios(name, kept)
    assert SAFE <= ratio <= UNSAFE
    assert abs(kept["coarse"] / kept["strain"] - 1) < SETTLED
    # A catch must hold, and is reckoned with a post that gives.
    assert 1 / FIRMER < force < FIRMER / POSTED


def test_what_is_said_hangs_on_strain_margin_and_cubes() -> None:
    """The coarser cubes are solved anew, and are as kept."""
    hinge, kept = arms.SUBJECTS[CHEAPEST], arms.load()[CHEAPEST]
    (arm,) = hinge.flexing()
    bar = Bar(arm, arm.thickness / ACROSS[0], stiffness(PETG))
    strain = 100 * bar.strain
    assert strain == pytest.approx(kept["coarse"], rel=1e-3)
    told = next(one for one in hinge.strengths(arms.DUTY, PETG) if one.name == arm.place)
    other = cast(Bar, SimpleNamespace(strain=bar.strain * 1.3, size=bar.size))

    def said(borne: float, coarse: Bar = bar) -> Any:
        one = Flexed(arm, replace(told, permissible=borne), (coarse, bar), PETG, margin=1.5)
        (found,) = one.findings()
        return found

    assert said(1.51 * strain).passed
    assert not said(1.51 * strain).leaves_open
    assert not said(1.49 * strain).passed
    assert said(1.51 * 1.3 * strain, other).passed
    assert said(1.51 * 1.3 * strain, other).leaves_open.startswith("has not converged: 30%")
    assert not said(3.1 * 1.3 * strain, other).leaves_open
    shares = Flexed(arm, told, (bar, bar), PETG, margin=1.0).shares()
    ((title, solid, at, used),) = shares
    assert (title, len(at)) == ("arm of the detent", len(used))
    assert 0.5 < used.max() * float(told.permissible) / strain < 1.5
    assert solid.volume() == pytest.approx(arm.solid().volume())


def test_hinges_without_arms_have_none_and_catches_may_be_loaded() -> None:
    assert not list(beside(SideCones(), arms.DUTY, PETG))
    assert refusal(arms.SUBJECTS["snap_catch"], arms.DUTY, PETG) == ""
