"""Permissible strain by how often: bands, and what they stand on."""

from __future__ import annotations

import itertools
from collections.abc import Callable

import numpy as np
import pytest

from scadgen.strength import life
from scadgen.strength.materials import material, materials


@pytest.mark.parametrize(
    ("cycles", "name"),
    [
        (1, "once"),
        (2, "tens"),
        (100, "tens"),
        (101, "thousands"),
        (10_000, "thousands"),
        (10_001, "beyond"),
        (1e9, "beyond"),
    ],
)
def test_bands_meet_without_a_hole(cycles: float, name: str) -> None:
    assert life.band(cycles).name == name


@pytest.mark.parametrize("cycles", [0, -5, 0.5, float("nan")])
def test_less_than_one_bend_is_refused(cycles: float) -> None:
    with pytest.raises(ValueError, match="1 or more"):
        life.band(cycles)


def test_every_band_says_what_it_stands_on() -> None:
    for band in life.BANDS:
        assert any(mark in band.basis for mark in ("looked up", "no source", "assumed"))


@pytest.mark.parametrize("name", materials())
@pytest.mark.parametrize("across", [False, True])
def test_more_bends_never_bear_more_strain(name: str, across: bool) -> None:
    bears = [life.permissible(material(name), n, across).percent for n in (1, 10, 1e3, 1e6)]
    assert all(more > less for more, less in itertools.pairwise(bears))


def test_strain_as_a_fraction_is_for_the_formulas() -> None:
    found = life.permissible(material("petg"), 1)
    assert found.percent == pytest.approx(0.7 * 3.5)
    assert found.strain == pytest.approx(0.7 * 0.035)


def test_stresses_go_by_the_weak_end_of_tests_on_printed_parts() -> None:
    """A tenth at two million cycles, slope 5.5 (Ezeh and Susmel); other tests bear more."""
    assert life.strength_share(2_000_000) == pytest.approx(0.1)
    decade = life.outlived(1e5) / life.outlived(1e6)
    assert decade == pytest.approx(10 ** (1 / 5.5))
    cycles, strong = life.STRONG_END
    assert life.strength_share(cycles) == pytest.approx(0.262, abs=1e-3)
    assert life.strength_share(cycles) < strong
    assert life.strength_share(10_000_000) < life.ENDURANCE


@pytest.mark.parametrize("share", [life.strength_share, life.strain_share])
def test_more_cycles_never_leave_more(share: Callable[[float], float]) -> None:
    shares = [share(cycles) for cycles in np.geomspace(1, 1e7, 200)]
    assert shares[0] == 1
    assert all(more >= less for more, less in itertools.pairwise(shares))
    for cycles in np.geomspace(1, 1e7, 50):
        assert share(cycles) <= life.band(cycles).share
        assert life.strength_share(cycles) <= life.outlived(cycles)
