"""Every comparison with something outside holds within its stated tolerance."""

from __future__ import annotations

import dataclasses

import pytest

from tests.strength.compared import Comparison, Source, all_groups, off, share


@pytest.mark.parametrize("name", all_groups())
def test_figures_are_those_from_outside(name: str) -> None:
    comparisons = all_groups()[name][1]()
    assert comparisons, "a group without a comparison has shown nothing"
    for comparison in comparisons:
        assert comparison.holds, comparison


@pytest.mark.parametrize("name", all_groups())
def test_each_comparison_can_fail(name: str) -> None:
    """A figure that is off by twice its tolerance is caught."""
    for comparison in all_groups()[name][1]():
        theirs, within = float(comparison.theirs), comparison.within
        step = 2 * within.amount * (abs(theirs) if within.share else 1)
        for wrong in (theirs - step, theirs + step):
            assert not dataclasses.replace(comparison, ours=wrong).holds


@pytest.mark.parametrize("name", all_groups())
def test_each_comparison_names_its_source_and_is_no_looser_than_its_theory(name: str) -> None:
    """2 % where theory is exact; more only where the comparison says why."""
    for comparison in all_groups()[name][1]():
        assert comparison.source.words
        assert comparison.source.mark
        if comparison.within.share and comparison.within.amount > 0.02:
            assert comparison.model, comparison


def test_an_error_is_counted_in_shares_or_in_units() -> None:
    source = Source("none", "none")
    assert Comparison("", "", 102, 100, share(0.021), source).holds
    assert not Comparison("", "", 102, 100, share(0.019), source).holds
    assert Comparison("", "", -0.5, 0, off(0.5), source).holds
    assert not Comparison("", "", -0.6, 0, off(0.5), source).holds
